"""The list to buy by, the steps in their order, and what to know beside them."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from ...frame import units
from ...frame.report import Amount, Line, Report, amount, counted, line
from ...physics import lifting
from ...system import fixing
from ...system.installing import DRY
from ...system.to_buy import BELOW, Item, Much, feed_ends
from .._wires import FUSES, device_head
from . import goods, words
from .asks import Asks
from .found import Found

UNKNOWN, CHOOSE, ITS_MAKER = "to be measured", "to be chosen", "its maker allows"
_HEADS = ("No", "Do", "Why")
_LIST = ("Thing", "How much")
Slots = dict[str, Amount | Line | str]


def headline(found: Found, show: Report) -> None:
    """How much of it there is."""
    show.headline(
        "{things}, and {steps} in their order, from the empty place to a trial with fresh water.",
        things=counted(len(found.items), "{n} kind of thing to buy", "{n} kinds of things to buy"),
        steps=counted(sum(map(len, found.parts.values())), "{n} step", "{n} steps"),
    )


# ---- the list ----


def much(found: Found, one: Much) -> Amount | str:
    """An amount, or that it is still to be measured."""
    if not found.known(one) or one.value is None:
        return UNKNOWN
    return amount(one.value, one.unit)


def thing(found: Found, item: Item) -> Line:
    """What it is called, with its sizes."""
    slots: Slots = {key: much(found, one) for key, one in item.sizes.items()}
    if not found.chosen(item):
        slots |= dict.fromkeys(item.names, CHOOSE)
        return line(goods.THINGS[item.key], **slots)
    slots |= item.names
    if "kind" in item.names:
        slots["kind"] = FUSES[item.names["kind"]]
    if item.key == "breaker" and found.layout is not None:
        slots["device"] = device_head(found.wired, found.layout.motor)
    return line(goods.THINGS[item.key], **slots)


def lists(q: Asks, found: Found, show: Report) -> None:
    """What to buy, part by part, and all of it as a file."""
    for key, items in found.bought.items():
        if not items:
            continue
        show.table(
            f"buy-{key}",
            goods.TITLES[key],
            _LIST,
            [(thing(found, item), much(found, item.amount)) for item in items],
            whole=True,
        )
    show.download(
        "list", "things-to-buy.csv", "The list, as CSV", "text/csv", lambda: as_csv(found)
    )


def as_csv(found: Found) -> str:
    """A line for each thing: part, name, how much and its unit; empty where nobody measured."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("part", "thing", "amount", "unit"))
    for key, items in found.bought.items():
        for item in items:
            one = item.amount
            known = found.known(one) and one.value is not None
            told = units.rounded(units.from_si(one.value or 0.0, one.unit), 4) if known else ""
            writer.writerow((key, thing(found, item).text(), told, one.unit or "pieces"))
    return out.getvalue()


# ---- the steps ----


def slots(q: Asks, found: Found) -> Slots:
    """This boat's numbers, by the places that the steps have for them."""
    made = found.made
    place, mains = made.place, found.wired.mains
    long, deep, high = made.room_wanted
    people = place.hands.people
    told: Slots = {
        "long": amount(long, "mm"),
        "deep": amount(deep, "mm"),
        "high": amount(high, "mm"),
        "across": amount(place.sitting.heel_limit, "°"),
        "along": amount(place.sitting.trim_limit, "°"),
        "head": amount(place.access.head, "mm"),
        "box": amount(place.access.box, "mm"),
        "two": amount(BELOW, ""),
        "people": amount(people, ""),
        "each": amount(made.unit.mass / people, "kg"),
        "lift": amount(found.line.boost.lift, "m") if found.line.boost else UNKNOWN,
        "bend": ITS_MAKER if "hose_bend" in q.unsaid else amount(q.hose_bend, "mm"),
        "volts": amount(mains.voltage, "V"),
        "hertz": amount(mains.frequency, "Hz"),
        "water": amount(q.moves * q.test_time, "L"),
        "time": amount(q.test_time, "min"),
    }
    return told | _bought(found)


