"""What is asked: the boat's unit, mounts and floor; how it sits, is held, reached and lifted."""

from __future__ import annotations

from ... import sheet
from ...equipment.choices import CORED_FLOORS, SOLID_FLOORS
from ...frame.inputs import Inputs, ask, but, choice, rows, text
from ...sheet import BoatSheet as boat
from ...sheet.bolted import ATTITUDES, SHAFT
from ...sheet.groups import SIZE

OTHERS = "Other places"


class OtherPlace(Inputs):
    """Another place for the same unit."""

    what = text("Place", "bilge", optional=False)
    attitude = choice("It stands on or hangs from", ATTITUDES)
    lies = choice("Its shaft lies", SHAFT)
    floor_material = choice("Panel", SOLID_FLOORS | CORED_FLOORS, "plywood")
    thickness = ask("Its thickness in all", "18 mm", at_least="0.5 mm", at_most="500 mm")
    floor_length = ask("Free length along the shaft", "600 mm", at_least="20 mm", at_most="5 m")
    floor_width = ask("Free width", "400 mm", at_least="20 mm", at_most="5 m")
    locker_length = ask("Room's length", "900 mm", at_least="100 mm", at_most="10 m")
    locker_width = ask("Room's width", "450 mm", at_least="100 mm", at_most="10 m")
    locker_height = ask("Room's height", "420 mm", at_least="100 mm", at_most="10 m")


class Asks(
    sheet.Machine,
    sheet.Bolted,
    first=(
        "unit",
        "mount_by",
        "rubber_diameter",
        "rubber_height",
        "mount_stiffness",
        "mount_deflection",
        "pad_thickness",
        "shore",
    ),
):
    """The unit, its mounts and the floor, as the sheet has them; how it sits, what holds it, its
    room, who lifts it in; and other places for it."""

    ac_frequency = but(boat.ac_frequency, group=SIZE)
    attitude = but(boat.attitude, open=True)
    obstacles = but(boat.obstacles, group="")
    places = rows(
        "Other places for it",
        OtherPlace,
        one="place",
        most=4,
        group=OTHERS,
        help="The same unit on the same mounts there, set beside the place in the form.",
    )
