"""The sea that the water is made from."""

from __future__ import annotations

from ..equipment import kinds
from ..frame import units
from ..frame.inputs import Inputs, Refusal, When, aboard, ask, is_set, record, rows, text
from ..system import sea as system
from ..system.unfit import Unfit
from .groups import SEA, VOYAGE

_METERED = is_set("has_conductivity")


class TheSea(Inputs, part=True):
    """How warm and how salty it is."""

    waters = record(
        "Waters",
        kinds.Waters,
        "",
        optional=True,
        group=SEA,
        others="as filled in below",
        help="Fills in warmth and salt of a sea in a month; what you type yourself stays.",
    )
    sea_temperature = ask(
        "Sea", "25 °C", preset="waters.temperature", group=SEA, at_least="-2 °C", at_most="36 °C"
    )
    sea_salinity = ask(
        "Sea's salt",
        "35 g/kg",
        preset="waters.salinity",
        group=SEA,
        at_least="0 g/kg",
        at_most="50 g/kg",
        when=When("has_conductivity", (False,)),
        help="Oceans have about 35 g/kg, the Mediterranean 38, the Red Sea 40. "
        "Practical salinity may be typed too: 35 PSU.",
        basis="ocean mean: IOC, SCOR and IAPSO (2010), TEOS-10",
    )
    has_conductivity = aboard(
        "You measured the sea's conductivity",
        "no",
        "sea_conductivity",
        group=SEA,
        help="With a meter that reaches to 60 mS/cm and more. Its salt is then found from that.",
    )
    sea_conductivity = ask(
        "Sea's conductivity, measured",
        "53.1 mS/cm",
        group=SEA,
        above="0 mS/cm",
        at_most="100 mS/cm",
        when=_METERED,
    )
    conductivity_at = ask(
        "The meter shows it as of a water of",
        "25 °C",
        group=SEA,
        at_least="-2 °C",
        at_most="35 °C",
        when=_METERED,
        help="Most hand meters show what it would be at 25 °C. If yours shows it as it is, type "
        "the warmth of the water that you held it in.",
    )

    def sea(self) -> system.Sea:
        """The sea about the boat. Refuses a conductivity that no sea has."""
        if not self.has_conductivity:
            return system.Sea(self.sea_temperature, self.sea_salinity)
        measured, at = self.sea_conductivity, self.conductivity_at
        try:
            return system.by_conductivity(self.sea_temperature, measured, at)
        except Unfit:
            low, high = system.scale(at)
            raise Refusal(
                "sea_conductivity",
                "must lie between {least} and {most} for water of {at}: the scale of practical "
                "salinity goes from 2 to 42 (PSS-78). Is the unit right, and the temperature that "
                "it holds for?",
                least=units.text(low, "mS/cm", rounding="up"),
                most=units.text(high, "mS/cm", rounding="down"),
                at=units.text(at, "°C"),
            ) from None


class AnotherSea(Inputs):
    """A row of the list of seas."""

    name = text("Sea", "another sea", optional=False)
    temperature = ask("Warmth", "25 °C", at_least="-2 °C", at_most="40 °C")
    salinity = ask("Salt", "35 g/kg", at_least="0 g/kg", at_most="50 g/kg")


class Voyage(Inputs, part=True):
    """The seas that she goes to."""

    seas = rows(
        "Seas to compare",
        AnotherSea,
        shelf="waters",
        one="sea",
        group=VOYAGE,
        folded=True,
        help="Usual for a month, rounded. Put in those of your voyage.",
    )
