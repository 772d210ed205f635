"""A place whose remedies are asked for: what fails in it, what is tried, what a remedy mends."""

from __future__ import annotations

from dataclasses import dataclass

from ...frame.report import Setting
from ...system.place import Place, Placed, does, limits

Settings = dict[str, Setting]

OTHERS = frozenset(
    (
        "fastening",
        "washer",
        "head",
        "across",
        "height",
        "door",
        "door_long",
        "tilt_across",
        "tilt_along",
        "lift",
        "in the way",
        "maker",
        "core",
    )
)
"""What neither mounts nor floor can mend."""


@dataclass(frozen=True)
class Asked:
    """A place whose remedies are asked for: what fails in it, and what holds only just."""

    made: Placed
    failing: frozenset[str]
    tight: frozenset[str]

    @property
    def rest(self) -> frozenset[str]:
        """What fails whatever mounts and floor are."""
        return self.failing & OTHERS

    @property
    def asked(self) -> frozenset[str]:
        """What is to be mended: what fails; where nothing does, what holds only just."""
        return self.failing or self.tight

    def holds(self, place: Place) -> bool:
        """Whether all holds in a place like this one but what mounts and floor can't mend."""
        return does(place, self.made.stand, self.rest)

    @property
    def mends(self) -> str:
        """The figure that mounts and floor mend; "" for the verdict, where nothing else stands in
        its way."""
        waits = self.made.hangs and self.made.place.sitting.may_hang == "unknown"
        if not self.rest and not waits:
            return ""
        return self.worst(self.asked - OTHERS)

    def worst(self, keys: frozenset[str]) -> str:
        """Of these figures the one with the least to spare."""
        held = {key: one for key, one in limits(self.made).items() if key in keys}
        return min(held, key=lambda key: held[key].margin, default="")
