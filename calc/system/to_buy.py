"""What is bought to put a unit in: hoses, clamps, bolts, cables and what they lead to.

Each amount remembers the fields that it rests on, so that what nobody said is told as still to be
measured. Sizes are those of the pages that judge them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from .cables import Side
from .feed_line import FeedLine, Spot
from .installing import Kit
from .laid import Layout
from .locker import Fan
from .place import Placed
from .running import NOTHING, PLAIN, THREE_WAY

BELOW, ABOVE = 2, 1
"""Clamps on a hose's end that the sea can reach, and on any other. Common practice, no source."""
LUGS_EACH_POLE = 2
CORES = 3  # line, neutral and earth of the cable to the motor


@dataclass(frozen=True)
class Much:
    """An amount, None where nobody can tell it, and the fields it rests on."""

    value: float | None
    unit: str
    rests: tuple[str, ...] = ()


@dataclass(frozen=True)
class Item:
    """A thing to buy: how much of it, its sizes, names that it goes by (a cable's size), and the
    fields that these hang on."""

    key: str
    amount: Much
    sizes: Mapping[str, Much] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    chosen: tuple[str, ...] = ()


@dataclass(frozen=True)
class Hoses:
    """Lengths [m] that no other page asks for, None where they are not said; the flush hose's with
    its bore [m]."""

    brine: float | None
    product: float | None
    relief: float | None
    flush: tuple[float, float]


@dataclass(frozen=True)
class Pressed:
    """The high-pressure hose: bore and length [m], what it has to bear at least [Pa]."""

    bore: float
    length: float
    bears: float


def pieces(count: float, *rests: str) -> Much:
    """So many of a thing."""
    return Much(float(count), "", rests)


# ---- the water's way ----


def wet(feed: FeedLine, spot: Spot) -> bool:
    """Whether the sea reaches a place as she heels and pitches."""
    return spot.height - spot.rise(feed.moves) < 0


def feed_ends(feed: FeedLine) -> tuple[int, int]:
    """Ends of hose between sea and pump that the sea can reach, and the others: two at each thing
    in the line but the first and the last, which have one."""
    first = feed.boost.spot if feed.boost else feed.inlet.spot
    before = feed.hose.branches + feed.hose.check + 1  # the strainer
    spots = [feed.intake, *[first] * (2 * before)]
    if feed.boost:
        spots += [first, first]  # into the boost pump, and out of it
    spots += [feed.inlet.spot] * (2 * feed.filters.count + 1)
    reached = sum(wet(feed, spot) for spot in spots[1:]) + 1  # the seacock lies in the sea
    return reached, len(spots) - reached


_FEED = ("feed_branches", "feed_check", "cartridges")
_HEIGHTS = ("pump_height", "water_heel")


def clamps(kit: Kit, feed: FeedLine) -> int:
    """Hose clamps for all lines below the pump's pressure."""
    reached, others = feed_ends(feed)
    gear = kit.gear
    dips, dry = (2, 0) if gear.dips else (0, 2)  # the brine's hose
    dry += 2  # the fresh water's
    dry += gear.relief  # the relief valve's outlet; the other end hangs free
    dry += 2 * (gear.inlet != NOTHING)  # the flush water's
    return BELOW * (reached + dips) + ABOVE * (others + dry)


def water(kit: Kit, feed: FeedLine, hoses: Hoses, pressed: Pressed) -> Iterator[Item]:
    """Hoses, and what stands in them."""
    gear = kit.gear
    if not kit.seacock:
        yield Item("seacock", pieces(1), {"bore": Much(feed.hose.bore, "mm", ("feed_bore",))})
    yield Item("plug", pieces(1))
    yield Item("strainer", pieces(1))
    yield Item(
        "feed_hose",
        Much(feed.hose.length, "m", ("feed_length",)),
        {"bore": Much(feed.hose.bore, "mm", ("feed_bore",))},
    )
    if feed.boost:
        hose = feed.boost.hose
        yield Item(
            "boost_pump",
            pieces(1),
            {
                "shut": Much(feed.boost.shut_off, "bar", ("boost_shut_off",)),
                "free": Much(feed.boost.free_flow, "L/min", ("boost_free_flow",)),
            },
        )
        yield Item(
            "boost_hose",
            Much(hose.length, "m", ("boost_length",)),
            {"bore": Much(hose.bore, "mm", ("boost_bore",))},
        )
    yield Item(
        "filters",
        pieces(feed.filters.count, "cartridges"),
        {"bears": Much(feed.filters.bears, "bar", ("filter_bears",))},
    )
    yield Item("feed_gauges", pieces(2))
    if feed.hose.check:
        yield Item("check_valve", pieces(1))
    if gear.inlet == THREE_WAY:
        yield Item("inlet_valve", pieces(1))
    elif gear.inlet != NOTHING:
        yield Item("flush_tap", pieces(1))
    if gear.inlet != NOTHING:
        length, bore = hoses.flush
        yield Item(
            "flush_hose",
            Much(length, "m", ("flush_length",)),
            {"bore": Much(bore, "mm", ("flush_bore",))},
        )
    yield Item("clamps", pieces(clamps(kit, feed), *_FEED, *_HEIGHTS))
    yield Item(
        "high_pressure_hose",
        Much(pressed.length, "m", ("hose_length",)),
        {"bore": Much(pressed.bore, "mm", ("hose_bore",)), "bears": Much(pressed.bears, "bar")},
    )
    if not gear.relief:
        yield Item("relief_valve", pieces(1))
    yield Item("relief_spare", pieces(1))
    yield Item("relief_hose", Much(hoses.relief, "m", ("relief_length",)))
    yield Item("brine_hose", Much(hoses.brine, "m", ("brine_length",)))
    yield Item("brine_outlet", pieces(1))
    if gear.dips and not gear.brine_valve:
        yield Item("vented_loop", pieces(1))
    if gear.brine_valve:
        yield Item("brine_valve", pieces(1))
    yield Item("product_hose", Much(hoses.product, "m", ("product_length",)))
    if gear.product == THREE_WAY or (gear.product == PLAIN and not gear.product_relief):
        yield Item("product_valve", pieces(1))


