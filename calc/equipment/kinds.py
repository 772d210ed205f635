"""What a record of each kind holds. A field left out of a record takes the default given here."""

from __future__ import annotations

from ..frame.inputs import Inputs, Kind, ask, choice, record, rows, text, whole, yes_no
from ..frame.offers import Sold
from .choices import CHEMISTRIES, FUELS, GENERATORS, MOTOR_KINDS, STARTS
from .feed import BoostPump, Cartridge, Strainer
from .flush import Carbon
from .pressure import Gauge, Hose, ReliefValve, Vessel
from .upkeep import Part, Task


class Motor(Sold):
    name = text("Name", optional=False)
    rated_power = ask("Rated shaft power", unit="W", above="0 W", at_most="15 kW")
    voltage = ask("Rated voltage", unit="V", above="0 V", at_most="1000 V")
    low_voltage = ask("Other voltage, if reconnectable", unit="V", above="0 V", optional=True)
    frequency = ask("Rated frequency", unit="Hz", at_least="40 Hz", at_most="70 Hz")
    poles = whole("Poles", "4", at_least=2, at_most=8)
    rated_speed = ask("Rated speed", unit="rpm", above="0 rpm", at_most="3600 rpm")
    efficiency = ask("Efficiency at rated load", unit="%", above="0 %", below="100 %")
    power_factor = ask("Power factor at rated load", unit="%", above="0 %", at_most="100 %")
    rated_current = ask("Nameplate current", unit="A", above="0 A", optional=True)
    service_factor = ask("Service factor", "1.0", unit="×", at_least="1")
    code_letter = text("Locked-rotor code letter", longest=1)
    locked_rotor_current = ask("Locked-rotor current", unit="A", above="0 A", optional=True)
    winding = choice("Kind of motor", MOTOR_KINDS, "unknown")
    start = choice("Start", STARTS, "direct")
    soft_allowed = yes_no("Its maker allows a soft starter", "no")
    start_factor = ask(
        "Starting current with the soft start, as a multiple of the rated current",
        "2.5",
        unit="×",
        above="0",
        at_most="8",
    )
    start_time = ask("Duration of the start", "0.6 s", above="0 s", at_most="30 s")
    start_power_factor = ask("Power factor at the start", "60 %", above="0 %", at_most="100 %")
    start_torque = ask(
        "Starting torque, as a multiple of the rated torque",
        unit="×",
        above="0",
        at_most="6",
        optional=True,
    )
    insulation = choice(
        "Insulation class", {"A": "class A", "B": "class B", "F": "class F", "H": "class H"}, "F"
    )
    rise = ask("Winding's rise at rated load, by resistance", "80 K", above="0 K", at_most="150 K")
    ambient_limit = ask("Highest ambient", "40 °C", above="0 °C", at_most="80 °C")
    protector = ask("Thermal protector opens at (winding)", "135 °C", above="60 °C", optional=True)
    mass = ask("Mass", unit="kg", above="0 kg")


class Pump(Sold):
    name = text("Name", optional=False)
    flow = ask("Flow at rated speed", unit="L/min", above="0 L/min")
    rated_speed = ask("Rated speed", unit="rpm", above="0 rpm", at_most="3600 rpm")
    speed_ratio = ask("Pump speed over motor speed", "1", unit="×", above="0", at_most="2")
    efficiency = ask("Overall efficiency at working pressure", "85 %", above="0 %", below="100 %")
    highest_pressure = ask("Highest pressure", unit="bar", above="0 bar", at_most="120 bar")
    plungers = whole("Plungers", "3", at_least=1, at_most=9)
    inlet_least = ask("Least pressure at its inlet", "0 bar", at_least="-0.8 bar", at_most="3 bar")
    inlet_most = ask("Highest pressure at its inlet", "3 bar", above="0 bar", at_most="20 bar")
    mass = ask("Mass", unit="kg", above="0 kg")


