"""Upkeep and spares as a whole: the plan agrees with itself, and no part is lost by being surer."""

from __future__ import annotations

import base64
import json
import re
from collections import Counter
from datetime import date, timedelta
from typing import Any

import icalendar
import pytest
from answers import noted
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import browser, stock
from calc.frame.report import Line, Report, say
from calc.physics.calendar_days import MONTH, add_months
from calc.sheet.year import told as day_told
from calc.system.upkeep import HORIZON

HOUR = 3600.0
TODAY = date(2026, 5, 1)
STRAINER = {"name": "Sea strainer", "hours": "40 h"}
LOG_OF_STRAINER = "2026-03-26,done,0,Sea strainer,\n"
SLOW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def run(name: str, boat: str = "ketch", **typed: Any) -> Report:
    outcome = stock.guide().run(stock.guide().get(name), typed, example={"boat": boat})
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    return outcome.report


def faults(name: str, **typed: Any) -> list[str]:
    outcome = stock.guide().run(stock.guide().get(name), typed, example={"boat": "ketch"})
    return [f"{fault.field}: {fault.sentence}" for fault in outcome.bound.faults]


def table(report: Report, key: str) -> list[list[Any]]:
    """The rows of a table, sentences as text."""
    found = next((t.rows for t in report.tables if t.key == key), ())
    return [[say(c) if isinstance(c, Line) else c for c in row] for row in found]


@st.composite
def years(draw: st.DrawFn) -> dict[str, Any]:
    """Hours, lay-ups and a few tasks of one's own."""
    rests, day = [], TODAY + timedelta(days=draw(st.integers(-30, 150)))
    for _ in range(draw(st.integers(0, 3))):
        end = day + timedelta(days=draw(st.integers(3, 200)))
        rests.append({"start": str(day), "end": str(end)})
        day = end + timedelta(days=draw(st.integers(1, 200)))
    tasks = [
        {
            "name": f"Task {index}",
            "hours": draw(st.sampled_from(["", "60 h", "250 h", "900 h"])),
            "months": draw(st.sampled_from(["", "10 days", "1 month", "6 months", "2 years"])),
            "before_lay_up": draw(st.sampled_from(["yes", "no"])),
            "after_lay_up": draw(st.sampled_from(["yes", "no"])),
            "laid_up": draw(st.sampled_from(["before", "during", "after"])),
        }
        for index in range(draw(st.integers(1, 4)))
    ]
    return {
        "today": str(TODAY),
        "started": str(TODAY - timedelta(days=draw(st.integers(0, 500)))),
        "log": "",
        "run_hours": f"{draw(st.floats(0.1, 6)):.2f} h",
        "lay_ups": rests,
        "tasks": tasks,
        "months": [],
        "passages": [],
    }


@SLOW
@given(typed=years())
def test_due_list_timeline_and_calendar_agree(typed: dict[str, Any]) -> None:
    report = run("upkeep", **typed)
    drawn: Counter[tuple[str, date]] = Counter()
    for lane in report.timelines[0].lanes:
        for day, _ in lane.days:
            drawn[lane.label, day] += 1
    written: Counter[tuple[str, date]] = Counter()
    end = add_months(TODAY, HORIZON)
    for event in icalendar.Calendar.from_ical(report.downloads[0].text).walk("VEVENT"):
        title = str(event["SUMMARY"]).removeprefix("Watermaker: ")
        name = "Membranes at rest" if title.startswith("membranes: ") else title
        if event.decoded("DTSTART") <= end:
            written[name, event.decoded("DTSTART")] += 1
    assert drawn == written
    firsts: dict[str, date] = {}
    for (name, day), _ in sorted(drawn.items(), key=lambda item: item[0][1]):
        firsts.setdefault(name, day)
    listed = {
        row[0]: row[1]
        for key in ("due", "later")
        for row in table(report, key)
        if not row[0].startswith("Lay-up: ")
    }
    assert set(listed) == {task["name"] for task in typed["tasks"]}
    for name, told in listed.items():
        if name not in firsts:
            assert "later than" in told or told == "on condition"
        elif told.startswith("since"):
            assert firsts[name] == TODAY
        else:
            assert told == say(day_told(firsts[name]))


