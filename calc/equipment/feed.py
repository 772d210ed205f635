"""What stands in the feed line: strainers, filter cartridges, boost pumps."""

from __future__ import annotations

from ..frame.inputs import ask, text
from ..frame.offers import Sold


class Strainer(Sold):
    name = text("Name", optional=False)
    flow = ask("Flow that its loss is stated for", unit="L/min", above="0 L/min")
    loss = ask("Loss at that flow, clean", unit="mbar", at_least="0 mbar", at_most="500 mbar")


class Cartridge(Sold):
    name = text("Name", optional=False)
    flow = ask("Flow that its loss is stated for", unit="L/min", above="0 L/min")
    loss = ask("Loss at that flow, clean", unit="mbar", at_least="0 mbar", at_most="500 mbar")
    change = ask("Change it at a drop of", "0.5 bar", above="0 bar", at_most="3 bar")
    highest_pressure = ask("Housing's highest pressure", unit="bar", above="0 bar")


class BoostPump(Sold):
    name = text("Name", optional=False)
    shut_off = ask("Pressure against a shut end", unit="bar", above="0 bar", at_most="10 bar")
    free_flow = ask("Flow against nothing", unit="L/min", above="0 L/min", at_most="500 L/min")
    npsh = ask("Suction head that it needs", "1 m", at_least="0 m", at_most="10 m")
    lift = ask("Lifts water by itself", "0 m", at_least="0 m", at_most="8 m")
    power = ask("Power that it draws", unit="W", at_least="0 W", at_most="2 kW", optional=True)
