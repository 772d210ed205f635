"""The water that runs into the tank: its salt by a meter, and what it is given in the tank."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import conductivity, disinfection, drinking_water
from .held import Held
from .watermaking import Making

CONDUCTIVITY, SALT = "conductivity", "nacl"
HALF, TWO_THIRDS, SEVEN_TENTHS = "half", "two_thirds", "seven_tenths"
FACTORS: dict[str, float | None] = {HALF: 0.5, TWO_THIRDS: 0.64, SEVEN_TENTHS: 0.7, SALT: None}
"""What a meter takes for each µS/cm [mg/L]; of NaCl it depends on how much there is."""

BY_VOLUME, BY_WEIGHT = "volume", "weight"

# How many times the salt that its membranes should let through means a leak.
# Common practice, no source.
LEAKS = 2.0
# How many times the hose's water is let run to waste. Common practice, no source.
RINSES = 3.0
# How much denser bleach is for each part of its mass that is hypochlorite.
# Common practice, no source.
DENSER = 1.5
# Of its strength: a bleach that has faded to less is replaced. Common practice, no source.
FADED = 0.5
MOST_DOSED = 4e-3  # kg/m3: US EPA, maximum residual disinfectant level, 40 CFR 141.65
LEAST_LEFT = 0.5e-3  # kg/m3: WHO, Guidelines for Drinking-water Quality, after 30 minutes
LEAST_WAIT = 1800.0  # s: the same


@dataclass(frozen=True)
class Reading:
    """What a meter shows: of conductivity [S/m] or, by one of the `FACTORS`, ppm [kg/m3], as of a
    water of a temperature [K]."""

    meter: str
    shown: float
    at: float

    @property
    def factor(self) -> float | None:
        """What the meter takes for each µS/cm [mg/L]; None where it shows µS/cm, or NaCl."""
        return FACTORS.get(self.meter)

    @cached_property
    def conductivity(self) -> float:
        """What it measured [S/m]."""
        if self.meter == CONDUCTIVITY:
            return self.shown
        if self.factor is None:
            return drinking_water.salt_conductivity(self.shown)
        return 0.1 * self.shown / self.factor

    @cached_property
    def practical(self) -> float:
        """The practical salinity of that water [number]."""
        return conductivity.practical_salinity(self.conductivity, self.at)

    @cached_property
    def salt(self) -> float:
        """Salt in it, as sea salt [kg/m3]."""
        return conductivity.salt_by_meter(self.conductivity, self.at)


@dataclass(frozen=True)
class Bleach:
    """Bleach of a strength when it was filled [kg/m3 of available chlorine], its age [s] and how
    warm it is kept [K]."""

    strength: float
    age: float
    kept: float

    @cached_property
    def left(self) -> float:
        """Its strength now [kg/m3]."""
        return disinfection.bleach_left(self.strength, self.age, self.kept)

    @property
    def fades(self) -> float:
        """How fast it fades [m3/(mol s)]."""
        return disinfection.bleach_fades(self.strength, self.kept)

    @property
    def faded(self) -> bool:
        """Whether so little is left that it should be replaced."""
        return self.left < FADED * self.strength


def bleach_density(share: float) -> float:
    """Density [kg/m3] of bleach with a share of hypochlorite by mass."""
    return 1e3 * (1 + DENSER * share)


def bleach(stated: str, share: float, age: float, kept: float) -> Bleach:
    """Bleach whose label states a share [number]: of chlorine by volume, or of hypochlorite by
    weight."""
    if stated == BY_VOLUME:
        return Bleach(1e3 * share, age, kept)
    return Bleach(disinfection.available_chlorine(share, bleach_density(share)), age, kept)


@dataclass(frozen=True)
class Dose:
    """A tank [m3] with bleach for a dose of free chlorine [kg/m3], what is left of it at the end
    [kg/m3], and the water's temperature [K] and pH [number]."""

    tank: float
    bleach: Bleach
    chlorine: float
    left: float
    temperature: float
    ph: float

    @property
    def poured(self) -> float:
        """Bleach to pour [m3]."""
        return disinfection.bleach_for(self.tank, self.chlorine, self.bleach.left)

    @property
    def if_fresh(self) -> float:
        """What so much of it makes if it has not faded [kg/m3]."""
        return disinfection.chlorine_from(self.poured, self.bleach.strength, self.tank)

    @property
    def counted(self) -> float:
        """What is left, as far as the tables know it [kg/m3]."""
        return min(self.left, disinfection.MOST_CHLORINE)

    @cached_property
    def cysts_ct(self) -> float:
        """Chlorine times time for cysts [kg s/m3]."""
        return disinfection.cysts_ct(self.counted, self.temperature, self.ph)

    @cached_property
    def viruses_ct(self) -> float:
        """Chlorine times time for viruses [kg s/m3]."""
        return disinfection.viruses_ct(self.temperature)

    @property
    def cysts(self) -> float:
        """Time until cysts are killed [s]."""
        return disinfection.contact_time(self.cysts_ct, self.counted)

    @property
    def viruses(self) -> float:
        """Time until viruses are killed [s], and no less than WHO's half hour."""
        return max(LEAST_WAIT, disinfection.contact_time(self.viruses_ct, self.counted))

    @property
    def by_regression(self) -> float:
        """Time for cysts by EPA's other rule [s]."""
        ct = disinfection.cysts_ct_by_regression(self.counted, self.temperature, self.ph)
        return disinfection.contact_time(ct, self.counted)

    @property
    def wait(self) -> float:
        """How long to wait [s]: for the longer of both."""
        return max(self.cysts, self.viruses)

    @property
    def held_dose(self) -> Held:
        """The dose [kg/m3] against the most that drinking water may hold."""
        return Held(self.chlorine, MOST_DOSED)

    @property
    def held_left(self) -> Held:
        """What is left [kg/m3] against the least that shall be."""
        return Held(self.left, LEAST_LEFT, least=True)

    def at(self, temperature: float) -> Dose:
        """The same in water of another temperature [K]."""
        return replace(self, temperature=temperature)


