"""The boat sheet: what several calculators ask about the same boat, declared once.

A calculator takes its fields by name (`bank_capacity = boat.bank_capacity`), so that a value filled
in on one page is filled in on all. Values follow the chosen equipment record unless typed.
"""

from __future__ import annotations

from ..equipment import kinds
from ..equipment.choices import (
    BEARERS,
    CHEMISTRIES,
    CORED_FLOORS,
    FEEDS,
    FLOOR_EDGES,
    FUELS,
    GENERATORS,
    MAINS_CABLES,
    MOTOR_KINDS,
    MOUNT_KINDS,
    RUBBERS,
    SOLID_FLOORS,
    STANDS,
    STARTS,
    WIRING_RULES,
)
from ..equipment.upkeep import TaskRow
from ..frame.inputs import (
    Inputs,
    When,
    ask,
    choice,
    date,
    is_one_of,
    is_set,
    logbook,
    record,
    rows,
    text,
    whole,
    yes_no,
)
from .year import LayUp, Month, Passage

UNIT, AC, BANK, GENERATOR = "The watermaker", "Mains on board", "Inverter and bank", "Generator"
PLACE, HABIT, ENGINE, SUN = "The place", "Habits", "Engine alternator", "Sun"
START, STATE, HOUSE = "How the motor starts", "The bank's state and limits", "House loads"
SIZE, MOUNTS, FLOOR, LOCKER = "Size and speed", "Its mounts", "What it stands on", "The locker"
UPKEEP, TASKS = "Its year and its log", "The tasks of upkeep"
_PRACTICE = "common practice, no source"


