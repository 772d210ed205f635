"""What the people aboard use of fresh water, and the tank that it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

DAY, WEEK = 86400.0, 7 * 86400.0  # s


@dataclass(frozen=True)
class Household:
    """How many people there are, and what they use: flows [m3/s] for each person (drink and cook,
    dishes) or for all (laundry, rinsing, pets), showers [1/week] for each with their water [m3],
    and the share of what is drawn that is lost."""

    crew: int
    drink_and_cook: float
    dishes: float
    showers: float
    shower_water: float
    laundry: float
    rinsing: float
    pets: float
    losses: float

    @cached_property
    def uses(self) -> dict[str, float]:
        """What all of them use for each purpose [m3/s]; what is lost comes last."""
        found = {
            "drink": self.crew * self.drink_and_cook,
            "dishes": self.crew * self.dishes,
            "showers": self.crew * self.showers * self.shower_water / WEEK,
            "laundry": self.laundry,
            "rinsing": self.rinsing,
            "pets": self.pets,
        }
        drawn = sum(found.values()) / (1 - self.losses)
        return found | {"losses": self.losses * drawn}

    @cached_property
    def drawn(self) -> float:
        """All that is drawn from the tank [m3/s], what is lost in it."""
        return sum(self.uses.values())


@dataclass(frozen=True)
class Tank:
    """The tank [m3], what is never touched of it [m3], and the water in cans beside it [m3]."""

    volume: float
    reserve: float
    cans: float

    @property
    def usable(self) -> float:
        """What may be drawn between full and the reserve [m3]."""
        return self.volume - self.reserve

    @property
    def kept(self) -> float:
        """What is there when the unit fails at the worst moment [m3]."""
        return self.reserve + self.cans
