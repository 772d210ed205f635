"""The boat sheet: what several calculators ask about the same boat, declared once.

A calculator takes its fields by name (`bank_capacity = boat.bank_capacity`), so that a value filled
in on one page is filled in on all. Values follow the chosen equipment record unless typed.
"""

from __future__ import annotations

from .equipment.choices import (
    BEARERS,
    CHEMISTRIES,
    CORED_FLOORS,
    FLOOR_EDGES,
    MOUNT_KINDS,
    RUBBERS,
    SOLID_FLOORS,
)
from .inputs import Inputs, When, ask, choice, is_one_of, is_set, record, text, whole, yes_no

UNIT, AC, BANK, GENERATOR = "The watermaker", "Mains on board", "Inverter and bank", "Generator"
PLACE, HABIT, ENGINE, SUN = "The place", "Habits", "Engine alternator", "Sun"
SIZE, MOUNTS, FLOOR, LOCKER = "Size and speed", "Its mounts", "What it stands on", "The locker"
_PRACTICE = "common practice, no source"


class BoatSheet(Inputs):
    """Everything calculators share, in the order of the sheet."""

    name = text("The boat's name", group="The boat")

    unit = record(
        "Motor and pump", "unit", "skerry-45", group=UNIT, open=True,
        help="The high-pressure pump with its motor. Its data fill in the fields below.",
    )  # fmt: skip

    ac_voltage = ask(
        "Voltage", "230 V", from_record="unit.motor.voltage", group=AC, at_least="90 V",
        at_most="260 V", help="What the sockets on board give: 230 V, or 115 to 120 V.",
    )  # fmt: skip
    ac_frequency = ask(
        "Frequency", "50 Hz", from_record="unit.motor.frequency", group=AC, at_least="45 Hz",
        at_most="65 Hz", help="50 Hz in most of the world, 60 Hz in the Americas.",
    )  # fmt: skip

    has_inverter = yes_no("There is an inverter on the house bank", "yes", group=BANK)
    inverter = record("Inverter", "inverter", "", optional=True, group=BANK, open=True,
                      when=is_set("has_inverter"))  # fmt: skip
    inverter_power = ask(
        "Inverter, continuous", "2000 VA", from_record="inverter.rated_power", group=BANK,
        above="0 VA", at_most="50 kVA", when=is_set("has_inverter"),
    )  # fmt: skip
    inverter_surge = ask(
        "Inverter, surge", "4000 VA", from_record="inverter.surge_power", group=BANK,
        above="0 VA", at_most="100 kVA", when=is_set("has_inverter"),
        help="What it gives for the seconds of a start.",
    )  # fmt: skip
    inverter_efficiency = ask(
        "Inverter, peak efficiency", "92 %", from_record="inverter.efficiency", group=BANK,
        above="50 %", below="100 %", when=is_set("has_inverter"),
    )  # fmt: skip
    inverter_idle = ask(
        "Inverter, idle draw", "20 W", from_record="inverter.idle_power", group=BANK,
        at_least="0 W", at_most="500 W", when=is_set("has_inverter"),
    )  # fmt: skip
    inverter_cut_off = ask(
        "Inverter's low-voltage cut-off", "21 V", from_record="inverter.cut_off", group=BANK,
        above="0 V", at_most="100 V", when=is_set("has_inverter"),
    )  # fmt: skip
    bank = record("Battery bank", "bank", "", optional=True, group=BANK, open=True)
    bank_chemistry = choice(
        "Chemistry", CHEMISTRIES, "agm", from_record="bank.chemistry", group=BANK, open=True
    )
    bank_voltage = ask(
        "Bank, nominal", "24 V", from_record="bank.voltage", group=BANK, above="0 V",
        at_most="100 V", help="12, 24 or 48 V.",
    )  # fmt: skip
    bank_capacity = ask(
        "Bank's capacity", "400 Ah", from_record="bank.capacity", group=BANK, open=True,
        above="0 Ah", at_most="10000 Ah",
        help="Of the whole bank at its nominal voltage and the 20-hour rate.",
    )  # fmt: skip

    has_generator = yes_no("There is a generator", "no", group=GENERATOR)
    generator = record("Generator", "generator", "", optional=True, group=GENERATOR,
                       when=is_set("has_generator"))  # fmt: skip
    generator_power = ask(
        "Generator, continuous", "4 kW", from_record="generator.rated_power", group=GENERATOR,
        above="0 W", at_most="100 kW", when=is_set("has_generator"),
    )  # fmt: skip
    other_load = ask(
        "Other loads running at the same time", "200 W", group=GENERATOR, at_least="0 W",
        at_most="50 kW", help="Charger, fridge, kettle: what else is on while you make water.",
    )  # fmt: skip

    sea_temperature = ask("Sea", "25 °C", group=PLACE, at_least="-2 °C", at_most="36 °C")
    ambient_temperature = ask(
        "Air round the machinery", "32 °C", group=PLACE, at_least="-20 °C", at_most="70 °C"
    )

    run_hours = ask(
        "Water-making a day", "2 h", group=HABIT, open=True, above="0 h", at_most="24 h"
    )

    # What shakes, on what, and where: shared by the mount and the noise.

    unit_mass = ask(
        "Mass of motor and pump", "21 kg", from_record="unit.mass", group=SIZE, above="0 kg",
        at_most="200 kg",
    )  # fmt: skip
    unit_length = ask("Length along the shaft", "520 mm", from_record="unit.length", group=SIZE,
                      at_least="100 mm", at_most="2 m")  # fmt: skip
    unit_width = ask("Width", "230 mm", from_record="unit.width", group=SIZE, at_least="50 mm",
                     at_most="1 m")  # fmt: skip
    unit_height = ask("Height above its feet", "250 mm", from_record="unit.height", group=SIZE,
                      at_least="50 mm", at_most="1 m")  # fmt: skip
    cg_height = ask(
        "Centre of gravity above the feet", "110 mm", from_record="unit.cg_height", group=SIZE,
        above="0 mm", at_most="1 m", help="About the height of the shaft.",
    )  # fmt: skip
    cg_along = ask(
        "Centre of gravity towards the motor", "15 mm", from_record="unit.cg_along", group=SIZE,
        at_least="-1 m", at_most="1 m",
        help="From the middle of the feet. Balance the unit on a broom handle to find it.",
    )  # fmt: skip
    motor_speed = ask("Motor's speed", "1430 rpm", from_record="unit.motor.rated_speed",
                      group=SIZE, at_least="100 rpm", at_most="6000 rpm")  # fmt: skip
    speed_ratio = ask(
        "Pump's speed over the motor's", "1 ×", from_record="unit.pump.speed_ratio", group=SIZE,
        at_least="0.1 ×", at_most="2 ×", help="1 when coupled directly; less with belt or gears.",
    )  # fmt: skip
    plungers = whole("Plungers", "3", from_record="unit.pump.plungers", group=SIZE, at_least=1,
                     at_most=9)  # fmt: skip
    single_phase = yes_no(
        "Single-phase motor", "yes", group=SIZE,
        help="Its torque hums at twice the mains frequency. A three-phase or a direct-current "
        "motor has no such hum.",
    )  # fmt: skip

    mount_by = choice("What is between unit and floor", MOUNT_KINDS, "rubber", group=MOUNTS,
                      open=True, basis=_PRACTICE)  # fmt: skip
    mount_count = whole("How many mounts or feet", "4", group=MOUNTS, at_least=3, at_most=6)
    span_along = ask("Mounts apart, along the shaft", "320 mm", from_record="unit.foot_length",
                     group=MOUNTS, at_least="20 mm", at_most="2 m")  # fmt: skip
    span_across = ask("Mounts apart, across the shaft", "180 mm", from_record="unit.foot_width",
                      group=MOUNTS, at_least="20 mm", at_most="1 m")  # fmt: skip
    mount_stiffness = ask(
        "Stiffness of one mount, pressed", "25 N/mm", group=MOUNTS, open=True,
        at_least="0.1 N/mm", at_most="100000 N/mm", when=is_one_of("mount_by", "stiffness"),
    )  # fmt: skip
    mount_deflection = ask(
        "The unit's weight presses them down by", "2 mm", group=MOUNTS, open=True,
        at_least="0.001 mm", at_most="100 mm", when=is_one_of("mount_by", "deflection"),
    )  # fmt: skip
    rubber_diameter = ask(
        "Bobbin's diameter", "20 mm", group=MOUNTS, open=True, at_least="5 mm", at_most="200 mm",
        when=is_one_of("mount_by", "rubber"), basis=_PRACTICE,
    )  # fmt: skip
    rubber_height = ask(
        "Bobbin's height of rubber", "25 mm", group=MOUNTS, open=True, at_least="2 mm",
        at_most="200 mm", when=is_one_of("mount_by", "rubber"), basis=_PRACTICE,
    )  # fmt: skip
    pad_length = ask("Pad's length", "60 mm", group=MOUNTS, at_least="5 mm", at_most="500 mm",
                     when=is_one_of("mount_by", "pad"))  # fmt: skip
    pad_width = ask("Pad's width", "60 mm", group=MOUNTS, at_least="5 mm", at_most="500 mm",
                    when=is_one_of("mount_by", "pad"))  # fmt: skip
    pad_thickness = ask("Pad's thickness", "10 mm", group=MOUNTS, open=True, at_least="1 mm",
                        at_most="100 mm", when=is_one_of("mount_by", "pad"))  # fmt: skip
    shore = whole(
        "Rubber's hardness, Shore A", "45", group=MOUNTS, open=True, at_least=30, at_most=80,
        when=is_one_of("mount_by", "rubber", "pad"), basis=_PRACTICE,
        help="Soft gum is 30 to 40, a usual mount 45 to 60, a car tyre 65.",
    )  # fmt: skip
    rubber = choice("Rubber", RUBBERS, "neoprene", group=MOUNTS)
    mount_rating = ask(
        "Load that one mount may carry", "8 kg", group=MOUNTS, above="0 kg", at_most="1000 kg",
        when=is_one_of("mount_by", "stiffness", "deflection"), help="From the mount's data sheet.",
    )  # fmt: skip
    dynamic_ratio = ask(
        "Stiffer when shaken, by", "1.3 ×", group=MOUNTS, at_least="1 ×", at_most="5 ×",
        when=is_one_of("mount_by", "stiffness", "deflection"), basis=_PRACTICE,
    )  # fmt: skip
    side_ratio = ask(
        "Stiffness sideways over that when pressed", "50 %", group=MOUNTS, at_least="5 %",
        at_most="300 %", when=is_one_of("mount_by", "stiffness", "deflection"), basis=_PRACTICE,
    )  # fmt: skip

    floor_form = choice("It stands on", {"panel": "a panel", "bearers": "two bearers"}, "panel",
                        group=FLOOR)  # fmt: skip
    floor_material = choice(
        "Panel", SOLID_FLOORS | CORED_FLOORS, "plywood", group=FLOOR, open=True,
        when=is_one_of("floor_form", "panel"),
    )  # fmt: skip
    floor_thickness = ask(
        "Panel's thickness", "18 mm", group=FLOOR, open=True, at_least="0.5 mm", at_most="500 mm",
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )  # fmt: skip
    skin_thickness = ask(
        "Each skin's thickness", "2.5 mm", group=FLOOR, open=True, at_least="0.2 mm",
        at_most="50 mm", when=is_one_of("floor_material", *CORED_FLOORS),
    )  # fmt: skip
    core_thickness = ask(
        "Core's thickness", "20 mm", group=FLOOR, open=True, at_least="2 mm", at_most="200 mm",
        when=is_one_of("floor_material", *CORED_FLOORS),
    )  # fmt: skip
    floor_length = ask(
        "Its free length, along the shaft", "600 mm", group=FLOOR, open=True, at_least="20 mm",
        at_most="5 m", help="Between what holds it: frames, bearers, bulkheads.",
    )  # fmt: skip
    floor_width = ask("Its free width", "400 mm", group=FLOOR, open=True, at_least="20 mm",
                      at_most="5 m", when=is_one_of("floor_form", "panel"))  # fmt: skip
    floor_edges = choice("Its edges", FLOOR_EDGES, "supported", group=FLOOR,
                         when=is_one_of("floor_form", "panel"))  # fmt: skip
    doubler = ask(
        "Plywood doubler bonded to it", "0 mm", group=FLOOR, at_least="0 mm", at_most="200 mm",
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )  # fmt: skip
    battens = whole("Battens glued under it, lengthwise", "0", group=FLOOR, at_least=0, at_most=10,
                    when=is_one_of("floor_form", "panel"))  # fmt: skip
    batten_width = ask("Batten's width", "30 mm", group=FLOOR, at_least="3 mm", at_most="300 mm",
                       when=When("battens", tuple(range(1, 11))))  # fmt: skip
    batten_depth = ask("Batten's depth", "40 mm", group=FLOOR, at_least="3 mm", at_most="300 mm",
                       when=When("battens", tuple(range(1, 11))))  # fmt: skip
    bearer_material = choice("Bearers", BEARERS, "hardwood", group=FLOOR,
                             when=is_one_of("floor_form", "bearers"))  # fmt: skip
    bearer_width = ask("Bearer's width", "45 mm", group=FLOOR, at_least="3 mm", at_most="500 mm",
                       when=is_one_of("floor_form", "bearers"))  # fmt: skip
    bearer_depth = ask("Bearer's depth", "60 mm", group=FLOOR, at_least="3 mm", at_most="500 mm",
                       when=is_one_of("floor_form", "bearers"))  # fmt: skip

    locker_length = ask("Locker's length, along the shaft", "900 mm", group=LOCKER,
                        at_least="100 mm", at_most="10 m")  # fmt: skip
    locker_width = ask("Locker's width", "450 mm", group=LOCKER, at_least="100 mm",
                       at_most="10 m")  # fmt: skip
    locker_height = ask("Locker's height", "420 mm", group=LOCKER, at_least="100 mm",
                        at_most="10 m")  # fmt: skip
