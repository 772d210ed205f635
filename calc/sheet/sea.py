"""The sea that the water is made from."""

from __future__ import annotations

from ..equipment import kinds
from ..frame.inputs import Inputs, ask, record
from ..system import sea as system
from .groups import SEA


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
        help="Oceans have about 35 g/kg, the Mediterranean 38, the Red Sea 40. "
        "Practical salinity may be typed too: 35 PSU.",
        basis="ocean mean: IOC, SCOR and IAPSO (2010), TEOS-10",
    )

    def sea(self) -> system.Sea:
        """The sea about the boat."""
        return system.Sea(self.sea_temperature, self.sea_salinity)
