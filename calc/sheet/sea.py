"""The sea that the water is made from."""

from __future__ import annotations

from ..frame.inputs import Inputs, ask
from ..system import sea as system
from .groups import SEA


class TheSea(Inputs, part=True):
    """How warm and how salty it is."""

    sea_temperature = ask("Sea", "25 °C", group=SEA, at_least="-2 °C", at_most="36 °C")
    sea_salinity = ask(
        "Sea's salt",
        "35 g/kg",
        group=SEA,
        at_least="0 g/kg",
        at_most="50 g/kg",
        help="Oceans have about 35 g/kg, the Mediterranean 38, the Red Sea 40.",
        basis="ocean mean: IOC, SCOR and IAPSO (2010), TEOS-10",
    )

    def sea(self) -> system.Sea:
        """The sea about the boat."""
        return system.Sea(self.sea_temperature, self.sea_salinity)