@pytest.mark.parametrize(
    ("today", "state", "words"),
    [
        ("2026-05-01", "tight", "due in 3 days"),
        ("2026-05-04", "tight", "due today"),
        ("2026-04-30", "fits", "due in 4 days"),
        ("2026-06-20", "fails", "overdue by"),
    ],
)
def test_the_verdict_follows_from_the_interval_gone_by(today: str, state: str, words: str) -> None:
    report = run(
        "upkeep",
        today=today,
        log=LOG_OF_STRAINER,
        tasks=[STRAINER],
        run_hours="1 h",
        started="2026-03-20",
        months=[],
        passages=[],
        lay_ups=[],
    )
    figure = next(f for f in report.figures if f.key == "next")
    due = date(2026, 5, 4)
    assert report.verdict == state
    assert words in report.reason().text()
    gone = (date.fromisoformat(today) - date(2026, 3, 26)).days / (due - date(2026, 3, 26)).days
    assert figure.value.value == pytest.approx(gone, rel=0.05)
    assert (figure.margin or 0) * 100 < 100


@st.composite
def logs(draw: st.DrawFn) -> str:
    """Readings and jobs of a strainer up to the first of May, hours rising."""
    day, hours, lines = TODAY - timedelta(days=300), 0.0, []
    for _ in range(draw(st.integers(1, 8))):
        day += timedelta(days=draw(st.integers(0, 37)))
        hours += draw(st.integers(0, 100)) / 10
        done = draw(st.sampled_from([True, False, False]))
        lines.append(f"{day},done,{hours},Sea strainer," if done else f"{day},reading,{hours},,")
    return "\n".join(lines) + "\n"


@SLOW
@given(
    written=logs(),
    hours=st.floats(0.1, 6),
    limit=st.integers(10, 80),
    laid_up=st.integers(0, 100),
    ahead=st.lists(st.integers(0, 500), min_size=2, max_size=4),
)
def test_a_day_that_is_past_depends_on_no_today(
    written: str, hours: float, limit: int, laid_up: int, ahead: list[int]
) -> None:
    """Whether it is foretold or looked back on: the day is that of the log and the plan."""
    rest = [{"start": "2026-06-01", "end": str(date(2026, 6, 1) + timedelta(days=laid_up))}]
    typed = {
        "log": written,
        "run_hours": f"{hours:.3f} h",
        "months": [],
        "passages": [],
        "started": "2025-07-01",
        "lay_ups": rest,
        "tasks": [{"name": "Sea strainer", "hours": f"{limit} h"}],
    }
    told = set()
    for days in ahead:
        report = run("upkeep", today=str(TODAY + timedelta(days=days)), **typed)
        cell = next(
            row[1]
            for key in ("due", "later")
            for row in table(report, key)
            if row[0] == "Sea strainer"
        )
        told.add(cell.removeprefix("since "))
    assert len(told) == 1


@pytest.mark.parametrize(
    ("boat", "task", "day", "todays"),
    [
        (
            "ketch",
            "Sea strainer and seacock",
            "4 May 2026",
            ("2026-05-02", "2026-05-10", "2026-06-10", "2026-12-01", "2027-04-01"),
        ),
        ("catamaran", "Boost pump wear parts", "9 Feb 2026", ("2026-05-01", "2026-08-10")),
    ],
)
def test_overdue_is_dated_as_the_log_has_it(
    boat: str, task: str, day: str, todays: tuple[str, ...]
) -> None:
    """The catamaran's log reads 752 h on 20 January and 810.5 h on 14 February: 800 h were reached
    on the evening of 9 February. The ketch has 9 h left on 28 April, at 1.4 h a day.
    """
    for today in todays:
        rows = {row[0]: row[1] for row in table(run("upkeep", boat, today=today), "due")}
        assert rows[task].removeprefix("since ") == day


def test_a_job_without_hours_is_counted_from_its_day() -> None:
    """Done after the last reading: the plan's hours since then, not all since the reading."""
    typed = {"tasks": [STRAINER], "run_hours": "1 h", "months": [], "passages": [], "lay_ups": []}
    for written in (
        "2026-03-20,reading,90,,\n2026-04-20,done,,Sea strainer,\n",
        "2026-04-20,done,,Sea strainer,\n",
    ):
        report = run("upkeep", started="2026-01-01", log=written, **typed)
        assert table(report, "due")[0][1] == "29 May 2026"
        assert table(report, "due")[0][4].value == pytest.approx(29 * HOUR)