# ---- the place ----

_BOLT = ("fix_by", "bolt", "bolt_class")
_FLOOR = ("floor_thickness", "skin_thickness", "core_thickness")


def place(kit: Kit, made: Placed) -> Iterator[Item]:
    """What holds it."""
    footing, fixing = made.place.footing, made.place.fixing
    count = footing.mounts.count
    feet = ("mount_count", "fasteners_each")
    fasteners = count * fixing.each
    if not kit.hard:
        yield Item(
            "mounts",
            pieces(count, "mount_count"),
            {"carries": Much(max(made.stand.rest_loads) / 9.80665, "kg", ("unit_mass",))},
        )
    if kit.bolted:
        through = {"floor": Much(made.stand.ground.thickness, "mm", _FLOOR)}
        called = {"thread": fixing.bolt, "grade": fixing.bolt_class}
        yield Item("bolts", pieces(fasteners, *feet), through, called, _BOLT)
        yield Item("nuts", pieces(fasteners, *feet), names=called, chosen=_BOLT)
        yield Item(
            "plates", pieces(fasteners, *feet), {"across": Much(fixing.washer, "mm", ("washer",))}
        )
        if kit.cored:
            yield Item("core_filler", pieces(fasteners, *feet))
    else:
        yield Item(
            "screws", pieces(fasteners, *feet), {"across": Much(fixing.screw, "mm", ("screw",))}
        )
    if kit.hangs:
        yield Item("ledge", pieces(1))
    yield Item("oil", pieces(1))
    if not kit.drain:
        yield Item("oil_pump", pieces(1))


# ---- the wires ----


def wires(kit: Kit, layout: Layout | None) -> Iterator[Item]:
    """Cables, what guards them, and what switches them off. Nothing of a size that nobody knows."""
    if layout is not None and layout.bank is not None:
        yield from _bank(layout.bank)
    if layout is not None:
        yield from _motor(layout)
    if kit.gear.boost:
        yield Item("boost_cable", pieces(1))
    yield Item("switch", pieces(1))
    yield Item("residual", pieces(1))
    yield Item("padlock", pieces(1))


_BANK = ("dc_run", "bank_voltage", "bank_chemistry", "bank_capacity", "wiring_rules")
_BRANCH = ("ac_run", "wiring_rules")


def _bank(side: Side) -> Iterator[Item]:
    cable, run = side.cable, side.duty.run
    named = {"size": cable.size.name}
    yield Item("bank_cable", Much(2 * cable.parallel * run, "m", _BANK), names=named, chosen=_BANK)
    # the positive cable is cut once, for the fuse
    yield Item(
        "bank_lugs",
        pieces(3 * LUGS_EACH_POLE * cable.parallel, "dc_run"),
        names=named,
        chosen=_BANK,
    )
    yield Item(
        "bank_fuse",
        pieces(2),
        {"rating": Much(side.rating, "A", _BANK)},
        {"kind": side.device},
        _BANK,
    )


def _motor(layout: Layout) -> Iterator[Item]:
    side = layout.motor
    named = {"size": side.cable.size.name}
    yield Item("motor_cable", Much(side.duty.run, "m", ("ac_run",)), names=named, chosen=_BRANCH)
    yield Item("motor_lugs", pieces(2 * CORES), names=named, chosen=_BRANCH)
    yield Item("breaker", pieces(1), {"rating": Much(side.rating, "A", _BRANCH)})


# ---- its air ----


def air(kit: Kit, way: str, areas: tuple[float, float], fan: Fan) -> Iterator[Item]:
    """Openings and a fan, as the page on keeping it cool has them: areas [m2] of the low and the
    high opening, or of the only one."""
    if kit.aired:
        low, high = areas
        if way == "one":
            yield Item("opening", pieces(1), {"area": Much(high, "cm2", ("single_area",))})
        else:
            yield Item("low_opening", pieces(1), {"area": Much(low, "cm2", ("low_area",))})
            yield Item("high_opening", pieces(1), {"area": Much(high, "cm2", ("high_area",))})
    if kit.fan:
        yield Item(
            "fan",
            pieces(1),
            {
                "flow": Much(fan.free_flow, "m3/h", ("fan_flow",)),
                "volts": Much(fan.voltage, "V", ("fan_voltage",)),
            },
        )
        yield Item(
            "duct",
            Much(fan.duct.length, "m", ("duct_length",)),
            {"across": Much(fan.duct.diameter, "mm", ("duct_diameter",))},
        )
