"""The readings beside what is expected, the steps in their order, and what to know."""

from __future__ import annotations

from ...frame.report import FAILS, FITS, TIGHT, Amount, Line, Report, Words, amount, counted, line
from ...system.commissioning import PARTS, safe
from ...system.cooling import WINDING_SHARE
from ...system.first_day import FAR, IN, LOW_VOLTS, MAYBE, FirstDay, Reading, frame_rise
from ...system.running import stop
from . import look_at, words
from .asks import Asks
from .judge import LABELS, shown, span

_HEADS = ("No", "Do", "Why")
_COLUMNS = ("Reading", "Expected", "Read", "That is", "Look first at")
STATES = {IN: FITS, MAYBE: TIGHT, FAR: FAILS}
NOT_KNOWN = "as its page tells"
Slots = dict[str, Amount | Line | str]


def headline(q: Asks, found: FirstDay | None, show: Report) -> None:
    """What was read of what there is to read."""
    steps = sum(len(part(q.gear_aboard())) for part in PARTS.values())
    if found is None or not found.taken:
        show.headline(
            "{steps} from a unit that never ran to a card that is signed. Expected here: {product} "
            "at {conductivity}."
            if found is not None
            else "{steps} from a unit that never ran to a card that is signed.",
            steps=counted(steps, "{n} step", "{n} steps"),
            **(
                {}
                if found is None
                else {
                    "product": shown(found["product"], found["product"].expected),
                    "conductivity": shown(found["conductivity"], found["conductivity"].expected),
                }
            ),
        )
        return
    counts = [sum(one.state == state for one in found.taken) for state in (IN, MAYBE, FAR)]
    show.headline(
        "Of {n}: {good} in, {maybe} doubtful, {far} out.",
        n=counted(len(found.taken), "{n} reading", "{n} readings"),
        good=counts[0],
        maybe=counts[1],
        far=counts[2],
    )


def advice(q: Asks, one: Reading) -> str:
    """What to look at first; "" where it is in, or not read."""
    if one.state in ("", IN):
        return ""
    if one.off > 0:
        return look_at.HIGH[one.key]
    bare = {} if q.has_relief else look_at.LOW_WITHOUT_RELIEF
    return bare.get(one.key) or look_at.LOW[one.key]


def first(q: Asks, found: FirstDay | None, show: Report) -> None:
    """What to look at first, of what is farthest off."""
    for one in sorted(found.taken if found else (), key=lambda one: -abs(one.off)):
        if one.state != IN:
            show.remedy(
                "{what}: look first at {where}.", what=LABELS[one.key], where=advice(q, one)
            )


def readings(q: Asks, found: FirstDay | None, show: Report, signed: bool) -> None:
    """All of them, as they stand on the card; with a place to sign, unless the start is stopped:
    then those alone that were taken."""
    if found is None or not (signed or found.taken):
        return
    rows: list[tuple[Words | Amount, ...]] = []
    states = []
    for one in found.readings if signed else found.taken:
        told = "" if one.read is None else shown(one, one.read)
        rows.append((LABELS[one.key], span(one), told, one.state, advice(q, one)))
        states.append(STATES.get(one.state, ""))
    sound = "" if q.day_sound is None else amount(q.day_sound, "dB(A)")
    rows.append(("Loudness at the seat", "to compare with later", sound, "", ""))
    states.append("")
    if signed:
        rows.append(("Day, name, signature", "", "", "", ""))
        states.append("")
    show.table(
        "readings",
        "Readings",
        _COLUMNS,
        rows,
        states,
        lead=True,
        on_card=(0, 1, 2, 3),
        note="Expected: for the sea and the pressure that were read, else those of your boat's "
        "sheet; two standard deviations of meter and model either way. In the first hour the salt "
        "may still fall.",
    )


def slots(q: Asks, found: FirstDay | None) -> Slots:
    """This boat's numbers, by the places that the steps have for them."""
    making = q.there
    target = min(making.to_set or making.advised, making.highest)
    told: Slots = {
        "opens": amount(q.relief_opens, "bar") if q.relief_opens else "its setting",
        "quarter": amount(target / 4, "bar", 2),
        "half": amount(target / 2, "bar", 2),
        "set": amount(target, "bar", rounding="down"),
        "highest": amount(making.highest, "bar", rounding="down"),
        "rated": amount(q.product_flow, "L/h"),
        "warm": amount(making.sea.temperature, "°C"),
        "salt": amount(making.sea.salinity, "g/kg"),
        "stop": amount(float(len(stop(q.gear_aboard()))), ""),
        "kept": amount(LOW_VOLTS * q.ac_voltage, "V"),
    }
    places = {
        "rest": "rest_volts",
        "surge": "start_amperes",
        "frame": "frame",
        **{
            key: key
            for key in (
                "before", "behind", "product", "brine", "conductivity", "volts", "amperes",
            )
        },
    }  # fmt: skip
    known = {one.key: one for one in found.readings} if found else {}
    for place, key in places.items():
        one = known.get(key)
        if one is None:
            told[place] = NOT_KNOWN
        elif place == "surge":
            told[place] = shown(one, one.expected)
        elif place == "frame":
            told[place] = shown(one, one.high or one.expected)
        else:
            told[place] = span(one)
    return told


def steps(q: Asks, found: FirstDay | None, show: Report) -> None:
    """A table for each part of it."""
    said, gear, number = slots(q, found), q.gear_aboard(), 1
    for key, part in PARTS.items():
        rows: list[tuple[str, Line, Line]] = []
        for step in part(gear):
            do, why = words.KNOWN[key][step.key]
            rows.append((str(number), line(do, **said), line(why, **said)))
            number += 1
        show.table(f"do-{key}", words.TITLES[key], _HEADS, rows, steps=True, carried=False)


def safely(q: Asks, show: Report) -> None:
    """What is done before hands go to a unit that was at work."""
    steps = enumerate(safe(q.gear_aboard()), 1)
    rows = [(str(number), *words.SAFE[step.key]) for number, step in steps]
    show.table("safe", words.SAFELY, _HEADS, rows, steps=True, carried=False, folded=True)


def working(q: Asks, found: FirstDay | None, show: Report) -> None:
    """How far off the farthest reading is, and what the frame's rise is made of."""
    if q.water is not None:
        machine = q.machine()
        motor = q.water.load.motor
        show.step(
            "Motor's frame over the air beside it, settled",
            frame_rise(machine, q.water, q.rise),
            "K",
            "dT_f = dT_w * (1 - s) * P_l / P_r",
            {
                "dT_w": (q.rise, "K"),
                "s": (WINDING_SHARE, "%"),
                "P_l": (q.water.load.at_work.losses, "W"),
                "P_r": (motor.output / motor.efficiency - motor.output, "W"),
            },
            "common practice, no source",
            "s: the share of the winding's rise that lies between winding and frame; P_l: what the "
            "motor loses at this load; P_r: at its rated one.",
        )


def notes(q: Asks, found: FirstDay | None, show: Report) -> None:
    """What to know beside readings and steps."""
    show.note(
        "The order is common practice, no source. Your maker's manual comes first: where it asks "
        "for another order, keep to that."
    )
    show.note(
        "Open no electrical box for a reading. Volts and amperes are read on meters that stay "
        "fitted, or by somebody licensed."
    )
    if q.low_pressure_switch:
        show.note(
            "The low-pressure switch is tried once on that day too, without pressure and with two "
            "people, as the page “Step by step” has it."
        )
    if found is not None and not found.taken:
        show.note(
            "What you type stays on this device, as your boat's day one. Later readings, and the "
            "search for a fault, are held against it: a day one is worth more than any gauge."
        )
