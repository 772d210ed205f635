"""How the unit sits in its place, what holds it, its room, and who lifts it in."""

from __future__ import annotations

import math

from ..equipment import kinds
from ..equipment.choices import ATTITUDES, CORED_FLOORS, SHAFT
from ..frame.inputs import Inputs, ask, choice, is_one_of, rows, text, whole, yes_no
from ..system.fixing import BOLTS, CLASSES, TIMBER, Fixing
from ..system.layout import Access, Box, Door, Room, Thing
from ..system.place import Hands, Place, Sitting
from ..system.stand import Footing
from .floor import Floor
from .groups import FIXING, LIFT, PRACTICE, REACH, SITS
from .locker import Locker
from .mounts import Mounts
from .size import Size

WAYS = {"bolts": "through-bolts and backing plates", "screws": "wood screws", "lags": "lag screws"}
THREADS = {key: key for key in BOLTS}


class Obstacle(Inputs):
    """Something that stands in the locker."""

    what = text("What", "hose", optional=False)
    start = ask("From the motor's end of the locker", "0 mm", at_least="0 mm", at_most="10 m")
    length = ask("Length", "100 mm", above="0 mm", at_most="10 m")
    above = ask("Above the locker's floor", "0 mm", at_least="0 mm", at_most="10 m")
    height = ask("Height", "100 mm", above="0 mm", at_most="10 m")


