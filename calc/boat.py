"""The boat sheet: what several calculators ask about the same boat, declared once.

A calculator takes its fields by name (`bank_capacity = boat.bank_capacity`), so that a value filled
in on one page is filled in on all. Values follow the chosen equipment record unless typed.
"""

from __future__ import annotations

from .equipment.choices import CHEMISTRIES
from .inputs import Inputs, ask, choice, is_set, record, text, yes_no

UNIT, AC, BANK, GENERATOR = "The watermaker", "Mains on board", "Inverter and bank", "Generator"
PLACE, HABIT, ENGINE, SUN = "The place", "Habits", "Engine alternator", "Sun"


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
