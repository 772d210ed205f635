"""The machine itself: which it is, and at what pressure and flows it works."""

from __future__ import annotations

from ..equipment import kinds
from ..equipment.kinds import Motor as MotorRecord
from ..frame.inputs import Inputs, ask, record, text
from ..system.motor import Plate
from .groups import BOAT, UNIT


class Named(Inputs, part=True):
    """What the boat is called."""

    name = text("The boat's name", group=BOAT)


class Machine(Inputs, part=True):
    """Motor and pump, by their record."""

    unit = record(
        "Motor and pump",
        kinds.Unit,
        "skerry-45",
        group=UNIT,
        open=True,
        help="The high-pressure pump with its motor. Its data fill in the fields below.",
    )


def plate(record: MotorRecord) -> Plate:
    """What a motor's record says."""
    return Plate(
        record.rated_power,
        record.voltage,
        record.low_voltage,
        record.frequency,
        record.efficiency,
        record.power_factor,
        record.rated_speed,
        record.poles,
        record.winding,
        record.rated_current,
        record.service_factor,
        record.ambient_limit,
    )


class Work(Inputs, part=True):
    """At what flows and pressure it works."""

    flow = ask(
        "Feed flow of the pump",
        "6.2 L/min",
        from_record="unit.pump.flow",
        above="0 L/min",
        at_most="100 L/min",
        group=UNIT,
    )
    pressure = ask(
        "Working pressure",
        "55 bar",
        from_record="unit.pressure",
        above="0 bar",
        at_most="80 bar",
        group=UNIT,
    )


class Product(Inputs, part=True):
    """What it gives."""

    product_flow = ask(
        "Fresh water",
        "45 L/h",
        from_record="unit.product_flow",
        above="0 L/h",
        at_most="1000 L/h",
        group=UNIT,
    )
