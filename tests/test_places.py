"""Which place: each cell is its page's answer; ranking, trim, rows that cannot be."""

from __future__ import annotations

import json
from typing import Any

import pytest
from answers import refused
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import browser, stock
from calc.calculators.places.subjects import SUBJECTS, Judged, judged
from calc.frame import asking, links, sheets
from calc.frame.figures import SEVERITY
from calc.frame.guide import Outcome
from calc.frame.report import FITS, UNKNOWN, Report
from calc.physics import hydrostatics
from calc.system import trim
from site_build.pages import DOCS, places

GUIDE = stock.guide()
MADE = GUIDE.get("places")
PAGES = places(DOCS)
PAGES_DATA = {name: {"url": page.url} for name, page in PAGES.items()}
Row = dict[str, Any]
BILGE: Row = {
    "what": "bilge",
    "locker_length": "1.1 m",
    "locker_width": "600 mm",
    "locker_height": "400 mm",
    "ahead": "1 m",
    "aside": "0.2 m",
    "pump_height": "-0.2 m",
    "floor_thickness": "18 mm",
    "floor_length": "600 mm",
    "floor_width": "400 mm",
    "low_area": "100 cm2",
    "high_area": "100 cm2",
    "apart": "200 mm",
    "seat": "2 m",
    "berth": "2 m",
    "boost_length": "2 m",
    "flush_length": "3 m",
    "flush_rise": "0 m",
    "ac_run": "5 m",
}


def outcome(rows: list[Row], boat: str = "ketch", own: bool = False, **typed: Any) -> Outcome:
    example = {"boat": boat} if boat else {}
    return GUIDE.run(MADE, {"places": rows} | typed, example=example, own_boat=own)


def report(rows: list[Row], boat: str = "ketch", **typed: Any) -> Report:
    made = outcome(rows, boat, **typed).report
    assert made is not None
    return made


def cells(rows: list[Row], boat: str = "ketch", own: bool = False, **typed: Any) -> list[Judged]:
    """All places with their cells, as the answer has them."""
    return cells_of(outcome(rows, boat, own, **typed))


def cells_of(found: Outcome) -> list[Judged]:
    assert found.report is not None, [str(f) for f in found.bound.faults]
    q: Any = found.bound.as_values()
    return judged(q, asking.asking(found.report))


def by_name(found: list[Judged], name: str) -> Judged:
    return next(place for place in found if place.name == name)


def length(low: float, high: float) -> st.SearchStrategy[str]:
    return st.floats(low, high).map(lambda v: f"{v:.3f} m")


AREA = st.integers(20, 600).map(lambda v: f"{v} cm2")
PLACE = st.fixed_dictionaries(
    {
        "what": st.sampled_from(["a", "b", "c"]),
        "stands": st.sampled_from(["locker", "locker", "open"]),
        "locker_length": length(0.6, 1.8),
        "locker_width": length(0.3, 1.2),
        "locker_height": length(0.3, 1.0),
        "door_width": length(0.2, 0.8),
        "ahead": length(-5, 5),
        "aside": length(-1.5, 1.5),
        "pump_height": length(-0.5, 1.5),
        "attitude": st.sampled_from(["platform", "platform", "bulkhead"]),
        "lies": st.sampled_from(["fore", "athwart"]),
        "floor_thickness": length(0.009, 0.03),
        "floor_length": length(0.5, 1.0),
        "floor_width": length(0.35, 0.6),
        "air_way": st.sampled_from(["two", "one", "sealed", "engine", "fan"]),
        "low_area": AREA,
        "high_area": AREA,
        "apart": length(0.05, 0.29),
        "single_area": AREA,
        "supply_from": st.sampled_from(["cabin", "outside"]),
        "under": st.sampled_from(["bilge", "sea"]),
        "over": st.sampled_from(["cabin", "sun"]),
        "beside": st.sampled_from(["cabin", "engine", "sea"]),
        "sits": st.sampled_from(["same", "shut", "open"]),
        "seat": length(1.0, 5),
        "sleeps": st.sampled_from(["same", "shut"]),
        "berth": length(1.0, 5),
        "boost_length": length(0.5, 12),
        "flush_length": length(0.5, 15),
        "flush_rise": length(-1, 2),
        "ac_run": length(1, 30),
    }
)


# ---- a cell is its page ----