@SLOW
@given(typed=years(), more=st.floats(1.01, 3))
def test_more_hours_never_make_a_task_later(typed: dict[str, Any], more: float) -> None:
    busier = {**typed, "run_hours": f"{float(typed['run_hours'][:-2]) * more:.4f} h"}
    one, other = (
        {
            lane.label: min(day for day, _ in lane.days)
            for lane in run("upkeep", **t).timelines[0].lanes
        }
        for t in (typed, busier)
    )
    for name, day in one.items():
        assert other[name] <= day


def counts(report: Report) -> dict[str, int]:
    return {row[0]: int(row[1]) for key in ("box", "left") for row in table(report, key)}


@SLOW
@given(
    boat=st.sampled_from(["ketch", "catamaran"]),
    covers=st.sampled_from(["box", "each"]),
    low=st.floats(0.5, 0.999),
    high=st.floats(0.5, 0.999),
    hours=st.floats(0, 8),
)
def test_more_confidence_takes_no_part_out_of_the_box(
    boat: str, covers: str, low: float, high: float, hours: float
) -> None:
    low, high = sorted((low, high))
    less, more = (
        counts(
            run(
                "spares",
                boat,
                covers=covers,
                confidence=f"{100 * c:.6f} %",
                away_hours=f"{hours:.2f} h",
            )
        )
        for c in (low, high)
    )
    assert set(less) == set(more)
    assert all(less[part] <= more[part] for part in less)


@SLOW
@given(confidence=st.floats(0.5, 0.999), boat=st.sampled_from(["ketch", "catamaran"]))
def test_the_box_is_as_sure_as_was_asked(confidence: float, boat: str) -> None:
    report = run("spares", boat, confidence=f"{100 * confidence:.6f} %")
    risk = next(f for f in report.figures if f.key == "risk")
    assert risk.value.value <= 1 - confidence + 1e-9
    assert report.verdict in ("fits", "tight")


def test_two_is_one_only_where_the_numbers_say_so() -> None:
    calm = run("spares", away_hours="0.5 h", leave="2026-06-01", back="2026-08-20")
    assert not any(re.search(r"[2-9] for failures", row[2]) for row in table(calm, "box"))
    assert "second spare" in calm.notes[0].text()
    rough = run("spares", away_hours="8 h", confidence="99 %")
    told = [note.text() for note in rough.notes]
    doubled = " ".join(text for text in told if text.startswith(("Two is one", "Of ")))
    assert doubled
    for row in table(rough, "box"):
        assert (row[0] in doubled) == bool(re.search(r"(?:^|; )([2-9]|\d\d) for failures", row[2]))


def test_a_lay_up_skips_no_task_of_the_ketch() -> None:
    """Whatever goes by the calendar comes up with the winters as it does without them."""
    by_calendar = {task.name for task in stock.guide().shelf("task").values() if task.hours is None}
    with_rests, without = (
        {lane.label for lane in run("upkeep", **typed).timelines[0].lanes} & by_calendar
        for typed in ({}, {"lay_ups": []})
    )
    assert len(without) >= 5
    assert without <= with_rests


@pytest.mark.parametrize(
    ("name", "typed", "words"),
    [
        (
            "upkeep",
            {"log": "2026-04-01,reading,500,,\n2026-04-09,reading,400,,\n"},
            "meter was replaced",
        ),
        ("upkeep", {"log": "2026-06-01,reading,500,,\n"}, "lies after today"),
        ("upkeep", {"log": "Datum;Stand\n2026-04-01;500\n"}, "“Stand”"),
        ("upkeep", {"tasks": [{"name": "Oil", "hours": "0 h"}]}, "must be at least 10 h"),
        ("upkeep", {"tasks": []}, "no task"),
        ("upkeep", {"started": "2027-01-01"}, "after today"),
        ("upkeep", {"lay_ups": [{"start": "2026-11-01", "end": "2026-10-01"}]}, "before it begins"),
        (
            "upkeep",
            {
                "lay_ups": [
                    {"start": "2026-11-01", "end": "2027-03-01"},
                    {"start": "2027-02-01", "end": "2027-04-01"},
                ]
            },
            "overlap",
        ),
        ("upkeep", {"use_by": "litres", "litres": "2000 L/day"}, "24 hours"),
        ("upkeep", {"today": "0001-01-01"}, "1970"),
        ("spares", {"back": "2026-04-01"}, "after today"),
        ("spares", {"leave": "2026-07-01", "back": "2026-06-01"}, "after the day you leave"),
        (
            "spares",
            {"parts": [{"name": "Seal", "task": "Crankcase oyl"}]},
            "Did you mean “Crankcase oil”",
        ),
        ("spares", {"look_at": "Packing"}, "Did you mean “Packing set”"),
        (
            "spares",
            {"parts": [{"name": "Fuse", "rate": "20 /1000 h", "fitted": "20"}]},
            "too many to carry",
        ),
    ],
)
def test_what_makes_no_sense_is_said(name: str, typed: dict[str, Any], words: str) -> None:
    assert any(words in fault for fault in faults(name, **typed)), faults(name, **typed)


