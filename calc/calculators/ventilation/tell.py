"""The answer in words: its headline, where the heat goes, the course in time, and what to know."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...frame.report import Axis, Band, Chart, Line, Mark, Pair, Report, Series, counted, line
from ...physics import air, insulation_class, thermal_course
from ...physics.thermal_network import AIR, FRAME, WINDING
from ...system import cooling
from ...system import locker as system
from ...system.heated import MOST_EVENTS, Heated, Trip, whole_degree
from ...system.motor import Load
from .asks import Asks
from .judge import minutes
from .place import SIDES

# What the figures find that a caution hangs on.
HOT_FRAME = "the motor's frame burns skin"
LINING_ADVISED = "a lining is advised"

PLACES = {
    "cabin": "cabin",
    "engine": "engine space",
    "bilge": "bilge",
    "sea": "sea",
    "shade": "open air",
    "sun": "in the sun",
}
# 50 °C: above it no inverter gives its full power. Common practice, no source.
_HARD_ON_ELECTRONICS = 323.15
_LESS_POWER_FROM = 313.15
_BREAKERS_MADE_FOR = 313.15  # IEC 60898-1, 7.2
_BURNS_SKIN = 333.15  # K, 60 °C; common practice, no source


def ask_for_the_engine_space(show: Report) -> None:
    """What is missing to judge a unit in an engine space."""
    show.unknown(
        "engine-space",
        "the engine space is not known: its length, its width and its height are all needed",
    )
    show.headline(
        "Fill in the length, width and height of the engine space. How warm it gets depends on "
        "them."
    )


# ---- headline ----


def headline(case: Heated, show: Report) -> None:
    """What the run comes to, and what stops it."""
    reached: dict[str, Pair] = {
        "r": (case.duty.run, "h"),
        "a": (case.air, "°C"),
        "w": (case.winding, "°C"),
        "sa": (whole_degree(case.settled[AIR]), "°C"),
        "sw": (whole_degree(case.settled[WINDING]), "°C"),
    }
    runs, trip, guard = case.duty.runs, case.trip, case.bears.protector
    if trip is not None:
        free = counted(
            runs,
            "If nothing stopped it, a run of {r} would bring the air round the motor to {a} and "
            "its winding to {w}; left running, they would settle at {sa} and {sw}.",
            "If nothing stopped it, {n} runs of {r} would bring the air round the motor to {a} and "
            "its winding to {w}; left running, they would settle at {sa} and {sw}.",
            **reached,
        )
        show.headline("{stop} {free}", stop=_stop(case, trip), free=free)
    elif guard is not None and case.settled[WINDING] >= guard.trip:
        show.headlines.append(
            counted(
                runs,
                "In a run of {r} the air round the motor reaches {a} and its winding {w}; left "
                "running, they would come to {sa} and {sw}, but the protector opens before that.",
                "In {n} runs of {r} the air round the motor reaches {a} and its winding {w}; left "
                "running, they would come to {sa} and {sw}, but the protector opens before that.",
                **reached,
            )
        )
    else:
        show.headlines.append(
            counted(
                runs,
                "In a run of {r} the air round the motor reaches {a} and its winding {w}; left "
                "running, they settle at {sa} and {sw}.",
                "In {n} runs of {r} the air round the motor reaches {a} and its winding {w}; left "
                "running, they settle at {sa} and {sw}.",
                **reached,
            )
        )


def _stop(case: Heated, trip: Trip) -> Line:
    """When the protector opens, and what follows."""
    first, after = trip.run == 1, (minutes(trip.after), "min")
    if trip.closes is not None:
        return line(
            "The thermal protector stops the motor after {t} and lets it start again by itself {c} "
            "later."
            if first
            else "The thermal protector stops the motor after {t} of run {n} and lets it start "
            "again by itself {c} later.",
            t=after,
            n=trip.run,
            c=(minutes(trip.closes), "min"),
        )
    if case.bears.protector is not None and case.bears.protector.automatic:
        return line(
            "The thermal protector stops the motor after {t} and has not closed again by the end."
            if first
            else "The thermal protector stops the motor after {t} of run {n} and has not closed "
            "again by the end.",
            t=after,
            n=trip.run,
        )
    return line(
        "The thermal protector stops the motor after {t} and stays open until somebody closes it."
        if first
        else "The thermal protector stops the motor after {t} of run {n} and stays open until "
        "somebody closes it.",
        t=after,
        n=trip.run,
    )


# ---- table and charts ----


def heat_table(case: Heated, show: Report) -> None:
    """The ways out, the best first; what brings heat in comes last and says so."""
    ways: list[tuple[float, tuple[Line | str | Pair, ...]]] = []
    ways.append((case.flows.air, (line("air, from {t}", t=(case.room.supply, "°C")), "", "")))
    for face, wall, flow in zip(case.place.faces, case.room.walls, case.flows.faces, strict=True):
        behind = whole_degree(wall.behind) if face.behind == "sun" else wall.behind
        name = line(
            "{side}: {what}; {behind}, {t}",
            side=SIDES[face.side],
            what=face.material,
            behind=PLACES[face.behind],
            t=(behind, "°C"),
        )
        ways.append((flow, (name, (wall.area, "m2"), (wall.transmittance, "W/m2K"))))
    ways.sort(key=lambda way: -way[0])
    show.table(
        "where",
        "Where the heat goes, once settled",
        ("Way out", "Area", "U value", "Heat"),
        [
            (*told, (flow, "W") if flow >= 0 else line("{h} in", h=(-flow, "W")))
            for flow, told in ways
        ],
        note="Settled: in an endless run that nothing stops. Where it says in, heat comes in.",
    )


def charts(case: Heated, show: Report) -> None:
    """The runs and rests as if nothing stopped the motor, and with its protector at work."""
    peaks: dict[str, Pair] = {
        "a": (case.air, "°C"),
        "f": (case.frame, "°C"),
        "w": (case.winding, "°C"),
    }
    show.chart(
        _chart(
            case,
            "course",
            "Runs and rests, from cold, if nothing stopped it"
            if case.stopped
            else "Runs and rests, from cold",
            case.course,
            (WINDING, FRAME, AIR),
            line(
                "Temperatures of air, frame and winding through runs and rests. They peak at {a}, "
                "{f} and {w}, if nothing stopped it."
                if case.stopped
                else "Temperatures of air, frame and winding through runs and rests. They peak at "
                "{a}, {f} and {w}.",
                **peaks,
            ),
        )
    )
    if case.stopped:
        _protected(case, case.stopped, show)


def _protected(case: Heated, stopped: thermal_course.Course, show: Report) -> None:
    trips = sum(event.kind == "trip" for event in stopped.events)
    title: Line | str = "The same with its protector at work"
    summary: Line = counted(
        trips,
        "Temperatures of air and winding through runs and rests. The protector opens once.",
        "Temperatures of air and winding through runs and rests. The protector opens {n} times.",
    )
    if len(stopped.events) >= MOST_EVENTS:
        title = line("The same with its protector at work, until it has opened {n} times", n=trips)
        summary = line(
            "Temperatures of air and winding through runs and rests. The protector opens {n} times "
            "in the time drawn, and goes on so.",
            n=trips,
        )
    show.chart(_chart(case, "protected", title, stopped, (WINDING, AIR), summary))


_CURVES = {WINDING: "winding", FRAME: "frame", AIR: "air"}


def _chart(
    case: Heated,
    key: str,
    title: Line | str,
    course: thermal_course.Course,
    nodes: Sequence[int],
    summary: Line | str,
) -> Chart:
    """Temperatures over the runs and rests."""
    duty = case.duty
    end = min(duty.cycle * duty.runs, course.end)
    # The solver's own steps lie close where something happens fast; long ones are divided.
    picked = [end]
    for one in course.segments:
        parts = math.ceil(one.length / (end / 24))
        picked += [one.begin + one.length * part / parts for part in range(parts)]
    picked.sort()
    states = [course.at(time, nodes) for time in picked]
    curves = [
        Series(_CURVES[node], list(zip(picked, temperatures, strict=True)))
        for node, temperatures in zip(nodes, zip(*states, strict=True), strict=True)
    ]
    bands = [
        Band("run" if duty.runs < 4 else "", duty.cycle * i, min(duty.cycle * i + duty.run, end))
        for i in range(duty.runs)
        if duty.cycle * i < end
    ]
    limits, guard = [Mark("most for the air", case.limits.air)], case.bears.protector
    if guard is None or case.limits.winding < guard.trip:
        limits.append(Mark("most for the winding", case.limits.winding))
    if guard is not None:
        limits.append(Mark("protector opens", guard.trip))
    highest = max([course.peak(WINDING), *(mark.at for mark in limits)])
    lowest = min(min(state) for state in states)
    return Chart(
        key,
        title,
        Axis("Time", "h" if end > 3 * 3600 else "min", low=0.0, high=end),
        Axis("Temperature", "°C", low=lowest - 15, high=highest + 25),
        curves,
        limits=limits,
        bands=bands,
        summary=summary,
    )


# ---- notes ----


def notes(q: Asks, load: Load, case: Heated, show: Report) -> None:
    """What an owner should know beside the figures."""
    _motor_notes(load, case, show)
    if case.place.way == "open":
        show.note(
            "The cabin's air is taken to stay at {t}. The unit gives it {h}, and a shut cabin gets "
            "warmer: measure the air beside the motor at the end of a run, and type that.",
            t=(case.place.weather.beside, "°C"),
            h=(case.heat, "W"),
        )
    else:
        _settling_note(case, show)
    after = whole_degree(case.course.peak(AIR))
    if case.place.way == "fan" and after > case.air + 2:
        show.note(
            "After the run, with the fan stopped, the motor's stored heat takes the air to {t}: "
            "let the fan run on.",
            t=(after, "°C"),
        )
    _protector_note(case, show)
    _engine_notes(q, case, show)
    _hot_wall_note(case, show)
    _electronics_note(q, case, show)
    _life_note(case, show)
    _dew_note(case, show)
    if case.place.way == "fan":
        fan = case.place.fan
        show.note("The fan itself draws {i} at {u}.", i=(fan.current, "A"), u=(fan.voltage, "V"))
    show.note(
        "The temperatures depend on five values that nobody publishes: the share of the pump's "
        "losses that the seawater takes, the share of the boost pump's power that the air takes, "
        "the copper in the motor (15 % of its mass), the share of the rise inside it (30 %), and "
        "the losses of hoses and grilles. They are common practice, no source. Measure the frame "
        "with a thermometer after an hour: that tells you more."
    )
    if case.frame > _BURNS_SKIN:
        show.fact(HOT_FRAME)


def _protector_note(case: Heated, show: Report) -> None:
    guard, latest = case.bears.protector, case.bears.opens_too_late
    if guard is None:
        show.note(
            "You gave no thermal protector: then nothing stops this motor when it gets too hot. An "
            "overload relay measures its current, and does not feel a hot locker. Have a protector "
            "fitted by somebody licensed, or stay near while it runs."
        )
    elif latest is not None:
        show.note(
            "A protector that opens at {p} opens too late for this insulation class: a built-in "
            "one may let the winding of a running motor reach {l} at most (NEMA MG 1 12.57, from "
            "memory). Look whether it is this motor's.",
            p=(guard.trip, "°C"),
            l=(latest, "°C"),
        )


def _motor_notes(load: Load, case: Heated, show: Report) -> None:
    if load.shaft_power > load.motor.output * 1.0001:
        show.note(
            "The pump asks {p} of a motor rated for {r}: that alone makes it hotter than its "
            "maker meant.",
            p=(load.shaft_power, "W"),
            r=(load.motor.output, "W"),
        )
    share = cooling.recirculated_share(case.room.fill)
    if share > 0:
        show.note(
            "The unit fills {f} of its room, so its fan draws in again about {s} of its own warm "
            "air: common practice, no source. More room does more than more air.",
            f=(case.room.fill, "%"),
            s=(share, "%"),
        )


def _settling_note(case: Heated, show: Report) -> None:
    show.note(
        "The working and the table of heats tell of the settled state, and what would keep it cool "
        "for as long as you like is for that state too."
    )
    end, start = case.settled[AIR], case.course.segments[0].first[AIR]
    if end - start < 1:
        return
    after = case.course.first_reach(AIR, start + 0.9 * (end - start))
    if math.isfinite(after):
        show.note(
            "The air is nine tenths of the way to its settled {t} after {a}.",
            t=(whole_degree(end), "°C"),
            a=(minutes(after), "min"),
        )


def _engine_notes(q: Asks, case: Heated, show: Report) -> None:
    place = case.place
    if place.way == "engine" and q.engine_contents is None:
        show.note(
            "{c} of the engine space are taken to be filled by the engine and what else stands "
            "there, half of it: common practice, no source. Type what it is.",
            c=(place.contents, "L"),
        )
    if place.way not in ("open", "engine") and place.supply_from == "engine":
        show.note(
            "Air from the engine space brings its fumes along, and openings to it are a way for "
            "exhaust and smoke into the cabin: take the air from elsewhere if you can."
        )


def _hot_wall_note(case: Heated, show: Report) -> None:
    hottest = max((wall.behind for wall in case.room.walls), default=0.0)
    if hottest > case.settled[AIR]:
        show.note(
            "One face has {t} behind it and heats the locker: a larger locker would not help; "
            "insulation on that face does.",
            t=(whole_degree(hottest), "°C"),
        )
        show.fact(LINING_ADVISED)


def _electronics_note(q: Asks, case: Heated, show: Report) -> None:
    """What else stands in the warm air. Breakers: IEC 60898-1, 7.2; the rest is common practice."""
    warmest = whole_degree(max(case.course.peak(AIR), case.room.supply))
    if warmest > _HARD_ON_ELECTRONICS:
        show.note(
            "Air of {t} is too warm for what else you put in there: inverters, chargers and "
            "controls give less above some {a} to {b} and switch off when warmer (common practice, "
            "no source; the maker's derating curve counts), and breakers are made for air of {c} "
            "at most (IEC 60898-1, 7.2). Put them elsewhere."
            if q.other_heat
            else "Air of {t} is too warm for electronics beside the motor: inverters, chargers and "
            "controls give less above some {a} to {b} and switch off when warmer (common practice, "
            "no source; the maker's derating curve counts), and breakers are made for air of {c} "
            "at most (IEC 60898-1, 7.2). Put them elsewhere.",
            t=(warmest, "°C"),
            a=(_LESS_POWER_FROM, "°C"),
            b=(_HARD_ON_ELECTRONICS, "°C"),
            c=(_BREAKERS_MADE_FOR, "°C"),
        )


def _life_note(case: Heated, show: Report) -> None:
    limit = case.bears.winding
    if abs(case.winding - limit) > insulation_class.LIFE_RULE_SPAN:
        return
    show.note(
        "If nothing stopped it, with its winding at {w} the insulation would last about {x} as "
        "long as at its class's {l}: by the rule that life halves with each {h}, good for a "
        "comparison within {s}, and no promise of hours."
        if case.stopped
        else "With its winding at {w} the insulation would last about {x} as long as at its "
        "class's {l}: by the rule that life halves with each {h}, good for a comparison within "
        "{s}, and no promise of hours.",
        x=(float(f"{insulation_class.relative_life(case.winding, limit):.2g}"), "×"),
        l=(limit, "°C"),
        w=(case.winding, "°C"),
        h=(insulation_class.HALVING_STEP, "K"),
        s=(insulation_class.LIFE_RULE_SPAN, "K"),
    )


def _dew_note(case: Heated, show: Report) -> None:
    """The face that sweats most while the unit rests."""
    found = system.coldest_face(case.place, case.room)
    if found is None:
        return
    side, coldest = found
    dew = air.dew_point(case.room.supply, case.place.weather.humidity)
    if whole_degree(coldest) < whole_degree(dew):
        show.note(
            "While it rests, the {side} stands at {t}, below the air's dew point of {d}: it "
            "sweats. Line it, or keep that moist air out.",
            side=SIDES[side],
            t=(whole_degree(coldest), "°C"),
            d=(whole_degree(dew), "°C"),
        )
        show.fact(LINING_ADVISED)
