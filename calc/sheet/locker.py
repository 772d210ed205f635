"""The locker."""

from __future__ import annotations

from ..equipment.choices import STANDS
from ..frame.inputs import Inputs, Refusal, ask, choice
from ..system.locker import Sizes
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

    def inside(self) -> Sizes:
        """The locker inside."""
        return Sizes(self.locker_length, self.locker_width, self.locker_height)

    def check_locker(self, body: Sizes) -> None:
        """Refuses a locker that a body does not go into, if it stands in one."""
        if self.stands != "locker":
            return
        if side := self.inside().too_small_for(body):
            sentence = "the unit does not fit into this locker, whichever way it lies"
            raise Refusal(f"locker_{side}", sentence)