class BoatSheet(Inputs):
    """Everything calculators share, in the order of the sheet."""

    name = text("The boat's name", group="The boat")

    unit = record(
        "Motor and pump",
        kinds.Unit,
        "skerry-45",
        group=UNIT,
        open=True,
        help="The high-pressure pump with its motor. Its data fill in the fields below.",
    )

    ac_voltage = ask(
        "Voltage",
        "230 V",
        from_record="unit.motor.voltage",
        group=AC,
        at_least="90 V",
        at_most="260 V",
        help="What the sockets on board give: 230 V, or 115 to 120 V.",
    )
    ac_frequency = ask(
        "Frequency",
        "50 Hz",
        from_record="unit.motor.frequency",
        group=AC,
        at_least="45 Hz",
        at_most="65 Hz",
        help="50 Hz in most of the world, 60 Hz in the Americas.",
    )
    wiring_rules = choice(
        "Wired to",
        WIRING_RULES,
        "iso",
        group=AC,
        help="The practice that the boat is built and surveyed to; it settles which rules apply.",
    )

    ac_run = ask(
        "Cable to the motor, one way",
        "6 m",
        group=AC,
        above="0 m",
        at_most="200 m",
        help="From the inverter, or the panel if there is none; along the cable.",
    )
    ac_size = choice(
        "Cable to the motor",
        MAINS_CABLES,
        group=AC,
        help="What is there already, or what you mean to fit.",
    )

    boost_power = ask(
        "Boost pump",
        "90 W",
        from_record="unit.boost_power",
        group=UNIT,
        at_least="0 W",
        at_most="2 kW",
        help="The low-pressure pump that feeds the high-pressure pump.",
    )
    boost_supply = choice("The boost pump runs from", FEEDS, "dc", group=UNIT, basis=_PRACTICE)

    motor_kind = choice(
        "Kind of motor",
        MOTOR_KINDS,
        "unknown",
        from_record="unit.motor.winding",
        group=START,
        help="On its plate or in its papers. Count the capacitors; a click as it slows down is the "
        "switch of its start winding. It settles starting torque and power factor. A three-phase "
        "motor is not reckoned here.",
    )
    start = choice(
        "The motor is switched on", STARTS, "direct", from_record="unit.motor.start", group=START
    )
    soft_allowed = yes_no(
        "The motor's maker allows a soft starter",
        "no",
        from_record="unit.motor.soft_allowed",
        follows="motor_kind",
        group=START,
        when=is_one_of("start", "soft"),
        help="A start winding that a switch in the motor cuts out may burn on one.",
    )
    start_factor = ask(
        "Starting current, of the rated current",
        "2.5 ×",
        from_record="unit.motor.start_factor",
        group=START,
        at_least="1 ×",
        at_most="8 ×",
        when=is_one_of("start", "soft"),
    )
    code_letter = text(
        "Locked-rotor code letter",
        longest=1,
        from_record="unit.motor.code_letter",
        group=START,
        follows="motor_kind",
        help="On the nameplate, “CODE” or “kVA code”. Left empty: six times the rated current.",
    )
    locked_rotor_current = ask(
        "Locked-rotor current",
        unit="A",
        from_record="unit.motor.locked_rotor_current",
        follows="motor_kind",
        group=START,
        above="0 A",
        at_most="2000 A",
        optional=True,
        help="LRA on the nameplate, at its first voltage. It goes before the code letter.",
    )
    start_time = ask(
        "A start lasts",
        "0.6 s",
        from_record="unit.motor.start_time",
        group=START,
        above="0 s",
        at_most="30 s",
    )
    start_power_factor = ask(
        "Power factor at the start",
        "60 %",
        from_record="unit.motor.start_power_factor",
        group=START,
        at_least="10 %",
        at_most="100 %",
        basis=_PRACTICE,
    )
    start_torque = ask(
        "Starting torque straight on the line, of the rated torque",
        unit="×",
        from_record="unit.motor.start_torque",
        follows="motor_kind",
        group=START,
        at_least="0.1 ×",
        at_most="6 ×",
        optional=True,
        help="Left empty: what is usual for the kind of motor.",
    )
    start_loaded = yes_no(
        "It starts against pressure",
        "no",
        group=START,
        help="No, if you open the pressure regulating valve before you switch on.",
    )

    has_inverter = yes_no("There is an inverter on the house bank", "yes", group=BANK)
    inverter = record(
        "Inverter",
        kinds.Inverter,
        "",
        optional=True,
        group=BANK,
        open=True,
        tells=("rated_power", "ac_voltage", "frequency"),
        when=is_set("has_inverter"),
    )
    inverter_power = ask(
        "Inverter, continuous",
        "2000 VA",
        from_record="inverter.rated_power",
        group=BANK,
        above="0 VA",
        at_most="50 kVA",
        when=is_set("has_inverter"),
    )
    inverter_surge = ask(
        "Inverter, surge",
        "4000 VA",
        from_record="inverter.surge_power",
        group=BANK,
        follows="inverter_power",
        above="0 VA",
        at_most="100 kVA",
        when=is_set("has_inverter"),
        help="What it gives for the seconds of a start.",
    )
    inverter_efficiency = ask(
        "Inverter, peak efficiency",
        "92 %",
        from_record="inverter.efficiency",
        group=BANK,
        above="50 %",
        below="100 %",
        when=is_set("has_inverter"),
    )
    inverter_idle = ask(
        "Inverter, idle draw",
        "20 W",
        from_record="inverter.idle_power",
        group=BANK,
        follows="inverter_power",
        at_least="0 W",
        at_most="500 W",
        when=is_set("has_inverter"),
    )
    inverter_surge_time = ask(
        "Inverter, surge lasts",
        "5 s",
        from_record="inverter.surge_time",
        group=BANK,
        above="0 s",
        at_most="30 min",
        when=is_set("has_inverter"),
    )
    inverter_cut_off = ask(
        "Inverter's low-voltage cut-off",
        unit="V",
        from_record="inverter.cut_off",
        group=BANK,
        above="0 V",
        at_most="100 V",
        when=is_set("has_inverter"),
        optional=True,
        help="Left empty: what is usual for the chemistry.",
    )
    inverter_load = ask(
        "Other loads on the inverter at the same time",
        "0 W",
        group=BANK,
        at_least="0 W",
        at_most="50 kW",
        when=is_set("has_inverter"),
    )
    bank = record("Battery bank", kinds.Bank, "", optional=True, group=BANK, open=True)
    bank_chemistry = choice(
        "Chemistry", CHEMISTRIES, "agm", from_record="bank.chemistry", group=BANK, open=True
    )
    bank_voltage = ask(
        "Bank, nominal",
        "24 V",
        from_record="bank.voltage",
        group=BANK,
        above="0 V",
        at_most="100 V",
        help="12, 24 or 48 V.",
    )
    bank_capacity = ask(
        "Bank's capacity",
        "400 Ah",
        from_record="bank.capacity",
        group=BANK,
        open=True,
        above="0 Ah",
        at_most="10000 Ah",
        help="Of the whole bank at its nominal voltage and the 20-hour rate.",
    )
    bank_health = ask(
        "Capacity that age has left",
        "85 %",
        group=STATE,
        at_least="20 %",
        at_most="100 %",
        basis=_PRACTICE,
    )
    bank_temperature = ask(
        "The bank's temperature",
        "25 °C",
        group=STATE,
        at_least="-20 °C",
        at_most="60 °C",
        basis=_PRACTICE,
    )
    bank_charge = ask(
        "Charged to, when you begin",
        "95 %",
        group=STATE,
        at_least="5 %",
        at_most="100 %",
        basis=_PRACTICE,
    )
    bank_depth = ask(
        "Deepest discharge you allow",
        unit="%",
        group=STATE,
        at_least="5 %",
        at_most="100 %",
        optional=True,
        help="Left empty: 50 % of lead-acid, 80 % of LiFePO4, as is usual.",
    )
    bank_exponent = ask(
        "Peukert's exponent",
        unit="",
        kind="number",
        group=STATE,
        at_least="1",
        at_most="2",
        optional=True,
        help="Left empty: what is usual for the chemistry.",
    )
    bank_resistance = ask(
        "The bank's resistance",
        unit="mΩ",
        from_record="bank.resistance",
        group=STATE,
        follows="bank_chemistry",
        at_least="0 mΩ",
        at_most="10 Ω",
        optional=True,
        help="At 25 °C; in the cold more is reckoned. Left empty: what is usual for the chemistry, "
        "the capacity and the age.",
    )
    bank_current = ask(
        "Current that the bank bears for hours",
        unit="A",
        group=STATE,
        above="0 A",
        at_most="5000 A",
        optional=True,
        help="From the battery's sheet, for the whole bank. Left empty: what is usual for the "
        "chemistry.",
    )
    bank_bms = ask(
        "Battery management's limit, for hours",
        unit="A",
        from_record="bank.bms_current",
        follows="bank_chemistry",
        group=STATE,
        above="0 A",
        at_most="5000 A",
        optional=True,
        help="The continuous discharge current of its sheet. Of batteries in parallel, ask the "
        "maker what they allow together.",
    )
    bank_bms_peak = ask(
        "Battery management's limit for seconds",
        unit="A",
        from_record="bank.bms_peak",
        follows="bank_chemistry",
        group=STATE,
        above="0 A",
        at_most="20000 A",
        optional=True,
        help="What it lets through at a start. Left empty: no more than for hours.",
    )
    bank_bms_time = ask(
        "It lets that through for",
        "5 s",
        from_record="bank.bms_peak_time",
        group=STATE,
        above="0 s",
        at_most="30 min",
        basis=_PRACTICE,
    )

    has_generator = yes_no("There is a generator", "no", group=GENERATOR)
    generator = record(
        "Generator",
        kinds.Generator,
        "",
        optional=True,
        group=GENERATOR,
        tells=("rated_power", "voltage", "frequency"),
        when=is_set("has_generator"),
    )
    generator_power = ask(
        "Generator, continuous",
        "4 kW",
        from_record="generator.rated_power",
        group=GENERATOR,
        above="0 W",
        at_most="100 kW",
        when=is_set("has_generator"),
    )
    other_load = ask(
        "Other loads running at the same time",
        "200 W",
        group=GENERATOR,
        at_least="0 W",
        at_most="50 kW",
        help="Fridge, kettle: what else is on while you make water. The charger "
        "is asked for below.",
    )

    generator_source = choice(
        "Its current comes from",
        GENERATORS,
        "alternator",
        from_record="generator.source",
        group=GENERATOR,
        when=is_set("has_generator"),
        help="A set with electronics inside holds its voltage up to a limit and then gives way; "
        "one with windings alone dips.",
    )
    generator_peak = ask(
        "Generator, for a start",
        unit="W",
        from_record="generator.peak_power",
        group=GENERATOR,
        follows="generator_power",
        above="0 W",
        at_most="200 kW",
        when=is_set("has_generator"),
        optional=True,
        help="Its short-time power. Left empty: no more than the continuous power.",
    )
    generator_peak_time = ask(
        "Its power for a start lasts",
        "10 s",
        from_record="generator.peak_time",
        group=GENERATOR,
        above="0 s",
        at_most="60 min",
        when=is_set("has_generator"),
        basis=_PRACTICE,
    )
    generator_power_factor = ask(
        "Generator, power factor at which it is rated",
        "100 %",
        group=GENERATOR,
        from_record="generator.power_factor",
        at_least="50 %",
        at_most="100 %",
        when=is_set("has_generator"),
        help="4 kW at 80 % are 5 kVA.",
    )
    generator_reactance = ask(
        "Generator, transient reactance",
        "25 %",
        from_record="generator.reactance",
        group=GENERATOR,
        at_least="0 %",
        at_most="60 %",
        when=is_one_of("generator_source", "alternator"),
        basis=_PRACTICE,
        help="How far its voltage dips when a motor starts.",
    )
    fuel = choice(
        "Generator's fuel",
        FUELS,
        "diesel",
        from_record="generator.fuel",
        group=GENERATOR,
        when=is_set("has_generator"),
    )
    fuel_idle = ask(
        "Its fuel at no load",
        "0.4 L/h",
        from_record="generator.fuel_idle",
        group=GENERATOR,
        follows="generator_power",
        at_least="0 L/h",
        at_most="50 L/h",
        when=is_set("has_generator"),
    )
    fuel_slope = ask(
        "Its fuel per energy above that",
        "0.3 L/kWh",
        from_record="generator.fuel_slope",
        group=GENERATOR,
        above="0 L/kWh",
        at_most="5 L/kWh",
        when=is_set("has_generator"),
    )
    fuel_price = ask(
        "Price of fuel",
        "1.80 ¤/L",
        group=GENERATOR,
        at_least="0 ¤/L",
        at_most="1000 ¤/L",
        help="¤ stands for your own money.",
    )
    charger_current = ask(
        "Battery charger's output",
        "0 A",
        group=GENERATOR,
        at_least="0 A",
        at_most="1000 A",
        when=is_set("has_generator"),
        help="Run by the generator. 0 A where there is none.",
    )
    charger_voltage = ask(
        "Its charging voltage",
        unit="V",
        group=GENERATOR,
        above="0 V",
        at_most="150 V",
        optional=True,
        when=is_set("has_generator"),
        help="Left empty: 14.4 V for each 12 V of the bank, 14.2 V of LiFePO4.",
    )
    charger_efficiency = ask(
        "Its efficiency",
        "88 %",
        group=GENERATOR,
        above="50 %",
        at_most="100 %",
        when=is_set("has_generator"),
        basis=_PRACTICE,
    )
    charger_power_factor = ask(
        "Its power factor",
        "70 %",
        group=GENERATOR,
        at_least="40 %",
        at_most="100 %",
        when=is_set("has_generator"),
        basis=_PRACTICE,
        help="95 % and more only where its sheet says that it is corrected (PFC).",
    )

    has_alternator = yes_no("The engine's alternator charges the house bank", "yes", group=ENGINE)
    alternator = record(
        "Alternator",
        kinds.Alternator,
        "belt-24-70",
        optional=True,
        group=ENGINE,
        when=is_set("has_alternator"),
    )
    engine_speed = ask(
        "Engine's speed while it charges",
        "1400 rpm",
        group=ENGINE,
        above="0 rpm",
        at_most="6000 rpm",
        when=is_set("has_alternator"),
    )
    alternator_current = ask(
        "Alternator's output, hot, at that speed",
        unit="A",
        group=ENGINE,
        at_least="0 A",
        at_most="1000 A",
        optional=True,
        when=is_set("has_alternator"),
        help="Left empty: read from the alternator's curve.",
    )
    engine_fuel = ask(
        "Engine's fuel at that speed",
        "1.8 L/h",
        group=ENGINE,
        at_least="0 L/h",
        at_most="100 L/h",
        when=is_set("has_alternator"),
        basis=_PRACTICE,
    )

    has_array = yes_no("There are solar panels", "yes", group=SUN)
    array = record(
        "Panels", kinds.Array, "deck-600", optional=True, group=SUN, when=is_set("has_array")
    )
    array_power = ask(
        "Their rated power",
        "600 W",
        from_record="array.rated_power",
        group=SUN,
        above="0 W",
        at_most="20 kW",
        when=is_set("has_array"),
    )
    array_losses = ask(
        "Lost to dirt, shade, wiring and controller",
        "20 %",
        from_record="array.losses",
        group=SUN,
        at_least="0 %",
        at_most="90 %",
        when=is_set("has_array"),
        basis=_PRACTICE,
    )
    latitude = ask(
        "Latitude",
        "17°",
        group=SUN,
        at_least="-90°",
        at_most="90°",
        when=is_set("has_array"),
        help="17.5° or 17°30' N; south is negative or S.",
    )
    day = date("Day of the year", "2026-01-20", group=SUN, when=is_set("has_array"))
    sunshine = ask(
        "Hours of sunshine, of the hours of daylight",
        "70 %",
        group=SUN,
        at_least="0 %",
        at_most="100 %",
        when=is_set("has_array"),
        help="100 % is a day without a cloud, 0 % an overcast one.",
    )
    turbidity = ask(
        "Haze of a clear sky, by Linke",
        "4",
        unit="",
        kind="number",
        group=SUN,
        at_least="1.5",
        at_most="10",
        when=is_set("has_array"),
        basis=_PRACTICE,
        help="2 is cold dry air, 3 clean air, 4 the humid tropics, 6 and more haze and dust.",
    )

    house_day = ask(
        "House load by day, 08 to 18 h",
        "90 W",
        group=HOUSE,
        at_least="0 W",
        at_most="20 kW",
        basis=_PRACTICE,
    )
    house_evening = ask(
        "House load in the evening, 18 to 23 h",
        "120 W",
        group=HOUSE,
        at_least="0 W",
        at_most="20 kW",
        basis=_PRACTICE,
    )
    house_night = ask(
        "House load at night, 23 to 08 h",
        "50 W",
        group=HOUSE,
        at_least="0 W",
        at_most="20 kW",
        basis=_PRACTICE,
    )

    altitude = ask("Height above the sea", "0 m", group=PLACE, at_least="-100 m", at_most="4000 m")
    sea_temperature = ask("Sea", "25 °C", group=PLACE, at_least="-2 °C", at_most="36 °C")
    ambient_temperature = ask(
        "Air round the machinery", "32 °C", group=PLACE, at_least="-20 °C", at_most="70 °C"
    )

    run_hours = ask(
        "Water-making a day", "2 h", group=HABIT, open=True, above="0 h", at_most="24 h"
    )
    water_start = ask(
        "Water-making begins at",
        "10 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        help="Hours after midnight by the sun.",
    )
    engine_hours = ask(
        "The engine runs a day",
        "0 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_alternator"),
    )
    engine_start = ask(
        "The engine starts at",
        "8 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_alternator"),
    )
    charger_hours = ask(
        "The charger runs a day",
        "0 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_generator"),
    )
    charger_start = ask(
        "The charger starts at",
        "18 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_generator"),
    )

    # What shakes, on what, and where: shared by the mount and the noise.

    unit_mass = ask(
        "Mass of motor and pump",
        "21 kg",
        from_record="unit.mass",
        group=SIZE,
        above="0 kg",
        at_most="200 kg",
    )
    unit_length = ask(
        "Length along the shaft",
        "520 mm",
        from_record="unit.length",
        group=SIZE,
        at_least="100 mm",
        at_most="2 m",
    )
    unit_width = ask(
        "Width", "230 mm", from_record="unit.width", group=SIZE, at_least="50 mm", at_most="1 m"
    )
    unit_height = ask(
        "Height above its feet",
        "250 mm",
        from_record="unit.height",
        group=SIZE,
        at_least="50 mm",
        at_most="1 m",
    )
    cg_height = ask(
        "Centre of gravity above the feet",
        "110 mm",
        from_record="unit.cg_height",
        group=SIZE,
        above="0 mm",
        at_most="1 m",
        help="About the height of the shaft.",
    )
    cg_along = ask(
        "Centre of gravity towards the motor",
        "15 mm",
        from_record="unit.cg_along",
        group=SIZE,
        at_least="-1 m",
        at_most="1 m",
        help="From the middle of the feet. Balance the unit on a broom handle to find it.",
    )
    motor_speed = ask(
        "Motor's speed",
        "1430 rpm",
        from_record="unit.motor.rated_speed",
        group=SIZE,
        at_least="100 rpm",
        at_most="6000 rpm",
    )
    speed_ratio = ask(
        "Pump's speed over the motor's",
        "1 ×",
        from_record="unit.pump.speed_ratio",
        group=SIZE,
        at_least="0.1 ×",
        at_most="2 ×",
        help="1 when coupled directly; less with belt or gears.",
    )
    plungers = whole(
        "Plungers", "3", from_record="unit.pump.plungers", group=SIZE, at_least=1, at_most=9
    )
    single_phase = yes_no(
        "Single-phase motor",
        "yes",
        group=SIZE,
        help="Its torque hums at twice the mains frequency. A three-phase or a direct-current "
        "motor has no such hum.",
    )

    mount_by = choice(
        "What is between unit and floor",
        MOUNT_KINDS,
        "rubber",
        group=MOUNTS,
        open=True,
        basis=_PRACTICE,
    )
    mount_count = whole("How many mounts or feet", "4", group=MOUNTS, at_least=3, at_most=6)
    span_along = ask(
        "Mounts apart, along the shaft",
        "320 mm",
        from_record="unit.foot_length",
        group=MOUNTS,
        at_least="20 mm",
        at_most="2 m",
    )
    span_across = ask(
        "Mounts apart, across the shaft",
        "180 mm",
        from_record="unit.foot_width",
        group=MOUNTS,
        at_least="20 mm",
        at_most="1 m",
    )
    mount_stiffness = ask(
        "Stiffness of one mount, pressed",
        "25 N/mm",
        group=MOUNTS,
        open=True,
        at_least="0.1 N/mm",
        at_most="100000 N/mm",
        when=is_one_of("mount_by", "stiffness"),
    )
    mount_deflection = ask(
        "The unit's weight presses them down by",
        "2 mm",
        group=MOUNTS,
        open=True,
        at_least="0.001 mm",
        at_most="100 mm",
        when=is_one_of("mount_by", "deflection"),
    )
    rubber_diameter = ask(
        "Bobbin's diameter",
        "30 mm",
        group=MOUNTS,
        open=True,
        at_least="5 mm",
        at_most="200 mm",
        when=is_one_of("mount_by", "rubber"),
        basis=_PRACTICE,
    )
    rubber_height = ask(
        "Bobbin's height of rubber",
        "30 mm",
        group=MOUNTS,
        open=True,
        at_least="2 mm",
        at_most="200 mm",
        when=is_one_of("mount_by", "rubber"),
        basis=_PRACTICE,
    )
    pad_length = ask(
        "Pad's length",
        "60 mm",
        group=MOUNTS,
        at_least="5 mm",
        at_most="500 mm",
        when=is_one_of("mount_by", "pad"),
    )
    pad_width = ask(
        "Pad's width",
        "60 mm",
        group=MOUNTS,
        at_least="5 mm",
        at_most="500 mm",
        when=is_one_of("mount_by", "pad"),
    )
    pad_thickness = ask(
        "Pad's thickness",
        "10 mm",
        group=MOUNTS,
        open=True,
        at_least="1 mm",
        at_most="100 mm",
        when=is_one_of("mount_by", "pad"),
    )
    shore = whole(
        "Rubber's hardness, Shore A",
        "40",
        group=MOUNTS,
        open=True,
        at_least=30,
        at_most=80,
        when=is_one_of("mount_by", "rubber", "pad"),
        basis=_PRACTICE,
        help="Soft gum is 30 to 40, a usual mount 40 to 60, a car tyre 65.",
    )
    rubber = choice("Rubber", RUBBERS, "neoprene", group=MOUNTS)
    mount_rating = ask(
        "Load that one mount may carry",
        "8 kg",
        group=MOUNTS,
        above="0 kg",
        at_most="1000 kg",
        when=is_one_of("mount_by", "stiffness", "deflection"),
        help="From the mount's data sheet.",
    )
    dynamic_ratio = ask(
        "Stiffer when shaken, by",
        "1.3 ×",
        group=MOUNTS,
        at_least="1 ×",
        at_most="5 ×",
        when=is_one_of("mount_by", "stiffness", "deflection"),
        basis=_PRACTICE,
    )
    side_ratio = ask(
        "Stiffness sideways over that when pressed",
        "50 %",
        group=MOUNTS,
        at_least="5 %",
        at_most="300 %",
        when=is_one_of("mount_by", "stiffness", "deflection"),
        basis=_PRACTICE,
    )

    floor_form = choice(
        "It stands on", {"panel": "a panel", "bearers": "two bearers"}, "panel", group=FLOOR
    )
    floor_material = choice(
        "Panel",
        SOLID_FLOORS | CORED_FLOORS,
        "plywood",
        group=FLOOR,
        open=True,
        when=is_one_of("floor_form", "panel"),
    )
    floor_thickness = ask(
        "Panel's thickness",
        "18 mm",
        group=FLOOR,
        open=True,
        at_least="0.5 mm",
        at_most="500 mm",
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )
    skin_thickness = ask(
        "Each skin's thickness",
        "2.5 mm",
        group=FLOOR,
        open=True,
        at_least="0.2 mm",
        at_most="50 mm",
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    core_thickness = ask(
        "Core's thickness",
        "20 mm",
        group=FLOOR,
        open=True,
        at_least="2 mm",
        at_most="200 mm",
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    floor_length = ask(
        "Its free length, along the shaft",
        "600 mm",
        group=FLOOR,
        open=True,
        at_least="20 mm",
        at_most="5 m",
        help="Between what holds it: frames, bearers, bulkheads.",
    )
    floor_width = ask(
        "Its free width",
        "400 mm",
        group=FLOOR,
        open=True,
        at_least="20 mm",
        at_most="5 m",
        when=is_one_of("floor_form", "panel"),
    )
    floor_edges = choice(
        "Its edges", FLOOR_EDGES, "supported", group=FLOOR, when=is_one_of("floor_form", "panel")
    )
    doubler = ask(
        "Plywood doubler bonded to it",
        "0 mm",
        group=FLOOR,
        at_least="0 mm",
        at_most="200 mm",
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )
    battens = whole(
        "Battens glued under it, lengthwise",
        "0",
        group=FLOOR,
        at_least=0,
        at_most=10,
        when=is_one_of("floor_form", "panel"),
    )
    batten_width = ask(
        "Batten's width",
        "30 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="300 mm",
        when=When("battens", tuple(range(1, 11))),
    )
    batten_depth = ask(
        "Batten's depth",
        "40 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="300 mm",
        when=When("battens", tuple(range(1, 11))),
    )
    bearer_material = choice(
        "Bearers", BEARERS, "hardwood", group=FLOOR, when=is_one_of("floor_form", "bearers")
    )
    bearer_width = ask(
        "Bearer's width",
        "45 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="500 mm",
        when=is_one_of("floor_form", "bearers"),
    )
    bearer_depth = ask(
        "Bearer's depth",
        "60 mm",
        group=FLOOR,
        at_least="3 mm",
        at_most="500 mm",
        when=is_one_of("floor_form", "bearers"),
    )

    floor_plate = ask(
        "Metal plate bolted to the floor under the mounts",
        "0 kg",
        group=FLOOR,
        at_least="0 kg",
        at_most="100 kg",
        help="Its mass holds a light floor still.",
    )

    stands = choice("The unit stands", STANDS, "locker", group=LOCKER)
    locker_length = ask(
        "Locker's length, along the shaft",
        "900 mm",
        group=LOCKER,
        at_least="100 mm",
        at_most="10 m",
    )
    locker_width = ask("Locker's width", "450 mm", group=LOCKER, at_least="100 mm", at_most="10 m")
    locker_height = ask(
        "Locker's height", "420 mm", group=LOCKER, at_least="100 mm", at_most="10 m"
    )

    started = date("In service since", "2025-05-01", group=UPKEEP, dates=True)
    months = rows(
        "Months that differ",
        Month,
        one="month",
        most=12,
        group=UPKEEP,
        help="Where you make water for more or fewer hours a day than usual.",
    )
    passages = rows(
        "Passages and guests",
        Passage,
        one="stretch",
        group=UPKEEP,
        help="Stretches of days with hours of their own.",
    )
    lay_ups = rows(
        "Lay-ups",
        LayUp,
        one="lay-up",
        group=UPKEEP,
        dates=True,
        help="When nobody makes water: winter ashore, the storm season, a flight home.",
    )
    flush_every = ask(
        "A fresh-water flush keeps",
        "7 days",
        group=UPKEEP,
        at_least="1 days",
        at_most="60 days",
        basis=_PRACTICE,
        help="Up to 25 °C; half as long for each 10 degrees more.",
    )
    preserve_after = ask(
        "Longest rest on flushing alone",
        "14 days",
        group=UPKEEP,
        at_least="1 days",
        at_most="365 days",
        basis=_PRACTICE,
        help="A longer one is preserved.",
    )
    preservative = ask(
        "The preservative keeps",
        "60 days",
        group=UPKEEP,
        at_least="7 days",
        at_most="365 days",
        basis="trade pages give 30 to 90 days",
        help="Up to 25 °C; half as long for each 10 degrees more.",
    )
    preservative_limit = ask(
        "The preservative bears up to",
        "35 °C",
        group=UPKEEP,
        at_least="10 °C",
        at_most="60 °C",
        basis="trade pages give 5 to 35 °C",
    )
    log = logbook(
        "Log",
        group=UPKEEP,
        dates=True,
        jobs="tasks",
        help="A line for each reading of the hour meter and each job done: date, entry (reading, "
        "done or meter replaced), hours, task, note. It stays on this device.",
    )
    tasks = rows(
        "Tasks",
        TaskRow,
        shelf="task",
        belongs="unit",
        one="task",
        group=TASKS,
        folded=True,
        help="The intervals are this guide's own invention. Put in those of your maker.",
    )
