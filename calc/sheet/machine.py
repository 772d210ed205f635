"""The machine itself: which it is, and at what pressure and flows it works."""

from __future__ import annotations

from ..equipment import kinds
from ..frame.inputs import Inputs, record, text
from .groups import UNIT


class Named(Inputs, part=True):
    """What the boat is called."""

    name = text("The boat's name", group="The boat")


class Machine(Inputs, part=True):
    """Motor and pump, by their record."""

    unit = record(
        "Motor and pump",
        kinds.Unit,
        "skerry-45",
        group=UNIT,
        open=True,
        help="The high-pressure pump with its motor. Its data fill in the fields below.",
    )
