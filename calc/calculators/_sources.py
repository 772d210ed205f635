"""Sources that don't suit the boat, told alike on every page that asks for them."""

from __future__ import annotations

from ..frame.report import Option, Report
from ..system.bank import HouseBank, Inverter
from ..system.motor import Mains


def foreign_mains(part: Option | Report, name: str, its: Mains | None, ours: Mains) -> None:
    """Fails a source that has other mains than the boat."""
    if its is None:
        return
    part.fail(
        "foreign-mains",
        "“{name}” gives {v} at {f}, and “Mains on board” are {w} at {g}",
        name=name,
        v=(its.voltage, "V"),
        f=(its.frequency, "Hz"),
        w=(ours.voltage, "V"),
        g=(ours.frequency, "Hz"),
    )


def foreign_bank(part: Option | Report, why: str, inverter: Inverter, bank: HouseBank) -> None:
    """Fails an inverter for another bank, by `on_bank.bank_misfit`."""
    if why == "bank":
        part.fail(
            "foreign-bank",
            "“Inverter” is made for a bank of {v}, and “Bank, nominal” is {w}: one of the two "
            "must change",
            v=(inverter.dc_voltage or 0.0, "V"),
            w=(bank.voltage, "V"),
        )
    elif why == "cut-off":
        part.fail(
            "foreign-cut-off",
            "“Inverter's low-voltage cut-off” is {c}, and “Bank, nominal” is {w}: that is an "
            "inverter for another bank",
            c=(inverter.cut_off or 0.0, "V"),
            w=(bank.voltage, "V"),
        )


def ask_the_kind(part: Option | Report) -> None:
    """Nobody can tell whether a motor of an unknown kind turns the pump: the weakest does not."""
    part.unknown(
        "motor-kind",
        "whether it turns the pump at the start depends on the kind of motor: look at "
        "its plate or ask its maker",
    )
