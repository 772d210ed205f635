"""The floor under the mounts."""

from __future__ import annotations

from ..equipment.choices import BEARERS, CORED_FLOORS, FLOOR_EDGES, SOLID_FLOORS
from ..frame.inputs import Inputs, When, ask, choice, is_one_of, whole
from ..system import floor
from .groups import FLOOR


class Floor(Inputs, part=True):
    """The floor under the mounts."""

    floor_form = choice(
        "It stands on", {"panel": "a panel", "bearers": "two bearers"}, "panel", group=FLOOR
    )
    floor_material = choice(
        "Panel",
        SOLID_FLOORS | CORED_FLOORS,
        "plywood",
        group=FLOOR,
        open=True,
        when=is_one_of("floor_form", "panel"),
    )
    floor_thickness = ask(
        "Panel's thickness",
        "18 mm",
        group=FLOOR,
        open=True,
        at_least="0.5 mm",
        at_most="500 mm",
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )
    skin_thickness = ask(
        "Each skin's thickness",
        "2.5 mm",
        group=FLOOR,
        open=True,
        at_least="0.2 mm",
        at_most="50 mm",
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    core_thickness = ask(
        "Core's thickness",
        "20 mm",
        group=FLOOR,
        open=True,
        at_least="2 mm",
        at_most="200 mm",
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    floor_length = ask(
        "Its free length, along the shaft",
        "600 mm",
        group=FLOOR,
        open=True,
        at_least="20 mm",
        at_most="5 m",
        help="Between what holds it: frames, bearers, bulkheads.",
    )
    floor_width = ask(
        "Its free width",
        "400 mm",
        group=FLOOR,
        open=True,
        at_least="20 mm",
        at_most="5 m",
        when=is_one_of("floor_form", "panel"),
    )
    floor_edges = choice(
        "Its edges", FLOOR_EDGES, "supported", group=FLOOR, when=is_one_of("floor_form", "panel")
    )
    doubler = ask(
        "Plywood doubler bonded to it",
        "0 mm",
        group=FLOOR,
        at_least="0 mm",
        at_most="200 mm",
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )
    battens = whole(
        "Battens glued under it, lengthwise",
        "0",
        group=FLOOR,
        at_least=0,
        at_most=10,
        when=is_one_of("floor_form", "panel"),
    )
    batten_width = ask(
        "Batten's width",
        "30 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="300 mm",
        when=When("battens", tuple(range(1, 11))),
    )
    batten_depth = ask(
        "Batten's depth",
        "40 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="300 mm",
        when=When("battens", tuple(range(1, 11))),
    )
    bearer_material = choice(
        "Bearers", BEARERS, "hardwood", group=FLOOR, when=is_one_of("floor_form", "bearers")
    )
    bearer_width = ask(
        "Bearer's width",
        "45 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="500 mm",
        when=is_one_of("floor_form", "bearers"),
    )
    bearer_depth = ask(
        "Bearer's depth",
        "60 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="500 mm",
        when=is_one_of("floor_form", "bearers"),
    )
    floor_plate = ask(
        "Metal plate bolted to the floor under the mounts",
        "0 kg",
        group=FLOOR,
        at_least="0 kg",
        at_most="100 kg",
        help="Its mass holds a light floor still.",
    )

    def its_floor(self) -> floor.Floor:
        """What the unit stands on."""
        return floor.Floor(
            self.floor_form,
            self.floor_length,
            self.floor_width,
            self.floor_material,
            self.floor_thickness,
            self.skin_thickness,
            self.core_thickness,
            self.floor_edges,
            self.doubler,
            self.battens,
            self.batten_width,
            self.batten_depth,
            self.bearer_material,
            self.bearer_width,
            self.bearer_depth,
            self.floor_plate,
        )