class Bolted(Size, Mounts, Floor, Locker, part=True):
    """The unit on its mounts and floor, how it sits there, what holds it, and its room."""

    attitude = choice("It stands on or hangs from", ATTITUDES, group=SITS)
    wanted = ask(
        "The floor shall shake less by",
        "12 dB",
        group=SITS,
        at_least="0 dB",
        at_most="60 dB",
        basis=PRACTICE,
        help="12 dB is a quarter of the shaking, 20 dB a tenth.",
    )
    lies = choice("Its shaft lies", SHAFT, group=SITS)
    rest_heel = ask("Boat's list at rest", "1°", group=SITS, at_least="0°", at_most="45°")
    rest_trim = ask("Boat's trim at rest", "1°", group=SITS, at_least="0°", at_most="45°")
    runs_under_sail = yes_no("It runs under sail", "yes", group=SITS)
    sail_heel = ask(
        "Heel at which you still make water", "15°", group=SITS, at_least="0°", at_most="60°"
    )
    heel_limit = ask(
        "Tilt allowed across the shaft",
        "30°",
        from_record="unit.heel_limit",
        group=SITS,
        at_least="0°",
        at_most="90°",
    )
    trim_limit = ask(
        "Tilt allowed along the shaft",
        "15°",
        from_record="unit.trim_limit",
        group=SITS,
        at_least="0°",
        at_most="90°",
    )
    on_bulkhead = choice(
        "Its maker lets it hang on a bulkhead",
        {"yes": "yes", "no": "no", "unknown": "not said"},
        "unknown",
        from_record="unit.on_bulkhead",
        group=SITS,
    )

    fix_by = choice("Fastened by", WAYS, group=FIXING)
    bolt = choice("Bolt", THREADS, "M6", group=FIXING, when=is_one_of("fix_by", "bolts"))
    bolt_class = choice(
        "Bolt's class", CLASSES, "A4-70", group=FIXING, when=is_one_of("fix_by", "bolts")
    )
    washer = ask(
        "Backing plate or washer, across",
        "25 mm",
        group=FIXING,
        at_least="8 mm",
        at_most="300 mm",
        when=is_one_of("fix_by", "bolts"),
    )
    screw = ask(
        "Screw's diameter",
        "5 mm",
        group=FIXING,
        at_least="3 mm",
        at_most="16 mm",
        when=is_one_of("fix_by", "screws", "lags"),
    )
    wood = choice("Wood that it goes into", TIMBER, "okoume", group=FIXING)
    fasteners_each = whole("Fasteners at each foot", "1", group=FIXING, at_least=1, at_most=4)
    core_filled = yes_no(
        "Core made solid under the bolts",
        "yes",
        group=FIXING,
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    safety = ask(
        "Safety factor", "4 ×", group=FIXING, at_least="1 ×", at_most="20 ×", basis=PRACTICE
    )
    sea_loads = ask(
        "Sea loads, times",
        "1 ×",
        group=FIXING,
        at_least="0.2 ×",
        at_most="3 ×",
        basis=PRACTICE,
        help="1 is a cruising boat offshore, knocked down once. Less for sheltered water only.",
    )

    head_access = ask(
        "Space to pull the pump head",
        "220 mm",
        from_record="unit.head_access",
        group=REACH,
        at_least="0 mm",
        at_most="2 m",
    )
    box_access = ask(
        "Space before the electrical box",
        "120 mm",
        from_record="unit.box_access",
        group=REACH,
        at_least="0 mm",
        at_most="2 m",
    )
    gap = ask(
        "Air round it",
        "30 mm",
        group=REACH,
        at_least="0 mm",
        at_most="500 mm",
        basis=PRACTICE,
        help="So that it touches nothing when it moves.",
    )
    hands = ask(
        "Room for a hand on each side",
        "60 mm",
        group=REACH,
        at_least="0 mm",
        at_most="300 mm",
        basis=PRACTICE,
    )
    door_width = ask(
        "Opening that it goes in by, width",
        unit="mm",
        group=REACH,
        at_least="50 mm",
        at_most="3 m",
        optional=True,
        help="Of door, hatch or lid, clear. Left empty: no opening is held against it.",
    )
    door_height = ask(
        "Opening that it goes in by, height or length",
        unit="mm",
        group=REACH,
        at_least="50 mm",
        at_most="3 m",
        optional=True,
    )
    hose_bend = ask(
        "Bend radius of the stiffest hose",
        "130 mm",
        group=REACH,
        at_least="10 mm",
        at_most="1 m",
        basis="SAE J1754-1, 3/8 in hose",
    )
    obstacles = rows(
        "What stands in the way",
        Obstacle,
        group=REACH,
        one="thing",
        most=12,
        example=[
            {
                "what": "bilge hose",
                "start": "0 mm",
                "length": "900 mm",
                "above": "350 mm",
                "height": "45 mm",
            }
        ],
    )

    people = whole("People who lift it in", "2", group=LIFT, at_least=1, at_most=4)
    reach = ask(
        "Reach from ankles to hands",
        "400 mm",
        group=LIFT,
        at_least="100 mm",
        at_most="630 mm",
        help="Over a settee or before a bulkhead 500 mm and more; nobody lifts beyond 630 mm.",
    )
    hand_height = ask(
        "Hands above your feet", "300 mm", group=LIFT, at_least="0 mm", at_most="1.75 m"
    )

    def its_room(self) -> Room:
        """The locker inside, and what stands in it."""
        return Room(
            self.locker_length,
            self.locker_width,
            self.locker_height,
            tuple(
                [
                    Thing(o.what, Box(o.start, o.above, o.start + o.length, o.above + o.height))
                    for o in self.obstacles
                ]
            ),
            self.door(),
        )

    def door(self) -> Door | None:
        """The opening that it goes in by; None where nothing is said of it."""
        wide, high = self.door_width, self.door_height
        if wide is None and high is None:
            return None
        return Door(math.inf if wide is None else wide, math.inf if high is None else high)

    def its_place(self, unit: kinds.Unit, frequency: float) -> Place:
        """The place that the form describes, of a unit on mains of a frequency [Hz]."""
        footing = Footing(
            self.its_unit(unit, frequency),
            self.its_mounts(),
            self.its_floor(),
            self.attitude == "bulkhead",
            self.lies == "athwart",
            self.sea_loads,
        )
        sitting = Sitting(
            self.rest_heel,
            self.rest_trim,
            self.sail_heel if self.runs_under_sail else None,
            self.heel_limit,
            self.trim_limit,
            self.on_bulkhead,
        )
        held = Fixing(
            self.fix_by,
            self.bolt,
            self.bolt_class,
            self.washer,
            self.screw,
            self.wood,
            self.fasteners_each,
            self.core_filled,
            self.safety,
        )
        access = Access(self.head_access, self.box_access, self.gap, self.hands)
        hands = Hands(self.people, self.reach, self.hand_height)
        return Place(footing, sitting, held, self.its_room(), access, hands, self.wanted)