_SIZES = {
    "bore": ("feed_hose", "bore"),
    "bears": ("high_pressure_hose", "bears"),
    "plate": ("plates", "across"),
    "screw": ("screws", "across"),
    "load": ("mounts", "carries"),
    "breaker": ("breaker", "rating"),
    "fuse": ("bank_fuse", "rating"),
}
_AMOUNTS = {"feed": ("feed_hose",), "mounts": ("mounts",), "n": ("bolts", "screws")}
_NAMES = {
    "thread": ("bolts", "thread"),
    "grade": ("bolts", "grade"),
    "size": ("motor_cable", "size"),
    "bank": ("bank_cable", "size"),
}


def _bought(found: Found) -> Slots:
    """What the list has of them, just as it stands there."""
    told: Slots = {}
    for slot, (key, size) in _SIZES.items():
        item = found.item(key)
        told[slot] = UNKNOWN if item is None else much(found, item.sizes[size])
    for slot, keys in _AMOUNTS.items():
        some = [item for key in keys if (item := found.item(key))]
        told[slot] = much(found, some[0].amount) if some else UNKNOWN
    for slot, (key, name) in _NAMES.items():
        item = found.item(key)
        told[slot] = item.names[name] if item and found.chosen(item) else CHOOSE
    bolts = found.item("bolts")
    known = bolts is not None and found.chosen(bolts)
    told["hole"] = amount(fixing.hole(found.made.place.fixing.bolt), "mm") if known else UNKNOWN
    return told


def steps(q: Asks, found: Found, show: Report) -> None:
    """A table for each part of the work."""
    said = slots(q, found)
    first = 1
    for key, part in found.parts.items():
        known = words.KNOWN[key]
        told = [known[step.key] for step in part]
        rows: Sequence[tuple[str, Line, Line]] = [
            (str(number), line(do, **said), line(why, **said))
            for number, (do, why) in enumerate(told, first)
        ]
        show.table(f"do-{key}", words.TITLES[key], _HEADS, rows, steps=True, carried=False)
        first += len(part)


# ---- how its numbers are made ----


def working(q: Asks, found: Found, show: Report) -> None:
    """Clamps, the water of the trial, what each lifts."""
    reached, others = feed_ends(found.line)
    show.step(
        "Clamps of the feed line",
        float(2 * reached + others),
        "",
        "n_c = 2 * n_w + n_d",
        {"n_w": (float(reached), ""), "n_d": (float(others), "")},
        "common practice, no source",
        "n_w: ends of hose that the sea can reach as she heels and pitches; n_d: the others.",
    )
    show.step(
        "Water for the trial",
        q.moves * q.test_time,
        "L",
        "V = Q * t",
        {"Q": (q.moves, "L/min"), "t": (q.test_time, "min")},
        "definition of flow",
        "Led back into the can, brine and all, it takes less.",
    )
    hands = found.made.place.hands
    show.figure(
        "lift",
        "Each of those who lift it in has",
        found.made.unit.mass / hands.people,
        "kg",
        at_most=lifting.lifting_limit(hands.reach, hands.height),
        decides=False,
    )


def notes(q: Asks, found: Found, show: Report) -> None:
    """What to know beside the list and the steps."""
    show.note(
        "The order is common practice, no source. Your maker's manual comes first, and the code "
        "that applies to your boat: where they ask for another order, keep to that."
    )
    show.note(
        "A relief valve that has opened, drips or is past its date is replaced by a spare of the "
        "same setting, sealed. The unit stays off until it is. Never a plug in its place: that is "
        "how tubes burst and people are hurt."
    )
    if found.kit.aired or q.stands == "locker":
        show.note(
            "Whether openings and fan are enough is judged on the page “Keeping it cool”; here "
            "stand those of your boat's sheet."
        )
    if found.kit.gear.dips:
        show.note(
            "The brine's outlet can dip under water. Above the waterline, and out of reach of a "
            "wave as she heels, it wants neither valve nor loop."
        )
    show.note(
        "Which way it turns is agreed by looking at the end of the shaft that drives (IEC 60034-8, "
        "from memory). The arrow on pump and motor goes before that."
    )
    if q.wet != DRY:
        show.note(
            "An IP code is proved on a new motor, at rest. Gaskets age, and a cable gland left "
            "loose ends it."
        )
