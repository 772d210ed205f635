"""The generator, its fuel and its charger."""

from __future__ import annotations

from ..equipment import kinds
from ..equipment.choices import FUELS, GENERATORS
from ..frame.inputs import Inputs, aboard, ask, choice, is_one_of, is_set, record
from ..system import bank
from ..system import supply as system
from ..system.motor import Mains
from .groups import GENERATOR, PRACTICE

NO_FUEL = system.Fuel("diesel", 0.0, 0.0)  # where a page does not ask for it


class Generator(Inputs, part=True):
    """The generator."""

    has_generator = aboard(
        "There is a generator", "no", ("generator", "generator_power"), group=GENERATOR
    )
    generator = record(
        "Generator",
        kinds.Generator,
        "",
        optional=True,
        group=GENERATOR,
        tells=("rated_power", "voltage", "frequency"),
        when=is_set("has_generator"),
        rated_by=("generator_power",),
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
        basis=PRACTICE,
        help="How far its voltage dips when a motor starts.",
    )

    def generator_mains(self) -> Mains | None:
        """The mains that its record gives."""
        own = self.generator
        return None if own is None else Mains(own.voltage, own.frequency)

    def set(self, fuel: system.Fuel = NO_FUEL) -> system.Generator | None:
        """The generator, if there is one; nothing is stated of its power for a start."""
        return self.rated_set(fuel) if self.has_generator else None

    def rated_set(self, fuel: system.Fuel = NO_FUEL) -> system.Generator:
        """A generator as it is rated here, aboard or not."""
        return system.Generator(
            self.generator_power,
            self.generator_power_factor,
            self.generator_source == "inverter",
            None,
            0.0,
            self.generator_reactance,
            fuel,
            self.generator_mains(),
        )


class GeneratorPeak(Inputs, part=True):
    """What it gives for a start."""

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
        basis=PRACTICE,
    )


class OtherLoad(Inputs, part=True):
    """What else runs on it."""

    other_load = ask(
        "Other loads running at the same time",
        "200 W",
        group=GENERATOR,
        at_least="0 W",
        at_most="50 kW",
        help="Fridge, kettle: what else is on while you make water. The charger "
        "is asked for below.",
    )


class Fuel(Inputs, part=True):
    """What it burns."""

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
        help="In your own money, the same for all prices.",
    )

    def burns(self) -> system.Fuel:
        """What it burns."""
        return system.Fuel(self.fuel, self.fuel_idle, self.fuel_slope)


class Charger(Inputs, part=True):
    """Its battery charger."""

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
        basis=PRACTICE,
    )
    charger_power_factor = ask(
        "Its power factor",
        "70 %",
        group=GENERATOR,
        at_least="40 %",
        at_most="100 %",
        when=is_set("has_generator"),
        basis=PRACTICE,
        help="95 % and more only where its sheet says that it is corrected (PFC).",
    )

    def charger(self) -> bank.Charger | None:
        """The charger, if it gives anything."""
        if self.charger_current <= 0:
            return None
        return bank.Charger(
            self.charger_current,
            self.charger_voltage,
            self.charger_efficiency,
            self.charger_power_factor,
        )