@given(PLACE, st.sampled_from(["ketch", "catamaran"]))
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_cell_is_what_its_page_says_filled_in_with_the_place(row: Row, boat: str) -> None:
    """By the very link that leads there, opened on that page with the page's own example."""
    (place,) = cells([row], boat)
    parts: dict[str, list[int]] = {}
    for cell in place.cells:
        if cell.answered is None:
            continue
        opened = links.read(cell.answered.link, GUIDE)
        assert opened.unknown == ()
        made = GUIDE.get(opened.calculator)
        page = GUIDE.run(made, opened.typed, example=PAGES[made.name].example)
        if page.report is None:
            assert page.bound.faults and cell.verdict == UNKNOWN
            continue
        parts.setdefault(made.name, []).append(cell.severity)
        if cell.subject.mine is None:
            assert (cell.verdict, cell.part.decided_by) == (
                page.report.verdict,
                page.report.decided_by,
            )
            assert cell.part.reason().text() == page.report.reason().text()
        else:
            page_figures = {f.key: f for f in page.report.figures}
            assert all(page_figures[f.key] == f for f in cell.part.figures)
        assert page.report is not None and SEVERITY[page.report.verdict] >= cell.severity
    for name, severities in parts.items():
        opened = next(c.answered for c in place.cells if c.answered and c.answered.name == name)
        assert opened.report is not None
        assert max(severities) == SEVERITY[opened.report.verdict], "the parts are the whole"


@pytest.mark.parametrize("subject", [s for s in SUBJECTS if s.calculator], ids=lambda s: s.key)
def test_a_subjects_page_bears_its_calculators_name(subject: Any) -> None:
    """As a cell's link has it."""
    assert PAGES[subject.calculator].url == f"{subject.calculator}.html"


def test_a_cell_of_a_boat_of_ones_own_is_its_page_with_what_she_said() -> None:
    sheet = {"unit": "skerry-45", "mount_by": "pad", "wiring_rules": "iso"}
    row = {k: v for k, v in BILGE.items() if k != "flush_rise"}
    (place,) = cells([row], "", own=True, **{"unit": "skerry-45"})
    assert all(c.answered is None or c.answered.outcome.lacks for c in place.cells)
    found = GUIDE.run(MADE, {"places": [row]}, sheet, own_boat=True)
    assert found.report is not None
    q: Any = found.bound.as_values()
    (place,) = judged(q, asking.asking(found.report))
    held = next(c for c in place.cells if c.subject.key == "mounts")
    assert held.answered is not None and held.answered.report is not None
    opened = links.read(held.answered.link, GUIDE)
    assert opened.own
    page = GUIDE.run(GUIDE.get("mount"), opened.typed, own_boat=True)
    assert page.report is not None and page.report.verdict == held.answered.report.verdict


def test_what_a_place_leaves_open_is_not_taken_from_another_locker() -> None:
    """The boat's locker is 900 mm long; this one's length nobody told."""
    row = {k: v for k, v in BILGE.items() if k != "locker_length"}
    sheet = {"unit": "skerry-45", "mount_by": "pad", "locker_length": "900 mm"}
    found = GUIDE.run(MADE, {"places": [row]}, sheet, own_boat=True)
    assert found.report is not None
    q: Any = found.bound.as_values()
    (place,) = judged(q, asking.asking(found.report))
    room = next(c for c in place.cells if c.subject.key == "room")
    assert room.answered is not None
    assert ("locker_length",) in room.answered.outcome.lacks


# ---- laws of the table ----


@given(PLACE, st.floats(-1, 1))
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_place_moved_along_changes_nothing_but_what_hangs_on_where_it_lies(
    row: Row, by: float
) -> None:
    moved = row | {"ahead": f"{float(row['ahead'][:-2]) + by:.3f} m"}
    (one,), (other,) = cells([row]), cells([moved])
    for before, after in zip(one.cells, other.cells, strict=True):
        if before.subject.key not in ("trim", "fed"):
            assert before.part == after.part


@given(PLACE, st.sampled_from(["locker_length", "locker_width", "locker_height"]))
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_larger_locker_never_has_less_room(row: Row, side: str) -> None:
    larger = row | {side: f"{float(row[side][:-2]) + 0.3:.3f} m"}
    (one,), (other,) = cells([row]), cells([larger])
    assert other.cells[0].severity <= one.cells[0].severity


