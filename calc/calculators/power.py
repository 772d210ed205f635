"""Will my generator, or my inverter with its batteries, run the pump, and for how long?"""

from __future__ import annotations

from ..boat import BoatSheet as boat
from ..cautions import caution
from ..inputs import Inputs, Values, ask
from ..physics import batteries, inverters, motors, pumps
from ..report import Report, line

TITLE = "Power"
THE_LOAD = "The pump and its motor"


class Asks(Inputs):
    unit = boat.unit
    flow = ask(
        "Feed flow of the pump", "7.4 L/min", from_record="unit.pump.flow", above="0 L/min",
        at_most="100 L/min", group=THE_LOAD,
    )  # fmt: skip
    pressure = ask(
        "Working pressure", "55 bar", from_record="unit.pressure", above="0 bar", at_most="80 bar",
        group=THE_LOAD,
    )  # fmt: skip
    product_flow = ask(
        "Fresh water", "45 L/h", from_record="unit.product_flow", above="0 L/h",
        at_most="1000 L/h", group=THE_LOAD,
    )  # fmt: skip
    bank = boat.bank
    bank_chemistry = boat.bank_chemistry
    bank_voltage = boat.bank_voltage
    bank_capacity = boat.bank_capacity
    run_hours = boat.run_hours
    has_inverter = boat.has_inverter
    inverter = boat.inverter
    inverter_power = boat.inverter_power
    inverter_efficiency = boat.inverter_efficiency
    inverter_idle = boat.inverter_idle
    has_generator = boat.has_generator
    generator = boat.generator
    generator_power = boat.generator_power
    other_load = boat.other_load


def answer(q: Values, show: Report) -> None:
    plate = q.unit.motor
    motor = motors.Motor(
        plate.rated_power, plate.voltage, plate.frequency, plate.efficiency, plate.power_factor,
        plate.rated_speed, plate.poles,
    )  # fmt: skip
    shaft = show.step(
        "Shaft power of the pump", pumps.shaft_power(q.flow, q.pressure, q.unit.pump.efficiency),
        "W", "P_shaft = Q * dp / eta",
        {"Q": (q.flow, "L/min"), "dp": (q.pressure, "bar"), "eta": (q.unit.pump.efficiency, "%")},
        "Hydraulic power, any pump handbook",
    )  # fmt: skip
    load = motors.operate_at_power(motor, shaft)
    show.figure("shaft", "Shaft power", shaft, "W", at_most=plate.rated_power)
    show.figure("input", "Motor draws", load.input_power, "W")
    if q.has_generator:
        way = show.option("generator", "Generator")
        way.figure("load", "Load with the other loads", load.input_power + q.other_load, "W",
                   at_most=q.generator_power)  # fmt: skip
    if q.has_inverter:
        way = show.option("inverter", "Inverter on the bank")
        losses = inverters.loss_model(q.inverter_power, q.inverter_idle, q.inverter_efficiency)
        dc = inverters.dc_power(load.input_power, q.inverter_power, losses)
        bank = batteries.bank(
            batteries.CHEMISTRIES[q.bank_chemistry], q.bank_capacity, q.bank_voltage
        )
        run = batteries.run(bank, dc)
        way.figure(
            "apparent", "Inverter's load", load.apparent_power, "VA", at_most=q.inverter_power
        )
        way.figure("hours", "Hours to half", run.time, "h", at_least=q.run_hours,
                   says=line("the bank lasts {t}, and {w} are wanted", t=(run.time, "h"), w=(q.run_hours, "h")))  # fmt: skip
    show.headline("The motor draws {p}.", p=(load.input_power, "W"))
    show.caution(caution("mains"), caution("battery"), caution("estimate"))
