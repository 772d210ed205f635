"""The locker."""

from __future__ import annotations

from ..equipment.choices import STANDS
from ..frame.inputs import Inputs, ask, choice
from .groups import LOCKER


class Locker(Inputs, part=True):
    """Whether it stands in a locker, and that one's size."""

    stands = choice("The unit stands", STANDS, "locker", group=LOCKER)
    locker_length = ask(
        "Locker's length, along the shaft",
        "900 mm",
        group=LOCKER,
        at_least="100 mm",
        at_most="10 m",
    )
    locker_width = ask("Locker's width", "450 mm", group=LOCKER, at_least="100 mm", at_most="10 m")
    locker_height = ask(
        "Locker's height", "420 mm", group=LOCKER, at_least="100 mm", at_most="10 m"
    )