class Membranes(Sold):
    name = text("Name", optional=False)
    count = whole("Membranes", "1", at_least=1, at_most=8)
    highest_pressure = ask("Highest pressure", unit="bar", above="0 bar", at_most="120 bar")
    diameter = ask("Diameter of one", unit="mm", above="0 mm", optional=True)
    length = ask("Length of one", unit="mm", above="0 mm", optional=True)
    area = ask("Membrane area of one", unit="m2", above="0 m2", at_most="50 m2")
    least_brine = ask("Least brine flow", unit="L/min", above="0 L/min", optional=True)
    rejection = ask("Salt rejected in its test", "99.5 %", at_least="90 %", below="100 %")
    test_pressure = ask("Pressure of its test", "55.2 bar", at_least="35 bar", at_most="100 bar")
    test_recovery = ask("Recovery of its test", "8 %", above="0 %", at_most="40 %")
    test_product = ask("Fresh water in its test", unit="L/h", above="0 L/h", optional=True)
    highest_feed = ask("Highest feed flow", "22 L/min", above="0 L/min", at_most="500 L/min")
    drop = ask("Pressure drop at that feed", "0.7 bar", at_least="0 bar", at_most="3 bar")
    highest_flux = ask("Highest flux", "30 L/m2h", above="0 L/m2h", at_most="100 L/m2h")
    hottest = ask("Warmest water", "45 °C", above="0 °C", at_most="90 °C")
    chlorine = ask("Most chlorine", "0.1 mg/L", at_least="0 mg/L", at_most="5 mg/L")


class Unit(Sold):
    name = text("Name", optional=False)
    motor = record("Motor", Motor)
    pump = record("Pump", Pump)
    membranes = record("Membranes", Membranes)
    hose = record("High-pressure hose", Hose, optional=True)
    vessel = record("Membrane's pressure tube", Vessel, optional=True)
    relief = record("Relief valve", ReliefValve, optional=True)
    gauge = record("Pressure gauge", Gauge, optional=True)
    pressure = ask("Working pressure", unit="bar", above="0 bar", at_most="100 bar")
    product_flow = ask("Fresh water, at 25 °C and 35 g/kg", unit="L/h", above="0 L/h")
    boost_power = ask("Boost pump's power", "0 W", at_least="0 W")
    mass = ask("Mass of motor and pump together", unit="kg", above="0 kg")
    length = ask("Length", unit="mm", above="0 mm")
    width = ask("Width", unit="mm", above="0 mm")
    height = ask("Height", unit="mm", above="0 mm")
    cg_height = ask("Centre of gravity above the feet", "110 mm", above="0 mm")
    cg_along = ask("Centre of gravity from the middle of the feet to the motor", "15 mm")
    foot_length = ask("Feet apart, along the shaft", "320 mm", above="0 mm")
    foot_width = ask("Feet apart, across the shaft", "180 mm", above="0 mm")
    heel_limit = ask("Highest tilt across the shaft", "30°", at_least="0°", at_most="90°")
    trim_limit = ask("Highest tilt along the shaft", "15°", at_least="0°", at_most="90°")
    on_bulkhead = choice(
        "May hang on a bulkhead", {"yes": "yes", "no": "no", "unknown": "not said"}, "unknown"
    )
    head_access = ask("Free space to pull the pump head", "220 mm", at_least="0 mm")
    box_access = ask("Free space before the electrical box", "120 mm", at_least="0 mm")


class Generator(Sold):
    name = text("Name", optional=False)
    rated_power = ask("Continuous power", unit="W", above="0 W", at_most="100 kW")
    source = choice("Its current comes from", GENERATORS, "alternator")
    peak_power = ask("Short-time power", unit="W", above="0 W", optional=True)
    peak_time = ask("Short time", "10 s", above="0 s")
    voltage = ask("Voltage", unit="V", above="0 V", at_most="1000 V")
    frequency = ask("Frequency", unit="Hz", at_least="40 Hz", at_most="70 Hz")
    power_factor = ask("Lowest power factor at rated power", "100 %", above="0 %", at_most="100 %")
    reactance = ask("Transient reactance, of its rating", "25 %", at_least="0 %", below="100 %")
    fuel = choice("Fuel", FUELS, "diesel")
    fuel_idle = ask("Fuel at no load", unit="L/h", at_least="0 L/h")
    fuel_slope = ask("Fuel per energy above that", unit="L/kWh", above="0 L/kWh")
    portable = choice("Kind", {"fixed": "built in", "portable": "portable"}, "fixed")


