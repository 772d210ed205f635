"""The set apart: the search against brute force, and its judging against the pages'."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import stock
from calc.calculators.places import apart as page
from calc.calculators.places.subjects import judged
from calc.frame import asking
from calc.frame.figures import SEVERITY
from calc.frame.report import Report
from calc.system import apart
from calc.system.apart import Fed, Problem, Site, Standing
from calc.system.locker import Sizes

GUIDE = stock.guide()
WEIGHED = range(6)


def around(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 3))


SITES = st.lists(
    st.builds(
        Site,
        st.integers(1, 99),
        around(-5, 5),
        around(-1.5, 1.5),
        around(-0.4, 1),
        st.builds(Sizes, around(0.3, 1.6), around(0.3, 1.0), around(0.3, 0.9)),
        around(0.2, 0.6),
        around(0.5, 6),
        around(-0.5, 0.5),
    ),
    min_size=1,
    max_size=4,
    unique_by=lambda site: site.number,
)


def problem(sites: list[Site], boosted: bool, seed: int) -> Problem:
    """Verdicts that hang on the places in some way, all kinds of them."""

    def stands(unit: Site, boost: Site) -> Standing:
        bad = (0, 1, 3)[(unit.number * 7 + seed) % 3]
        return Standing(bad, (unit.number % 5) / 10, (unit.number * boost.number % 7) / 10)

    def fed(boost: Site, filters: Site, unit: Site) -> Fed:
        bad = 3 if boost.floor > 0.3 else 0
        return Fed(bad, 1e3 * (boost.run(filters) + filters.run(unit)))

    return Problem(
        tuple(sites),
        stands,
        fed,
        boosted,
        lambda length: 2e4 * length,
        5.5e6,
        21.0,
        15.0,
        1.0,
        (40.0, 150.0),
    )


def brute(made: Problem) -> dict[tuple[int, ...], tuple[int, tuple[float, ...]]]:
    """Every way by itself, worked out anew: how bad it is and what it is weighed by."""
    found = {}
    for unit, boost, filters, vessels, panel in itertools.product(made.sites, repeat=5):
        if not made.boosted and boost is not unit:
            continue
        stands, fed = made.stands(unit, boost), made.fed(boost, filters, unit)
        low = filters.run(unit) + (
            boost.from_sea + boost.run(filters) if made.boosted else filters.from_sea
        )
        high = unit.run(vessels) + vessels.run(panel)
        placed = {"unit": unit, "filters": filters, "vessels": vessels, "panel": panel}
        if made.boosted:
            placed["boost"] = boost
        goes = all(
            placed[part].takes(body) for part, body in apart.BODIES.items() if part in placed
        )
        goes = goes and vessels.takes_tubes(made.tubes)
        heel = abs(sum(made.mass(part) * site.aside for part, site in placed.items()))
        trim = abs(sum(made.mass(part) * site.ahead for part, site in placed.items()))
        lost = made.lost(high)
        shares = [lost / (apart.LOST_SHARE * made.pressure)]
        shares += [heel / made.moments[0], trim / made.moments[1]]
        bad = max(stands.badness, fed.badness, 0 if goes else 3)
        bad = max(bad, *[3 if share > 1 else 1 if share > 0.9 else 0 for share in shares])
        weight = sum(made.mass(part) for part in placed)
        height = sum(made.mass(part) * site.height for part, site in placed.items()) / weight
        key = tuple(site.number for site in (unit, boost, filters, vessels, panel))
        found[key] = (
            bad,
            (
                round(low + high, 1),
                round((fed.lost + lost) / 1e3),
                round(filters.reach + panel.reach, 2),
                round(height, 2),
                -round(stands.quiet, 2),
                -round(stands.cool, 2),
            ),
        )
    return found


def alike(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(
        abs(one[i] - other[i]) <= (0.1, 1, 0.01, 0.01, 0.01, 0.01)[i] + 1e-9 for i in WEIGHED
    )


@given(SITES, st.booleans(), st.integers(0, 2))
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_the_search_finds_what_brute_force_finds(
    sites: list[Site], boosted: bool, seed: int
) -> None:
    made = problem(sites, boosted, seed)
    every = brute(made)
    assert apart.tried(made) == len(every)
    least = min(bad for bad, _ in every.values())
    good = {weighed for bad, weighed in every.values() if bad == least}
    front = {
        one
        for one in good
        if not any(all(other[i] <= one[i] for i in WEIGHED) and other != one for other in good)
    }
    ways = apart.ways(made)
    assert {way.badness for way in ways} == {least}
    found = apart.front(ways)
    # As good as brute force's to within what a number is rounded to: sums differ in their last bit.
    for one in front:
        assert any(alike(way.weighed, one) for way in found), "one is missing"
    for way in found:
        assert any(alike(way.weighed, one) for one in front), "one is beaten"
    for way in found:
        assert every[tuple(site.number for site in way.sites)][0] == least


@given(SITES, st.integers(0, 2))
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
def test_another_place_never_takes_the_best_away(sites: list[Site], seed: int) -> None:
    few, more = problem(sites[:-1] or sites, True, seed), problem(sites, True, seed)
    least = [min(way.badness for way in apart.ways(one)) for one in (few, more)]
    assert least[1] <= least[0]
    if least[0] == least[1]:
        fronts = [apart.front(apart.ways(one)) for one in (few, more)]
        for old in fronts[0]:
            assert any(
                way.weighed == old.weighed or apart.beats(way.weighed, old.weighed)
                for way in fronts[1]
            )


def test_three_are_told_each_for_something_and_none_twice() -> None:
    made = problem(
        [
            Site(n, n - 3, n / 5, n / 10, Sizes(1.4, 0.9, 0.9), 0.5 - n / 20, 1.0 + n, 0.0)
            for n in range(1, 5)
        ],
        True,
        0,
    )
    found = apart.front(apart.ways(made))
    told = apart.told(found)
    ways = [way for _, way in told]
    assert len({way.weighed for way in ways}) == len(ways) == min(3, len(found))
    assert ways[0].weighed[0] == min(way.weighed[0] for way in found)


# ---- the pages' own judging ----


def problem_of(boat: str) -> tuple[Any, Report, asking.Asking, Problem, page.Basis]:
    made = GUIDE.get("places")
    outcome = GUIDE.run(made, example={"boat": boat})
    assert outcome.report is not None
    q: Any = outcome.bound.as_values()
    ask = asking.asking(outcome.report)
    found = judged(q, ask)
    basis = page._basis(q, found, ask)
    assert basis is not None
    sites = tuple(site for place in found if (site := page._site(place)) is not None)
    known = {place.number: place for place in found}
    return q, outcome.report, ask, page._problem(q, sites, known, basis, ask), basis


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_feed_of_a_way_is_judged_as_its_page_judges_it(boat: str) -> None:
    _, _, _, made, basis = problem_of(boat)
    sites = made.sites
    for boost, filters, unit in itertools.islice(itertools.permutations(sites, 3), 0, 12):
        line = page.fed_by(basis.line, boost, filters, unit)
        assert line.boost is not None
        typed = {
            "feed_length": f"{line.hose.length} m",
            "boost_length": f"{line.boost.hose.length} m",
            "boost_height": f"{line.boost.spot.height} m",
            "boost_aside": f"{line.boost.spot.aside} m",
            "boost_ahead": f"{line.boost.spot.ahead} m",
            "pump_height": f"{line.inlet.spot.height} m",
            "pump_aside": f"{line.inlet.spot.aside} m",
            "pump_ahead": f"{line.inlet.spot.ahead} m",
        }
        told = GUIDE.run(GUIDE.get("feed"), typed, example={"boat": boat}).report
        assert told is not None
        assert SEVERITY[told.verdict] == made.fed(boost, filters, unit).badness


def test_all_parts_in_one_place_are_a_way_among_the_others() -> None:
    """Its hose: from the seacock, and a little between its parts."""
    _, _, _, made, _ = problem_of("catamaran")
    one = replace(made, sites=made.sites[:1])
    (way,) = apart.ways(one)
    assert way.metres == pytest.approx(one.sites[0].from_sea + 4 * apart.WITHIN)
    assert apart.front([way]) == [way]


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_what_is_to_buy_is_as_long_as_the_way(boat: str) -> None:
    made = GUIDE.run(GUIDE.get("places"), example={"boat": boat}).report
    assert made is not None
    compared = next(table for table in made.tables if table.key == "apart")
    for number, row in enumerate(compared.rows, 1):
        bought = next(table for table in made.tables if table.key == f"apart-{number}")
        hoses: list[Any] = [line for line in bought.rows if "hose" in str(line[0])]
        metres = sum(line[3].value for line in hoses if line[0] != "fresh-water hose")
        in_all: Any = row[6]
        assert in_all.value <= metres + 1e-9 <= in_all.value + 0.5 * len(hoses)


def test_places_that_say_too_little_are_not_set_apart() -> None:
    rows = [{"what": "a"}, {"what": "b", "ahead": "1 m"}]
    made = GUIDE.run(GUIDE.get("places"), {"places": rows}, example={"boat": "ketch"}).report
    assert made is not None
    assert not [table for table in made.tables if table.key.startswith("apart")]