@given(st.lists(PLACE, min_size=2, max_size=4, unique_by=lambda row: row["what"]))
@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
def test_another_place_never_worsens_the_best(rows: list[Row]) -> None:
    few, all_of_them = cells(rows[:-1]), cells(rows)
    assert all_of_them[0].rank[:2] <= few[0].rank[:2]
    assert [p.rank for p in all_of_them] == sorted(p.rank for p in all_of_them)
    made = report(rows)
    assert made.verdict == min((o.verdict for o in made.options), key=SEVERITY.__getitem__)
    for place in all_of_them:
        way = next(o for o in made.options if o.key == f"place-{place.number}")
        assert SEVERITY[way.verdict] == place.severities[0], "the worst cell decides"
        assert len(place.cells) == len(SUBJECTS), "no subject is skipped"


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_mended_where_it_is_told_to_be_the_second_wins(boat: str) -> None:
    """The cells named are enough; one fewer is not."""
    from calc.calculators.places import tell

    made = GUIDE.run(MADE, example={"boat": boat})
    assert made.report is not None
    q: Any = made.bound.as_values()
    first, second, *_ = judged(q, asking.asking(made.report))
    mended = tell._to_mend(first, second)
    named = {c.subject.key for c in mended}

    def left(keys: set[str]) -> list[int]:
        found = [0 if c.subject.key in keys else c.severity for c in second.cells]
        return sorted(found, reverse=True)

    assert left(named) <= first.severities
    assert named and (
        left(set()) == first.severities or left(named - {mended[-1].subject.key}) > first.severities
    )


# ---- rows that cannot be ----


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([], "no place"),
        ([BILGE, BILGE | {"what": "Bilge"}], "place 2"),
        ([BILGE | {"what": "x"}, BILGE | {"locker_length": "9.9 m"}], "place 2"),
        ([BILGE | {"ahead": "29 m"}], "place 1"),
        ([BILGE | {"aside": "-9 m"}], "place 1"),
        ([BILGE | {"seat": "0.3 m", "locker_height": "700 mm", "locker_width": "700 mm"}], "seat"),
    ],
)
def test_a_place_that_cannot_be_is_told_by_its_row(rows: list[Row], told: str) -> None:
    short = {"waterline_length": "7 m"}
    assert told in refused("places", {"places": rows} | short, "ketch")["places"]


def test_a_value_that_is_none_is_told_by_its_row() -> None:
    wrong = refused("places", {"places": [BILGE, BILGE | {"what": "x", "seat": "far"}]}, "ketch")
    assert set(wrong) == {"places.1.seat"}


# ---- trim ----


@given(st.floats(1, 200), st.floats(-3, 3), st.floats(-1, 1))
def test_a_weight_heels_to_its_own_side_and_none_does_nothing(
    mass: float, ahead: float, aside: float
) -> None:
    hull = trim.Hull(12000, 11, 3.4)
    made = trim.Trim(hull, mass, trim.Spot(ahead, aside), 0.01, 0.03)
    assert made.heels * aside >= 0 and made.trims * ahead >= 0
    twice = trim.Trim(hull, 2 * mass, trim.Spot(ahead, aside), 0.01, 0.03)
    assert twice.trims == pytest.approx(2 * made.trims)
    none = trim.Trim(hull, 0.0, trim.Spot(ahead, aside), 0.01, 0.03)
    assert none.heels == none.trims == 0


def test_two_hulls_are_stiffer_than_their_waterlines_side_by_side() -> None:
    """Each hull's own moment and its area at its distance (parallel axes)."""
    one = trim.Hull(6000, 10, 1.2)
    two = trim.Hull(6000, 10, 1.2, apart=5)
    area = 2 / 3 * 10 * 1.2
    assert two.across == pytest.approx(2 * one.across + 2 * area * 2.5**2)
    assert two.along == pytest.approx(2 * one.along)
    measured = trim.Hull(6000, 10, 1.2, height=1.0)
    assert measured.stiffness == 1.0 and one.stiffness < one.radius


@pytest.mark.parametrize("wrong", [(0.0, 1.0), (1.0, 0.0), (-1.0, 1.0)])
def test_a_hull_of_no_size_is_refused(wrong: tuple[float, float]) -> None:
    for relation in (
        hydrostatics.waterplane_across,
        hydrostatics.waterplane_along,
        hydrostatics.metacentric_radius,
    ):
        with pytest.raises(ValueError, match="more than zero"):
            relation(*wrong)


