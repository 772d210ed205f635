"""What stands under the pump's pressure, and what protects it: hose, tube, relief valve, gauge."""

from __future__ import annotations

from ..frame.inputs import ask, text
from ..frame.offers import Sold


class Hose(Sold):
    name = text("Name", optional=False)
    bore = ask("Inside", unit="mm", above="0 mm", at_most="50 mm")
    highest_pressure = ask("Working pressure", unit="bar", above="0 bar", at_most="700 bar")
    ends = ask(
        "Working pressure of its ends", unit="bar", above="0 bar", at_most="700 bar", optional=True
    )
    burst = ask("Bursts at", unit="bar", above="0 bar", at_most="3000 bar", optional=True)


class Vessel(Sold):
    name = text("Name", optional=False)
    highest_pressure = ask("Working pressure", unit="bar", above="0 bar", at_most="120 bar")
    bore = ask("Inside", unit="mm", above="0 mm", at_most="300 mm")


class ReliefValve(Sold):
    name = text("Name", optional=False)
    opens = ask("Set to open at", unit="bar", above="0 bar", at_most="120 bar")
    bore = ask("Opening of its seat", unit="mm", above="0 mm", at_most="30 mm", optional=True)
    flow = ask(
        "Lets through, a tenth over its setting",
        unit="L/min",
        above="0 L/min",
        at_most="500 L/min",
        optional=True,
    )


class Gauge(Sold):
    name = text("Name", optional=False)
    scale = ask("End of its scale", unit="bar", above="0 bar", at_most="1000 bar")
