"""What is asked: the boat's unit, mounts and floor; how it sits, is held, reached and lifted."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...sheet.groups import SIZE


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
    room, who lifts it in."""

    ac_frequency = but(boat.ac_frequency, group=SIZE)
    attitude = but(boat.attitude, open=True)
    obstacles = but(boat.obstacles, group="")