FRESH = {"log": "", "started": "2025-05-01", "months": [], "passages": [], "lay_ups": []}


def test_an_empty_log_is_asked_for_before_anything_is_called_overdue() -> None:
    """Nobody knows what was done: that is no verdict. A log with jobs in it is held to."""
    fresh = run("upkeep", today="2026-05-01", run_hours="1 h", **FRESH)
    assert fresh.verdict == "unknown"
    assert "fails" not in next(t.states for t in fresh.tables if t.key == "due")
    assert fresh.remedies
    readings = {**FRESH, "log": "2026-04-20,reading,300,,\n"}
    assert run("upkeep", today="2026-05-01", run_hours="1 h", **readings).verdict == "unknown"
    new = run("upkeep", today="2026-05-01", run_hours="1 h", **{**FRESH, "started": "2026-04-25"})
    assert new.verdict in ("fits", "tight")
    written = {**FRESH, "log": "2025-05-20,done,10,Coarse filter wash,\n"}
    assert run("upkeep", today="2026-05-01", run_hours="1 h", **written).verdict == "fails"


def test_the_days_of_a_lay_up_stand_in_the_list_of_ninety_days() -> None:
    report = run("upkeep", today="2026-10-01")
    figure = next(f for f in report.figures if f.key == "rest")
    listed = [row[1] for row in table(report, "due") if row[0].startswith("Lay-up: ")]
    below = [row[0] for row in table(report, "rest")]
    assert listed and listed == below[: len(listed)]
    assert figure.value.value == len(listed)
    far = table(run("upkeep", today="2026-05-01"), "due")
    assert not any(row[0].startswith("Lay-up: ") for row in far)


@pytest.mark.parametrize(
    ("stands", "air", "flushes"),
    [
        ("1 day", "20 °C", 1),
        ("7 days", "25 °C", 1),
        ("8 days", "25 °C", 2),
        ("7 days", "35 °C", 3),
        ("12 days", "25 °C", 2),
    ],
)
def test_who_runs_it_rarely_is_told_of_the_flushes(stands: str, air: str, flushes: int) -> None:
    """A flush keeps 7 days up to 25 °C (common practice), 3 whole days at 35 °C."""
    report = run("upkeep", stands=stands, ambient_temperature=air)
    found = {f.key: f for f in report.figures}
    assert found["flushes"].value.value == flushes
    assert found["stands"].state in ("fits", "tight")


def test_what_stands_longer_than_flushing_keeps_is_a_lay_up() -> None:
    """By the days that are typed, or by months in which the plan runs nothing."""
    assert run("upkeep", stands="30 days").verdict == "fails"
    idle = {"months": [{"month": "6", "daily": "0 h"}], "passages": []}
    report = run("upkeep", **idle)
    stands = next(f for f in report.figures if f.key == "stands")
    assert stands.value.value == 30 * 86400
    assert report.verdict == "fails"
    rest = [{"start": "2026-06-01", "end": "2026-06-30"}]
    laid_up = run("upkeep", lay_ups=rest, **idle)
    assert next(f for f in laid_up.figures if f.key == "stands").state == "fits"


def test_a_unit_with_two_membranes_pays_for_two() -> None:
    one, two = (
        {row[0]: row for row in table(run("upkeep", unit=unit), "costs")}["Membrane change"]
        for unit in ("skerry-45", "skerry-70")
    )
    assert two[2].value == pytest.approx(2 * one[2].value)


