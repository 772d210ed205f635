"""What stands in the flush line: carbon cartridges."""

from __future__ import annotations

from ..frame.inputs import ask, text
from ..frame.offers import Sold


class Carbon(Sold):
    name = text("Name", optional=False)
    volume = ask("Carbon in it", unit="L", above="0 L", at_most="100 L")
    flow = ask("Rated flow", unit="L/min", above="0 L/min", at_most="200 L/min")
    loss = ask("Loss at that flow, clean", unit="bar", at_least="0 bar", at_most="3 bar")
    takes = ask("Chlorine that it takes at that flow", "90 %", above="0 %", below="100 %")
    capacity = ask("Water that it is rated for", unit="L", above="0 L", at_most="1000000 L")
    stated = ask("With a chlorine of", "1 mg/L", at_least="0.1 mg/L", at_most="10 mg/L")
    highest_pressure = ask("Housing's highest pressure", unit="bar", above="0 bar")
