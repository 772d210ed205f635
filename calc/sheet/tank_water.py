"""The water that runs into the tank, and what is put into it there."""

from __future__ import annotations

from ..frame.inputs import Inputs, Other, When, ask, choice, is_one_of, is_set, yes_no
from ..system import tank_water as system
from .groups import PRACTICE, TANK_WATER

_DOSED = is_set("tank_dosed")
_PPM = When("product_meter", tuple(system.FACTORS))


class Metered(Inputs, part=True):
    """What a meter shows of the fresh water, and how that counts."""

    product_meter = choice(
        "The meter of the fresh water shows",
        {
            system.CONDUCTIVITY: "µS/cm",
            system.HALF: "ppm, with a factor of 0.5",
            system.TWO_THIRDS: "ppm, with a factor of 0.64",
            system.SEVEN_TENTHS: "ppm, with a factor of 0.7 (“442”)",
            system.SALT: "ppm of NaCl",
        },
        system.CONDUCTIVITY,
        group=TANK_WATER,
        open=True,
        help="Its papers tell the factor; many hand meters have 0.5 or 0.7. Sea salt is none of "
        "these, so ppm are counted back to µS/cm first.",
    )
    product_conductivity = ask(
        "It shows",
        "480 µS/cm",
        group=TANK_WATER,
        open=True,
        above="0 µS/cm",
        at_most="5000 µS/cm",
        when=is_one_of("product_meter", system.CONDUCTIVITY),
        help="Of the water that runs from the unit after some minutes, the meter rinsed in it.",
    )
    product_ppm = ask(
        "It shows, in ppm",
        "240 mg/L",
        group=TANK_WATER,
        open=True,
        above="0 mg/L",
        at_most="3000 mg/L",
        when=_PPM,
        help="Of the water that runs from the unit after some minutes. “240 ppm” will do.",
    )
    product_meter_at = ask(
        "It shows that as of a water of",
        "25 °C",
        group=TANK_WATER,
        at_least="0 °C",
        at_most="40 °C",
        help="Most hand meters show what it would be at 25 °C. If yours shows it as it is, type "
        "the warmth of the water that you held it in.",
    )
    salt_aim = ask(
        "Salt in your water, at most",
        "500 mg/L",
        group=TANK_WATER,
        at_least="50 mg/L",
        at_most="1200 mg/L",
        basis="US EPA, secondary standard, 40 CFR 143.3: for the taste",
    )

    def reading(self) -> system.Reading:
        """What the meter shows."""
        ppm = self.product_meter != system.CONDUCTIVITY
        shown = self.product_ppm if ppm else self.product_conductivity
        return system.Reading(self.product_meter, shown, self.product_meter_at)


class ProductLine(Inputs, part=True):
    """The way of the fresh water to the tank."""

    product_bore = ask(
        "Fresh-water hose, inside", "8 mm", group=TANK_WATER, at_least="2 mm", at_most="50 mm"
    )
    product_length = ask(
        "Fresh-water hose, from the membrane to the tank",
        "5 m",
        group=TANK_WATER,
        at_least="0 m",
        at_most="50 m",
    )
    boron_passage = ask(
        "Boron that passes the membrane",
        "25 %",
        group=TANK_WATER,
        at_least="1 %",
        at_most="100 %",
        basis="from memory: one pass keeps back 75 to 90 % at the sea's pH",
        help="Less when new and cold, more when old and warm.",
    )


class Treated(Inputs, part=True):
    """What the tank's water is given: chlorine, and something to make it less aggressive."""

    tank_dosed = yes_no(
        "The tank is dosed with bleach",
        "no",
        group=TANK_WATER,
        open=True,
        help="Then never flush the membrane with its water, but through carbon.",
    )
    bleach_is = choice(
        "Its label states",
        {
            system.BY_VOLUME: "available chlorine in 100 mL (w/v)",
            system.BY_WEIGHT: "sodium hypochlorite, by weight (w/w)",
        },
        system.BY_VOLUME,
        group=TANK_WATER,
        when=_DOSED,
        help="“Active chlorine” is the same as “available chlorine”.",
    )
    bleach_strength = ask(
        "Strength of the bleach",
        "5 %",
        group=TANK_WATER,
        open=True,
        at_least="0.5 %",
        at_most="20 %",
        when=_DOSED,
        help="On its label. Plain bleach only: without scent, soap, thickener or colour.",
    )
    bleach_age = ask(
        "Age of the bleach",
        "3 months",
        group=TANK_WATER,
        open=True,
        at_least="0 months",
        at_most="36 months",
        when=_DOSED,
        help="Since it was filled: by the date on its bottle.",
    )
    bleach_kept = ask(
        "It is kept at",
        "28 °C",
        group=TANK_WATER,
        at_least="0 °C",
        at_most="50 °C",
        when=_DOSED,
        help="As a mean; in the dark.",
    )
    chlorine_dose = ask(
        "Free chlorine to dose",
        "1 mg/L",
        group=TANK_WATER,
        open=True,
        above="0 mg/L",
        at_most="5 mg/L",
        when=_DOSED,
        basis=PRACTICE,
        help="Water and tank use some of it up. 5 mg/L is WHO's guideline value.",
    )
    chlorine_left = ask(
        "Free chlorine left at the end, by a test",
        "0.6 mg/L",
        group=TANK_WATER,
        open=True,
        above="0 mg/L",
        at_most=Other("chlorine_dose"),
        when=_DOSED,
        help="By a test strip or drops at the farthest tap. This counts, not what was put in.",
    )
    tank_temperature = ask(
        "Water in the tank",
        "18 °C",
        group=TANK_WATER,
        open=True,
        at_least="0.5 °C",
        at_most="45 °C",
        when=_DOSED,
    )
    tank_ph = ask(
        "Its pH",
        "7",
        group=TANK_WATER,
        at_least="4",
        at_most="9",
        when=_DOSED,
        help="By a test strip. The tables end at 9. Above 8 chlorine does little.",
    )
    hardness_aim = ask(
        "Hardness to give it, as CaCO3",
        "80 mg/L",
        group=TANK_WATER,
        at_least="0 mg/L",
        at_most="300 mg/L",
        basis="from memory: 60 to 120 mg/L is the usual aim for water out of the sea",
    )

    def dose(self, tank: float) -> system.Dose | None:
        """The bleach for a tank [m3], if it is dosed."""
        if not self.tank_dosed:
            return None
        bleach = system.bleach(
            self.bleach_is, self.bleach_strength, self.bleach_age, self.bleach_kept
        )
        return system.Dose(
            tank,
            bleach,
            self.chlorine_dose,
            self.chlorine_left,
            self.tank_temperature,
            self.tank_ph,
        )


class TankWater(Metered, ProductLine, Treated, part=True):
    """All of it."""