def test_jobs_that_no_task_is_called_by_are_named() -> None:
    strange = "2026-04-01,done,860,Crankcase oils,\n2026-04-02,done,861,Haul out,\n"
    assert noted(run("upkeep", log=strange), "told", "hint") == {
        "told": "“Crankcase oils”, “Haul out”",
        "hint": "Did you mean “Crankcase oil”?",
    }
    assert noted(run("upkeep"), "told", "hint") is None


def test_hours_or_litres_give_the_same_plan() -> None:
    hours = run("upkeep", run_hours="2 h")
    papers = {"sea_temperature": "25 °C", "sea_salinity": "35 g/kg", "product_flow": "45 L/h"}
    litres = run("upkeep", use_by="litres", litres="90 L/day", **papers)
    assert table(hours, "due") == table(litres, "due")
    cold = run(
        "upkeep", use_by="litres", litres="90 L/day", **{**papers, "sea_temperature": "8 °C"}
    )
    assert cold.steps[0].result.value > 1.4 * litres.steps[0].result.value
    step = litres.steps[0]
    assert step.result.value == pytest.approx(
        86400 * step.where["V_day"].value / step.where["Q"].value
    )


def test_cost_is_the_sum_of_its_tasks() -> None:
    report = run("upkeep")
    rows = table(report, "costs")
    figures = {figure.key: figure.value.value for figure in report.figures}
    assert sum(row[4].value for row in rows) == pytest.approx(figures["cost"])
    hours = figures["hours_year"] / HOUR
    assert figures["cost_hour"] == pytest.approx(figures["cost"] / hours)
    made = figures["product"] * HOUR * 1000
    assert figures["cost_litre"] == pytest.approx(figures["cost"] / (hours * made) * 1000)
    assert made == pytest.approx(37.3, rel=0.01), "18 °C, and not the 45 L/h of its papers"


def test_the_year_of_a_boat_that_never_runs_has_no_cost_an_hour() -> None:
    report = run("upkeep", run_hours="0.0001 h", months=[], passages=[])
    assert {figure.key for figure in report.figures} >= {"cost", "hours_year"}


# ---- the records ----


def test_records_keep_to_common_practice() -> None:
    """Common practice, no source: oil every 500 h or each season and early the first time; a pump
    of this class lasts seven to ten years between rebuilds; packing is changed in the field.
    """
    tasks = stock.guide().shelf("task")
    oil = tasks["oil"]
    assert oil.hours == 500 * HOUR
    assert oil.first_hours == 50 * HOUR
    assert oil.before_lay_up
    assert 7 * 12 <= round(tasks["rebuild"].months / MONTH) <= 10 * 12
    assert tasks["packing"].who == "owner"


def test_parts_belong_to_tasks_and_logs_name_them() -> None:
    names = {task.name for task in stock.guide().shelf("task").values()}
    for part in stock.guide().shelf("part").values():
        assert not part.task or part.task in names, part.name
        assert part.rate or part.life or part.task, f"{part.name} is never needed"
    for boat in stock.guide().shelf("boat").values():
        assert {entry.task for entry in boat.log if entry.task} <= names


# ---- the page ----


def test_the_calendar_is_inside_its_link() -> None:
    reply = json.loads(
        browser.handle(json.dumps({"calculator": "upkeep", "example": {"boat": "ketch"}}))
    )
    found = re.search(r'download="watermaker.ics"[^>]*base64,([^"]+)"', reply["slots"]["answer"])
    assert found
    text = base64.b64decode(found[1]).decode()
    assert text == run("upkeep").downloads[0].text
    assert "Watermaker of Alder" in text


def test_the_page_may_fill_in_today_and_the_log_stands_in_a_text_area() -> None:
    from calc.frame.render import html

    made = stock.guide().get("upkeep")
    form = html.form(made, stock.guide().run(made, example={"boat": "ketch"}).bound)
    assert re.search(r'<input type="date"[^>]*name="today"[^>]*data-today', form)
    area = re.search(r"<textarea[^>]*name=\"log\"[^>]*>\n?([^<]*)</textarea>", form)
    assert area
    assert "first change" in area[1]
