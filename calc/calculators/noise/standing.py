"""The unit on its mounts over its floor, as the page “Where to bolt it down” takes it.

All that is known here of mounts and floors passes through this file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from ...equipment.choices import CORED_FLOORS
from ...frame.inputs import Values
from ...frame.report import Amount
from ...models import mounting
from ...models import vibration_path as path
from ...physics import sound as acoustics
from ...system import sound

SOFTER = (2.0, 1.7, 1.4)
"""How many times farther the mounts that are tried give, the softest first."""
GIVES = (0.002, 0.003, 0.004)
"""How far [m] mounts that are tried in place of none give, the hardest first."""


@dataclass(frozen=True)
class Shaking:
    """A source, its force [N, rms] on the floor, and the square [m²/(s² N²)] of what one newton at
    the feet moves the floor by, in the mean over it."""

    source: path.Source
    force: float
    moves: float


@dataclass(frozen=True)
class Standing:
    """A unit on its mounts over its floor, by the values of the form."""

    values: Mapping[str, Any]

    def but(self, **changes: Any) -> Standing:
        return Standing({**self.values, **changes})

    @cached_property
    def q(self) -> Values:
        return Values(self.values)

    @cached_property
    def borne(self) -> sound.Borne:
        """The sound of the floor that it shakes. Refuses mounts on which it tips over."""
        path.check_standing(self.q, self._iso)
        return sound.borne(
            [
                sound.Ringing(p.source.frequency, p.power, p.least, p.most)
                for p in path.structure_borne(self.q, self._iso, self._floor)
            ]
        )

    @property
    def sources(self) -> tuple[path.Source, ...]:
        """What shakes it, lowest first."""
        return path.sources(self.q)

    @property
    def few_below(self) -> float:
        """Frequency [Hz] up to which the floor's modes are counted one by one."""
        return self._floor.few_below

    @property
    def loudest(self) -> Shaking | None:
        """The source that the ear hears most of through the floor, if it hears any."""
        parts = path.structure_borne(self.q, self._iso, self._floor)
        part = max(parts, key=_weighed)
        if not _weighed(part):
            return None
        moves = self._floor.as_told(part.source.frequency).squared
        return Shaking(part.source, part.force, moves)

    @cached_property
    def _iso(self) -> path.Isolator:
        return path.isolator(self.q)

    @cached_property
    def _floor(self) -> path.Floor:
        return path.floor(self.q, self._iso.places)

    # ---- what could be changed ----

    @property
    def unmounted(self) -> bool:
        return self.q.mount_by in ("hard", "pad")

    def softer(self) -> tuple[float, Amount] | None:
        """How far softer mounts give [m] that hold the unit at rest and at sea, as Mount judges
        them, and what each must carry; None if none do. In place of none, or of pads, they give 2
        mm and more."""
        q = self.q
        now = 0.0 if self.unmounted else q.unit_mass * path.GRAVITY / self._iso.static
        gives = GIVES if self.unmounted else [max(now * times, GIVES[0]) for times in SOFTER]
        for give in (round(g, 4) for g in gives):
            rating = mounting.holds_on(q, give) if give > SOFTER[-1] * now else None
            if rating:
                return give, rating
        return None

    @property
    def thickness(self) -> tuple[str, float, float, str]:
        """What makes the floor stiff: its field, its size, the most [m] that fits, its material."""
        q = self.q
        if q.floor_form == "bearers":
            return "bearer_depth", q.bearer_depth, q.floor_length, "bearers"
        least_side = min(q.floor_length, q.floor_width)
        if q.floor_material in CORED_FLOORS:
            return "core_thickness", q.core_thickness, least_side - 2 * q.skin_thickness, "core"
        return "floor_thickness", q.floor_thickness, least_side - q.doubler, str(q.floor_material)


def _weighed(part: path.StructureBorne) -> float:
    """What the ear makes of a part: nothing of one below the octaves that are counted."""
    f = part.source.frequency
    heard = sound.octave_of(f) is not None
    return float(part.power * 10 ** (acoustics.a_weighting(f) / 10)) if heard else 0.0
