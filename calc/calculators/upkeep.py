"""What must I do to it, and when, from the hours it runs and the months that pass?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from ..equipment.upkeep import WHO
from ..frame import log
from ..frame.cautions import rules
from ..frame.guide import decides
from ..frame.inputs import Inputs, Refusal, Values, ask, but, choice, is_one_of, nearest
from ..frame.inputs import date as ask_date
from ..frame.report import (
    FAILS,
    FITS,
    TIGHT,
    UNKNOWN,
    Bars,
    Lane,
    Report,
    Stay,
    Timeline,
    line,
    most,
)
from ..models import upkeep
from ..models.at_rest import LaidUp
from ..models.upkeep import DAY, HOUR, Job, Plan, told
from ..physics import maintenance
from ..physics.calendar_days import add_months
from ..sheet import BoatSheet as boat

TITLE = "The year of the unit"


WANTED = ("days", "late", "work")
PICTURE = "years"
DECIDES = decides("unit", "started")

CAUTIONS = rules("mains", "preservative", "pressure", "shut-end", "dirty-water", "waste-oil")

USE, REST, MONEY = "How much it runs", "Laying it up", "What it costs"
_SOON, _SEASON = 30, 90  # days
_REST = {
    maintenance.FLUSH: "Lay-up: flush",
    maintenance.PRESERVE: "Lay-up: put it to rest",
    maintenance.RENEW: "Lay-up: renew the preservative",
    maintenance.WAKE: "Lay-up: wake it",
}
_PRACTICE = "common practice, no source"


class Asks(Inputs):
    today = ask_date("Today", "2026-05-01", open=True, today=True)
    name = boat.name
    unit = boat.unit
    log = but(boat.log, open=True)
    started = boat.started
    use_by = choice(
        "Take its hours from", {"hours": "hours a day", "litres": "litres a day"}, group=USE
    )
    run_hours = but(boat.run_hours, group=USE, when=is_one_of("use_by", "hours"))
    litres = ask(
        "Fresh water you want",
        "90 L/day",
        group=USE,
        open=True,
        above="0 L/day",
        at_most="24000 L/day",
        when=is_one_of("use_by", "litres"),
    )
    product_flow = ask(
        "Fresh water it makes",
        "45 L/h",
        from_record="unit.product_flow",
        group=USE,
        at_least="1 L/h",
        at_most="1000 L/h",
    )
    stands = ask(
        "Longest it stands between two runs",
        "2 days",
        group=USE,
        open=True,
        at_least="0 days",
        at_most="366 days",
        basis=_PRACTICE,
        help="In the season, outside your lay-ups.",
    )
    ambient_temperature = but(boat.ambient_temperature, group=USE)
    spread = ask(
        "Your hours vary by",
        "30 %",
        group=USE,
        at_least="0 %",
        at_most="90 %",
        basis=_PRACTICE,
        help="More or less than planned, over months.",
    )
    months = but(boat.months, group=USE)
    passages = but(boat.passages, group=USE)
    lay_ups = but(boat.lay_ups, group=REST)
    flush_every = but(boat.flush_every, group=REST)
    preserve_after = but(boat.preserve_after, group=REST)
    preservative = but(boat.preservative, group=REST)
    preservative_limit = but(boat.preservative_limit, group=REST)
    tasks = boat.tasks
    own_hour = ask(
        "An hour of your own time", "0 ¤/h", group=MONEY, at_least="0 ¤/h", at_most="1000 ¤/h"
    )
    yard_hour = ask(
        "An hour of a mechanic or electrician",
        "65 ¤/h",
        group=MONEY,
        at_least="0 ¤/h",
        at_most="1000 ¤/h",
        basis="invented",
    )


def answer(q: Values, show: Report) -> None:
    if not q.tasks:
        raise Refusal("tasks", "there is no task in the list")
    made = upkeep.plan(q, q.tasks, () if show.brief else upkeep.lay_ups(q))
    _due_list(q, made, show)
    if show.brief:
        return
    _hours(q, made, show)
    _cost(q, made, show)
    _at_rest(made, show)
    _timeline(made, show)
    boat_name = (q.name or "").partition(",")[0].strip()
    show.download(
        "calendar",
        "watermaker.ics",
        "The next two years for your calendar",
        "text/calendar",
        upkeep.calendar_file(made, boat_name),
    )


# ---- what is due ----


def _due_list(q: Values, made: Plan, show: Report) -> None:
    """The due list, and the one figure that the verdict rests on: the days to the next task."""
    ordered = sorted(
        (job for job in made.jobs if job.next), key=lambda job: (_day(job), job.task.name)
    )
    late = [job for job in ordered if _day(job) < made.today]
    soon = _within(made, ordered, _SOON)
    season = _within(made, ordered, _SEASON)
    unlogged = bool(late) and not any(entry.entry == log.DONE for entry in q.log or ())
    if ordered:
        first = ordered[0]
        days = float((_day(first) - made.today).days)
        show.figure("days", "Days to the next task", days * 86400, "days", note=first.task.name)
    show.figure("late", "Tasks overdue", len(late), "")
    show.figure("soon", "Tasks due within 30 days", len(soon), "", note="overdue ones included")
    show.figure("season", "Tasks due within 90 days", len(season), "")
    if ordered:
        show.figure(
            "next",
            "Interval used up",
            _gone_by(first, made.today),
            "%",
            at_most=None if unlogged else 1.0,
            says=_verdict(first, made),
            note=first.task.name,
        )
    if unlogged:
        show.unknown(
            "no job stands in the log, so nobody can tell what is overdue: by the day it went into "
            "service alone, {late} would be",
            late=_count(len(late), "task"),
        )
        show.remedy(
            "Write into the log, for each task, the day on which it was last done. If the "
            "unit is new, put in the day it went into service."
        )
    _standing(q, made, show)
    if show.brief:
        return
    work = sum(job.task.duration for job in season)
    show.figure("work", "Work in them", work, _time_unit(work))
    at_rest = _at_rest_within(made, _SEASON)
    show.figure("rest", "Days of a lay-up within 90 days", len(at_rest), "")
    show.headline(
        ("As if nothing had been done since it went into service: " if unlogged else "")
        + "{late} overdue, {soon} due within 30 days, {season} within 90: {work} of work"
        + (", and {rest} of laying it up." if at_rest else "."),
        late=_count(len(late), "task"),
        soon=str(len(soon)),
        season=str(len(season)),
        work=(work, _time_unit(work)),
        rest=_count(len(at_rest), "day"),
    )
    due = [
        (_day(job), _row(job, made), UNKNOWN if unlogged else _nearness(_day(job), made))
        for job in season
    ] + [
        (day, [_REST[why], told(day), "", "the lay-up", "", "", "", "you"], _nearness(day, made))
        for day, why in at_rest
    ]
    due.sort(key=lambda one: one[0])
    heads = ("Task", "Due", "If your hours vary", "Why", "Hours left", "Takes", "Parts", "Who")
    show.table(
        "due",
        "Due within 90 days",
        heads,
        [row for _, row, _ in due],
        [s for *_, s in due],
        note="Each is due by its hours or by its months, whichever comes first."
        if due
        else "Nothing.",
        lead=True,
        on_card=(0, 1, 3, 4),
    )
    rest = [job for job in made.jobs if job not in season]
    rest.sort(key=lambda job: (job.next is None, _day(job), job.task.name))
    show.table(
        "later", "After that", heads, [_row(job, made) for job in rest], on_card=(0, 1, 3, 4)
    )
    _strangers(q, made, show)
    watched = [job for job in made.jobs if job.task.condition]
    if watched:
        show.table(
            "watch",
            "Sooner, when",
            ("Task", "When", "Last done"),
            [(job.task.name, job.task.condition, _last(job)) for job in watched],
        )


def _strangers(q: Values, made: Plan, show: Report) -> None:
    """Jobs in the log that no task of the list is called by: they change no date."""
    names = {job.task.name.lower(): job.task.name for job in made.jobs}
    strange = [entry.task for entry in q.log or () if entry.entry == log.DONE]
    found = list(dict.fromkeys(name for name in strange if name.lower() not in names))
    if found:
        told = ", ".join(f"“{name}”" for name in found[:3]) + (" and more" if found[3:] else "")
        show.note(
            "The log names jobs that are not in the list of tasks, so they change no date: "
            "{told}.{hint}",
            told=told,
            hint=nearest(found[0], list(names.values())),
        )


def _count(number: int, word: str) -> str:
    return f"1 {word}" if number == 1 else f"{number} {word}s"


def _gone_by(job: Job, today: date) -> float:
    """The share of the days from when it was last done to when it falls due."""
    return (today - job.last).days / max(1, (_day(job) - job.last).days)


def _day(job: Job) -> date:
    return job.next.day if job.next else date.max


def _within(made: Plan, jobs: list[Job], days: int) -> list[Job]:
    return [job for job in jobs if _day(job) <= made.today + timedelta(days=days)]


def _at_rest_within(made: Plan, days: int) -> list[tuple[date, str]]:
    """The days of lay-ups, and why each, from today on."""
    last = made.today + timedelta(days=days)
    return [
        (due.day, due.why)
        for one in made.lay_ups
        for due in one.days
        if made.today <= due.day <= last
    ]


def _nearness(day: date, made: Plan) -> str:
    if day < made.today:
        return FAILS
    return TIGHT if day <= made.today + timedelta(days=_SOON) else FITS


# ---- what keeps the membranes from one run to the next ----


def _standing(q: Values, made: Plan, show: Report) -> None:
    """How long it stands between two runs, against what flushing alone keeps."""
    idle = made.use.longest_idle(add_months(made.today, 12)) * DAY
    stands = max(q.stands, idle)
    show.figure(
        "stands",
        "Longest it stands between two runs",
        stands,
        "days",
        at_most=q.preserve_after,
        says=line(
            "it stands {stands} between two runs, and flushing alone keeps it {keeps}",
            stands=(stands, "days"),
            keeps=(q.preserve_after, "days"),
        ),
        note="days without use in the plan" if idle > q.stands else "",
    )
    if stands > q.preserve_after:
        keeps = most(q.preserve_after, "days")
        show.remedy(
            "Run it every {keeps} at the latest, or put the time that it stands into the "
            "list of lay-ups, where it is preserved.",
            # Days without use in the plan are no field: a lay-up or a passage has to change them.
            sets=None if idle > q.preserve_after else {"stands": keeps},
            mends="" if idle > q.preserve_after else "stands",
            keeps=keeps,
        )
    if show.brief:
        return
    lasts = maintenance.days_kept(q.flush_every, q.ambient_temperature)
    flushes = 1 + max(0, math.ceil(stands / (lasts * DAY) - 1e-6) - 1)
    show.figure("flushes", "Fresh-water flushes between two such runs", flushes, "")
    show.note(
        "Flush with fresh water after each run. At {warm} a flush keeps {lasts}: if the next run "
        "is later than that, flush again every {lasts}, with water that holds no chlorine.",
        warm=(q.ambient_temperature, "°C"),
        lasts=_count(lasts, "day"),
    )


def _verdict(job: Job, made: Plan) -> Any:
    days = (_day(job) - made.today).days
    when = (
        f"overdue by {_count(-days, 'day')}"
        if days < 0
        else "due today"
        if days == 0
        else f"the next, due in {_count(days, 'day')}"
    )
    return line("{task} is {when}, {why}", task=job.task.name, when=when, why=_why(job))


def _why(job: Job) -> str:
    return upkeep.why(job.next) if job.next else ""


def _row(job: Job, made: Plan) -> list[Any]:
    left = job.hours_left
    due = told(job.next.day) if job.next else ""
    if job.next and job.next.day < made.today:
        due = f"since {due}"
    return [
        job.task.name,
        due or ("later than " + told(made.end) if _has_interval(job) else "on condition"),
        upkeep.between(job, made),
        _why(job),
        "" if left is None else (left, "h"),
        (job.task.duration, _time_unit(job.task.duration)),
        upkeep.parts(job.task, made.unit),
        WHO[job.task.who],
    ]


def _time_unit(time: float) -> str:
    return "min" if time < 2 * HOUR else "h"


def _has_interval(job: Job) -> bool:
    return job.rule.hours is not None or job.rule.calendar is not None


def _last(job: Job) -> str:
    return "never" if job.never_done else told(job.last)


# ---- its hours ----


def _hours(q: Values, made: Plan, show: Report) -> None:
    show.step(
        "Usual running time a day",
        upkeep.daily_use(q),
        "h",
        *_daily_formula(q),
        "The boat sheet" if q.use_by == "hours" else "Water wanted over the unit's rate",
    )
    show.figure(
        "hours",
        "Running hours now",
        made.hours_now,
        "h",
        digits=4,
        note=f"read on {told(made.hours_read)}" if made.hours_read else "no reading in the log",
    )
    if made.hours_guessed > 0:
        show.note(
            "{h} of the running hours are the plan's guess for the days since the last reading.",
            h=(made.hours_guessed, "h"),
        )
    show.figure("hours_year", "Running hours in the next twelve months", _year(made), "h")
    pace = _pace(q, made)
    if pace is not None:
        show.note(
            "Your log says {seen} over the last twelve months; the plan says {planned} for the "
            "next.",
            seen=(pace, "h"),
            planned=(_year(made), "h"),
        )
    first = next((job for job in made.jobs if job.next and job.next.why == maintenance.HOURS), None)
    if first is not None and first.hours_left is not None and first.hours_left > 0:
        limit = first.hours_left + first.run_since
        show.step(
            f"Hours left: {first.task.name}",
            first.hours_left,
            "h",
            "left = interval - run",
            {"interval": (limit, "h"), "run": (first.run_since, "h")},
            "Hours since it was last done, by the log and the plan",
        )


def _daily_formula(q: Values) -> tuple[str, dict[str, tuple[float, str]]]:
    if q.use_by == "hours":
        return "t_day = h_day", {"h_day": (q.run_hours, "h")}
    return "t_day = 86400 * V_day / Q", {"V_day": (q.litres, "L/day"), "Q": (q.product_flow, "L/h")}


def _year(made: Plan) -> float:
    return made.use.until(add_months(made.today, 12))


def _pace(q: Values, made: Plan) -> float | None:
    """Running time of the last twelve months by the log, if it reaches back so far."""
    readings = log.meter(q.log or ())
    ago = add_months(made.today, -12)
    if len(readings) < 2 or readings[0].day > ago:
        return None
    return made.hours_now - log.hours_on(log.meter(q.log), ago) * HOUR


# ---- what it costs ----


@dataclass(frozen=True)
class _Cost:
    job: Job
    times: float  # a year
    parts: float  # money a year
    labour: float

    @property
    def total(self) -> float:
        return self.parts + self.labour


def _cost(q: Values, made: Plan, show: Report) -> None:
    year = _year(made)
    rests = sum(made.today <= row.start < add_months(made.today, 12) for row in q.lay_ups)
    costs = [_cost_of(q, job, year, rests) for job in made.jobs]
    costs.sort(key=lambda cost: (-cost.total, cost.job.task.name))
    total = sum(cost.total for cost in costs)
    show.figure("cost", "Upkeep a year", total, "¤", note="in the long run")
    if year > 0:
        show.figure("cost_hour", "Upkeep an hour", total / (year / HOUR), "¤")
        litres = year * q.product_flow * 1000
        show.figure("cost_litre", "Upkeep a litre", total / litres / 0.001, "¤/L")
        _cost_steps(q, costs[0], total, year, show)
    spent = [cost for cost in costs if cost.total > 0]
    if not spent:
        return
    show.table(
        "costs",
        "What it costs a year, by task",
        ("Task", "Times a year", "Parts", "Work", "Together"),
        [
            (c.job.task.name, (c.times, ""), (c.parts, "¤"), (c.labour, "¤"), (c.total, "¤"))
            for c in spent
        ],
    )
    show.bar_chart(
        Bars(
            "cost-bars",
            "Upkeep a year, by task",
            "¤",
            [(c.job.task.name, c.total) for c in spent[:12]],
            f"{spent[0].job.task.name} costs most.",
        )
    )


def _cost_of(q: Values, job: Job, year: float, rests: int) -> _Cost:
    task = job.task
    at_rests = float(rests) if task.before_lay_up or task.after_lay_up else 0.0
    times = maintenance.changes_a_year(year, task.hours, task.months, at_rests)
    rate = q.own_hour if task.who == "owner" else q.yard_hour
    return _Cost(job, times, times * upkeep.price(task, q.unit), times * task.duration * rate)


def _cost_steps(q: Values, most: _Cost, total: float, year: float, show: Report) -> None:
    task = most.job.task
    rate = q.own_hour if task.who == "owner" else q.yard_hour
    show.step(
        f"A year of the most expensive task: {task.name}",
        most.total,
        "¤",
        "c = n * (p + t * w)",
        {
            "n": (most.times, ""),
            "p": (upkeep.price(task, q.unit), "¤"),
            "t": (task.duration, "h"),
            "w": (rate, "¤/h"),
        },
        "Times a year: the more frequent of its hours, its months and its lay-ups",
    )
    show.step(
        "Cost a litre",
        total / (year * q.product_flow),
        "¤/L",
        "c_L = C / (T * Q)",
        {"C": (total, "¤"), "T": (year, "h"), "Q": (q.product_flow, "L/h")},
        "Cost of a year over the water of a year",
    )


# ---- at rest, and the picture ----


def _at_rest(made: Plan, show: Report) -> None:
    found = upkeep.at_rest_days(made)
    if found:
        show.table(
            "rest",
            "Laying it up and waking it",
            ("Day", "What", "Lay-up"),
            [(told(day), f"Membranes: {text}.", _lay_up(one)) for day, text, one in found],
        )
    for one in made.lay_ups:
        if not one.kept:
            show.note(
                "As things are, nothing keeps the membranes through the lay-up of {day}: “Laying "
                "it up” says what is missing.",
                day=told(one.rest.start),
            )


def _lay_up(one: LaidUp) -> str:
    rest = one.rest
    days = _count((rest.end - rest.start).days, "day")
    frost = ", may freeze" if rest.frost else ""
    return f"{told(rest.start)} to {told(rest.end)}, {days}{frost}"


def _timeline(made: Plan, show: Report) -> None:
    lanes = [
        Lane(
            job.task.name,
            [(made.day_of(due), _kind(due, made)) for due in job.dues],
            [(max(job.early, made.today), job.late or made.end)] if job.early and job.next else (),
        )
        for job in sorted(made.jobs, key=lambda job: (_day(job), job.task.name))
        if job.dues
    ]
    at_rest = [(day, "calm") for day, _, _ in upkeep.at_rest_days(made) if day <= made.end]
    if at_rest:
        lanes.append(Lane("Membranes at rest", at_rest))
    laid_up = [
        Stay("laid up", one.rest.start, one.rest.end)
        for one in made.lay_ups
        if one.rest.start <= made.end
    ]
    show.timeline(
        Timeline(
            "years",
            "The next two years: full marks by running hours, open ones by the calendar, "
            "crosses are overdue; a line shows the days between which it may fall.",
            made.today,
            made.end,
            lanes,
            laid_up,
            f"{sum(len(lane.days) for lane in lanes)} days on which something is due, as in the "
            "tables and in the calendar file.",
        )
    )


def _kind(due: maintenance.Due, made: Plan) -> str:
    if due.day < made.today:
        return "late"
    return "due" if due.why == maintenance.HOURS else "calm"
