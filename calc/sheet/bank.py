"""Inverter and house bank."""

from __future__ import annotations

from dataclasses import replace

from ..equipment import kinds
from ..equipment.choices import CHEMISTRIES
from ..frame import units
from ..frame.inputs import Inputs, Other, Refusal, aboard, ask, choice, is_set, record
from ..system import bank as system
from ..system.motor import Mains
from .groups import BANK, PRACTICE, STATE

USUAL_IDLE = 0.01  # of the power of an inverter. Common practice, no source.


class Inverter(Inputs, part=True):
    """The inverter on the house bank."""

    has_inverter = aboard(
        "There is an inverter on the house bank", "yes", ("inverter", "inverter_power"), group=BANK
    )
    inverter = record(
        "Inverter",
        kinds.Inverter,
        "",
        optional=True,
        group=BANK,
        open=True,
        tells=("rated_power", "ac_voltage", "frequency"),
        when=is_set("has_inverter"),
        rated_by=("inverter_power",),
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
        usual=Other("inverter_power", 2.0),
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
        usual=Other("inverter_power", USUAL_IDLE),
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

    def inverter_aboard(self, load: float = 0.0) -> system.Inverter | None:
        """The inverter with another load on it [W]. Refuses ratings that none can have."""
        if not self.has_inverter:
            return None
        own = self.inverter
        if self.inverter_surge < self.inverter_power:
            raise Refusal("inverter_surge", "a surge rating can't be below the continuous rating")
        made = system.Inverter(
            self.inverter_power,
            self.inverter_surge,
            self.inverter_surge_time,
            self.inverter_efficiency,
            self.inverter_idle,
            self.inverter_cut_off,
            load,
        )
        try:
            made.check_losses()
        except ValueError:
            sentence = "the idle draw is too large for that best efficiency: one is wrong"
            raise Refusal("inverter_idle", sentence) from None
        share = None
        if "inverter_idle" in self.following:
            share = USUAL_IDLE if own is None else own.idle_power / own.rated_power
        made = replace(made, idle_share=share)
        if own is None:
            return made
        return replace(
            made,
            hottest=own.ambient_limit,
            mains=Mains(own.ac_voltage, own.frequency),
            dc_voltage=own.dc_voltage,
        )


class InverterLoad(Inputs, part=True):
    """What else runs on it."""

    inverter_load = ask(
        "Other loads on the inverter at the same time",
        "0 W",
        group=BANK,
        at_least="0 W",
        at_most="50 kW",
        when=is_set("has_inverter"),
    )


class Bank(Inputs, part=True):
    """The house bank."""

    bank = record(
        "Battery bank",
        kinds.Bank,
        "",
        optional=True,
        group=BANK,
        open=True,
        known_by=("bank_chemistry", "bank_voltage"),
        rated_by=("bank_capacity",),
    )
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
        at_volts="bank_voltage",
        help="Of the whole bank at its nominal voltage and the 20-hour rate.",
    )
    bank_health = ask(
        "Capacity that age has left",
        "85 %",
        group=STATE,
        at_least="20 %",
        at_most="100 %",
        basis=PRACTICE,
    )
    bank_temperature = ask(
        "The bank's temperature",
        "25 °C",
        group=STATE,
        at_least="-20 °C",
        at_most="60 °C",
        basis=PRACTICE,
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

    def house_bank(self, cut_off: float | None = None) -> system.HouseBank:
        """The house bank, full, with the cut-off of its inverter [V]."""
        return system.HouseBank(
            self.bank_chemistry,
            self.bank_capacity,
            self.bank_voltage,
            self.bank_health,
            self.bank_temperature,
            stated_depth=self.bank_depth,
            resistance=self.bank_resistance,
            cut_off=cut_off,
        )


class BankUse(Inputs, part=True):
    """How full it is, and what it bears."""

    bank_charge = ask(
        "Charged to, when you begin",
        "95 %",
        group=STATE,
        at_least="5 %",
        at_most="100 %",
        basis=PRACTICE,
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
        basis=PRACTICE,
    )

    def in_use(self, bank: system.HouseBank) -> system.HouseBank:
        """The bank as it is charged, with what is stated of its limits. Refuses what can't be."""
        if bank.reserve >= self.bank_charge:
            raise Refusal(
                "bank_charge",
                "the bank must be charged further than what is to stay in it: raise this, or the "
                "deepest discharge that you allow",
            )
        hours, seconds = self.bank_bms, self.bank_bms_peak
        if hours is not None and seconds is not None and seconds < hours:
            raise Refusal(
                "bank_bms_peak",
                "can't be below the management's limit for hours, {limit}",
                limit=units.text(hours, "A"),
            )
        return replace(
            bank,
            charge=self.bank_charge,
            exponent=self.bank_exponent,
            current=self.bank_current,
            managed=hours,
            managed_peak=seconds,
            managed_peak_time=self.bank_bms_time,
        )