# ---- the page ----


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_demo_boats_have_a_winner_and_its_cells_lead_to_their_pages(boat: str) -> None:
    asked = {"calculator": "places", "example": {"boat": boat}}
    shown = json.loads(browser.handle(json.dumps(asked)))["slots"]["answer"]
    made = GUIDE.run(MADE, example={"boat": boat}).report
    assert made is not None
    assert made.verdict in (FITS, "tight")
    assert {o.verdict for o in made.options} > {made.verdict}
    for subject in SUBJECTS:
        if subject.calculator:
            assert f'href="{subject.calculator}.html#a1:{subject.calculator}?' in shown


# ---- one boat ----


def sheet_of(boat: str) -> dict[str, Any]:
    return dict(GUIDE.shelf("boat")[boat].texts)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
@pytest.mark.parametrize("number", [0, 1, 2])
def test_every_page_takes_the_place_that_she_chose(boat: str, number: int) -> None:
    """And says of it what its cell says, whatever else she said of a locker."""
    sheet = sheet_of(boat) | {"locker_length": "777 mm", "apart": "33 mm"}
    chosen = sheet | {"place": sheet["places"][number]["what"]}
    table = GUIDE.run(MADE, sheet=chosen, own_boat=True)
    assert table.report is not None
    q: Any = table.bound.as_values()
    place = by_name(judged(q, asking.asking(table.report)), sheet["places"][number]["what"])
    for cell in place.cells:
        if cell.answered is None:
            continue
        page = GUIDE.run(GUIDE.get(cell.answered.name), sheet=chosen, own_boat=True)
        assert page.lacks == cell.answered.outcome.lacks
        if page.report is not None and cell.answered.report is not None:
            assert page.report.verdict == cell.answered.report.verdict
            assert page.report.decided_by == cell.answered.report.decided_by
            assert page.report.reason().text() == cell.answered.report.reason().text()
    listed = {
        line.calculator.name: line.verdict for line in sheets.lines(chosen, PAGES_DATA, GUIDE)
    }
    room, held = place.cells[0], place.cells[1]
    assert listed["mount"] == max(room, held, key=lambda c: c.severity).verdict


def test_a_choice_of_no_place_is_told() -> None:
    wrong = refused("places", {"places": [BILGE], "place": "attic"}, "ketch")
    assert "bilge" in wrong["place"]
    assert GUIDE.filled({"place": "attic", "places": [BILGE]}) == {
        "place": "attic",
        "places": [BILGE],
    }
    hostile: list[dict[str, Any]] = [{"place": 3}, {"place": "x", "places": "y"}, {"place": "x"}]
    hostile += [
        {"place": "bilge", "places": [3, {"what": ["bilge"]}, {"what": "bilge", "seat": "?"}]}
    ]
    for one in hostile:
        assert GUIDE.filled(one) == one


def test_of_places_that_nothing_parts_none_comes_first() -> None:
    """A unit and two names are all that is said: no place is named in the headline."""
    made = outcome([{"what": "bilge"}, {"what": "locker"}], boat="", own=True, unit="skerry-45")
    assert made.report is not None
    (told,) = made.report.headlines
    assert told.amounts == {"n": "2"}
    assert {place.least.part.verdict for place in cells_of(made)} == {UNKNOWN}


@pytest.mark.parametrize("calculator", ["mount", "noise", "ventilation"])
def test_what_is_told_of_a_cell_changes_nothing_that_its_verdict_rests_on(calculator: str) -> None:
    """A cell is judged first, and told where that is wanted: by the same answer, once."""
    ask = asking.Asking(GUIDE, MADE.asks, {}, {}, {"boat": "ketch"}, "", own_boat=False)
    cell = ask(calculator, {"locker_length": "620 mm"})
    before, parted = cell.part("a", "a"), (cell.cautions, cell.verdict)
    whole = GUIDE.run(
        GUIDE.get(calculator), {"locker_length": "620 mm"}, example={"boat": "ketch"}, in_steps=True
    ).report
    told = cell.told.report
    assert told is not None and whole is not None
    assert cell.told is cell.told and told.as_data() == whole.as_data()
    assert before == cell.part("a", "a") and parted[0] == cell.cautions
    assert ask(calculator, {"locker_length": "620 mm"}) is cell
