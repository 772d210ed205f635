"""What the pages on its parts find of this boat, and what is bought of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ...sheet.standing import worded
from ...system import installing, motor, to_buy
from ...system.feed_line import FeedLine
from ...system.installing import Kit
from ...system.laid import Layout
from ...system.place import Placed, placed
from ...system.pressure_side import PressureSide
from ...system.running import Step
from ...system.to_buy import Item, Much, Pressed
from ...system.wired import Wired
from .. import _motor
from .._laid import laid_out
from .asks import Asks


@dataclass(frozen=True)
class Found:
    """The boat as Mount, Wiring, Feed and Pressure work it out, and what is bought.

    `layout` is None where nobody can tell what the motor draws; `sound`: whether nothing stands
    against the motor running so.
    """

    kit: Kit
    made: Placed
    wired: Wired
    layout: Layout | None
    sound: bool
    line: FeedLine
    side: PressureSide
    bought: dict[str, tuple[Item, ...]]
    unsaid: frozenset[str]

    @cached_property
    def parts(self) -> dict[str, tuple[Step, ...]]:
        """The steps by their part of the work."""
        return {key: part(self.kit) for key, part in installing.PARTS.items()}

    @property
    def items(self) -> list[Item]:
        """All that is bought."""
        return [item for some in self.bought.values() for item in some]

    def known(self, much: Much) -> bool:
        """Whether an amount is hers: she said it, or nothing is left to be said of it."""
        return much.value is not None and self.unsaid.isdisjoint(much.rests)

    def open(self, item: Item) -> bool:
        """Whether an amount, a size or a name of it is still to be measured or chosen."""
        return not self.chosen(item) or not all(
            self.known(much) for much in (item.amount, *item.sizes.values())
        )

    def chosen(self, item: Item) -> bool:
        """Whether what its names hang on is said."""
        return not item.names or self.unsaid.isdisjoint(item.chosen)

    def item(self, key: str) -> Item | None:
        """The thing of a key, if it is bought."""
        return next((item for item in self.items if item.key == key), None)

    def sum(self, unit: str, *keys: str) -> float | None:
        """The amounts of some items together, None where one of them is still to be measured."""
        some = [item for item in self.items if item.key in keys and item.amount.unit == unit]
        if not some or not all(self.known(item.amount) for item in some):
            return None
        return sum(item.amount.value or 0.0 for item in some)


def found(q: Asks) -> Found:
    """All of it. Refuses what each of those pages refuses."""
    kit, line, side = q.kit(), q.line(), q.side()
    with worded():
        made = placed(q.its_place(q.unit, q.ac_frequency))
    wired = q.wired()
    water = motor.water(wired.machine)
    layout = None if water is None or water.overfluxed else laid_out(wired, water)
    sound = _motor.sound(_motor.judge(wired.machine, water))
    bears = side.pressure if side.relief is None else max(side.relief.opens, side.highest_working)
    areas, fan = q.aired_by()
    bought = {
        "water": to_buy.water(kit, line, q.hoses(), Pressed(q.hose_bore, q.hose_length, bears)),
        "place": to_buy.place(kit, made),
        "air": to_buy.air(kit, q.air_way, areas, fan),
        "wires": to_buy.wires(kit, layout),
    }
    return Found(
        kit,
        made,
        wired,
        layout,
        sound,
        line,
        side,
        {key: tuple(items) for key, items in bought.items()},
        q.unsaid,
    )
