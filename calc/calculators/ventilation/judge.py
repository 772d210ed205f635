"""The results held against their limits."""

from __future__ import annotations

import math

from ...frame.report import Line, Report, line
from ...system.heated import Heated, Trip

HEAT_GIVEN = {
    "open": "Heat given to the cabin, once settled",
    "engine": "Heat given to the engine space, once settled",
    "locker": "Heat given to the locker, once settled",
}
AIR_THROUGH = {
    "engine": "Air through the engine space, once settled",
    "locker": "Air through the locker, once settled",
}


def kind(case: Heated) -> str:
    """What it stands in: "open", "engine" or "locker"."""
    return case.place.way if case.place.way in ("open", "engine") else "locker"


def minutes(time: float) -> float:
    """A time [s] to the whole minute below; to a tenth of one where it is short."""
    told = time / 60
    return 60 * (math.floor(told) if told >= 10 else math.floor(told * 10) / 10)


def judge(case: Heated, show: Report) -> None:
    """The figures that decide, and those that are only told."""
    trip = case.trip
    if trip:
        stopped = _stopped(case, trip)
        show.figure(
            "trip",
            "Runs before its protector opens",
            minutes(trip.after),
            "min",
            at_least=case.duty.run,
            says=stopped,
            note="" if trip.run == 1 else line("in run {n}", n=trip.run),
        )
        _temperatures(case, show, winding=stopped, air=stopped)
    else:
        _temperatures(case, show, winding=_winding(case), air=_air(case))
    if case.place.way == "engine":
        _suction(case, show)
    show.figure(
        "frame",
        "Motor's frame, if nothing stopped it" if trip else "Motor's frame at its hottest",
        case.frame,
        "°C",
    )
    show.figure("heat", HEAT_GIVEN[kind(case)], case.heat, "W")
    if case.place.way != "open":
        show.figure("flow", AIR_THROUGH[kind(case)], case.flow, "m3/h")


def _temperatures(case: Heated, show: Report, winding: Line, air: Line) -> None:
    held = case.held
    show.held(
        "winding",
        "Winding, if nothing stopped it" if case.trip else "Winding at its hottest",
        held["winding"],
        "°C",
        says=winding,
    )
    show.held(
        "air",
        "Air round the motor, if nothing stopped it"
        if case.trip
        else "Air round the motor while it runs",
        held["air"],
        "°C",
        says=air,
    )


def _suction(case: Heated, show: Report) -> None:
    sucked = case.held["suction"]
    show.held(
        "suction",
        "Suction that the engine makes",
        sucked,
        "Pa",
        says=line(
            "the engine sucks {s} through these openings, and {l} is the most",
            s=(sucked.value, "Pa"),
            l=(sucked.limit, "Pa"),
        ),
    )


def _stopped(case: Heated, trip: Trip) -> Line:
    return line(
        "the thermal protector stops the motor after {t} of a run of {r}"
        if trip.run == 1
        else "the thermal protector stops the motor after {t} of run {n}, planned for {r}",
        t=(minutes(trip.after), "min"),
        r=(case.duty.run, "h"),
        n=trip.run,
    )


def _winding(case: Heated) -> Line:
    guard = case.bears.protector
    return line(
        "the motor's winding reaches {w}, and the protector lets it reach {l} at most"
        if guard is not None and case.limits.winding == guard.trip
        else "the motor's winding reaches {w}, and its class lets it reach {l} at most",
        w=(case.winding, "°C"),
        l=(case.limits.winding, "°C"),
    )


def _air(case: Heated) -> Line:
    return line(
        "the air round the motor reaches {a}, and at this load the motor bears {l} at most",
        a=(case.air, "°C"),
        l=(case.limits.air, "°C"),
    )