@dataclass(frozen=True)
class TankWater:
    """What runs into the tank: what the unit makes here, the meter's reading, the salt that is
    wanted at most [kg/m3], the fresh-water hose [m], how much boron passes [number], the tank [m3],
    the hardness to give it [kg/m3], the bleach, if it is dosed, and whether the house pump
    flushes the membrane with its water without carbon."""

    making: Making
    reading: Reading
    aim: float
    bore: float
    length: float
    boron_passage: float
    tank: float
    hardness: float
    dose: Dose | None
    flushes: bool

    @property
    def unguarded(self) -> bool:
        """Whether chlorine from the tank gets to the membrane."""
        return self.dose is not None and self.flushes

    @property
    def salt(self) -> Held:
        """Salt by the meter [kg/m3] against what is wanted."""
        return Held(self.reading.salt, self.aim)

    @property
    def expected(self) -> float | None:
        """What the membranes should let through here [kg/m3]; None where they make no water."""
        return None if self.making.dry else self.making.made.product_salinity

    @property
    def leak(self) -> Held | None:
        """Salt by the meter [kg/m3] against what only a leak explains."""
        return None if self.expected is None else Held(self.reading.salt, LEAKS * self.expected)

    @property
    def leaking(self) -> float:
        """The share of sea water that would explain the salt beyond what is expected [number]."""
        if self.expected is None:
            return 0.0
        sea = self.making.sea.concentration
        over = self.reading.salt - self.expected
        return min(1.0, max(0.0, over / (sea - self.expected))) if sea > self.expected else 0.0

    @property
    def taste(self) -> int:
        """The band of taste of its salt."""
        return drinking_water.taste(self.reading.salt)

    @property
    def sodium(self) -> float:
        """Sodium in it [kg/m3], as in sea salt."""
        return drinking_water.SODIUM * self.reading.salt

    @property
    def hose(self) -> float:
        """Water in the fresh-water hose [m3]."""
        return math.pi / 4 * self.bore**2 * self.length

    @property
    def waste(self) -> float | None:
        """How long to run to waste [s]; None where it makes no water."""
        return None if self.making.dry else RINSES * self.hose / self.making.made.product

    @property
    def sea_boron(self) -> float:
        """Boron in this sea [kg/m3]."""
        return drinking_water.boron_of_sea(self.making.sea.practical_salinity)

    @property
    def boron(self) -> Held:
        """Boron in the fresh water [kg/m3] against WHO's guideline."""
        found = drinking_water.passed(self.sea_boron, self.boron_passage)
        return Held(found, drinking_water.BORON_GUIDELINE)

    @property
    def calcite(self) -> float:
        """Calcite for a full tank [kg]."""
        return drinking_water.calcite_for(self.tank, self.hardness)

    @property
    def carbon_dioxide(self) -> float:
        """Carbon dioxide that it takes to dissolve it [kg/m3]."""
        return drinking_water.carbon_dioxide_for(self.hardness)

    @property
    def calcium(self) -> float:
        """Calcium that the water has then [kg/m3]."""
        return drinking_water.calcium_of(self.hardness)

    @property
    def first_adds(self) -> float:
        """What the hose's first water adds to the salt of a full tank [kg/m3], if it is let in as
        salty as the sea: more it can't be."""
        salt = self.reading.salt
        sea = max(self.making.sea.concentration, salt)
        return drinking_water.blend(self.tank, salt, self.hose, sea) - salt