class Inverter(Sold):
    name = text("Name", optional=False)
    rated_power = ask("Continuous power", unit="VA", above="0 VA")
    surge_power = ask("Surge power", unit="VA", above="0 VA")
    surge_time = ask("Surge time", "3 s", above="0 s")
    dc_voltage = ask("Battery side", unit="V", above="0 V", at_most="100 V")
    ac_voltage = ask("Mains side", unit="V", above="0 V", at_most="260 V")
    frequency = ask("Frequency", unit="Hz", at_least="40 Hz", at_most="70 Hz")
    efficiency = ask("Peak efficiency", "92 %", above="50 %", below="100 %")
    idle_power = ask("Idle draw", "20 W", at_least="0 W")
    cut_off = ask("Low-voltage cut-off", unit="V", above="0 V")
    ambient_limit = ask("Switches off in air above", "50 °C", above="0 °C", at_most="90 °C")


class Bank(Sold):
    name = text("Name", optional=False)
    chemistry = choice("Chemistry", CHEMISTRIES, "agm")
    capacity = ask("Capacity at the 20 h rate", unit="Ah", above="0 Ah")
    voltage = ask("Nominal voltage", unit="V", above="0 V", at_most="100 V")
    resistance = ask("Internal resistance", unit="mΩ", above="0 mΩ", optional=True)
    bms_current = ask("Battery management's limit, for hours", unit="A", above="0 A", optional=True)
    bms_peak = ask("Battery management's limit for seconds", unit="A", above="0 A", optional=True)
    bms_peak_time = ask("It lets that through for", "5 s", above="0 s")


class OutputPoint(Inputs):
    speed = ask("Alternator speed", unit="rpm", above="0 rpm", at_most="20000 rpm")
    current = ask("Hot output", unit="A", at_least="0 A")


class Alternator(Sold):
    name = text("Name", optional=False)
    voltage = ask("Charging voltage", unit="V", above="0 V", at_most="100 V")
    pulley_ratio = ask("Pulley ratio", "2", unit="×", above="0", at_most="6")
    output = rows("Hot output by speed", OutputPoint, example=[], one="point")


class Array(Sold):
    name = text("Name", optional=False)
    rated_power = ask("Rated power", unit="W", above="0 W")
    temperature_coefficient = ask("Power lost by heat", "-0.35 %/K")
    losses = ask("Dirt, shade, wiring and controller", "20 %", at_least="0 %", below="100 %")


class Climate(Kind):
    name = text("Name", optional=False)
    ambient = ask("Air below deck", unit="°C")
    outside = ask("Air outside, in the shade", unit="°C")
    sea = ask("Sea", unit="°C")
    humidity = ask("Relative humidity below deck", unit="%", above="0 %", at_most="100 %")
    irradiance = ask("Sun on a deck at noon", unit="W/m2", at_least="0 W/m2", at_most="1400 W/m2")


class Waters(Kind):
    name = text("Name", optional=False)
    temperature = ask("Sea", unit="°C", at_least="-2 °C", at_most="40 °C")
    salinity = ask("Sea's salt", unit="g/kg", at_least="0 g/kg", at_most="50 g/kg")
    source = text("Where this is from", optional=False)


# In order: a unit refers to motors and pumps read before it.
KINDS: dict[str, type[Kind]] = {
    kind.shelf: kind
    for kind in (
        Motor,
        Pump,
        Membranes,
        Hose,
        Vessel,
        ReliefValve,
        Gauge,
        Unit,
        Generator,
        Inverter,
        Bank,
        Alternator,
        Array,
        Climate,
        Waters,
        Strainer,
        Cartridge,
        BoostPump,
        Carbon,
        Task,
        Part,
    )
}
