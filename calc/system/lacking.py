"""What a boat hasn't aboard: how large it would have to be to run the machine or fill the bank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from . import days, on_bank, on_generator, sizes
from .aboard import Aboard
from .bank import Inverter
from .motor import Water
from .supply import Generator

_ANY = Inverter(2000.0, 4000.0, 0.0, 0.9, 0.0, None)  # its sizes are what is looked for


@dataclass(frozen=True)
class Lacking:
    """Sizes of what isn't aboard; None where it is, or where none would do.

    `generator` is its continuous power [W]. `short` is the charge that lacks a day [C]; that there
    are no `panels`, no `alternator` or no `charger` counts only where some lacks.
    """

    generator: float | None = None
    inverter: Inverter | None = None
    short: float = 0.0
    panels: bool = False
    alternator: bool = False
    charger: bool = False


def lacking(aboard: Aboard, water: Water, usual: Generator, light: Sequence[float]) -> Lacking:
    """What isn't aboard, each by itself, with the boat's other things as they are.

    A generator is tried with the ratios of a usual one. Of an inverter only the sizes are meant.
    """
    found = Lacking()
    if water.overfluxed:
        return found
    if aboard.generator is None:
        sizes_of_one = on_generator.smallest_generator(replace(aboard, generator=usual), water)
        found = replace(found, generator=sizes_of_one[0] if sizes_of_one else None)
    if aboard.inverter is None:
        choice = sizes.smallest_inverter(aboard.on_inverter(_ANY), water)
        return replace(found, inverter=choice.inverter if choice else None)
    short = _short(aboard, water, light)
    if short <= 0 or not aboard.bank.chargeable:
        return found
    return replace(
        found,
        short=short,
        panels=aboard.sun is None,
        alternator=aboard.alternator is None,
        charger=not aboard.charges_by_mains,
    )


def _short(aboard: Aboard, water: Water, light: Sequence[float]) -> float:
    """Charge that lacks a day [C] at the bank's nominal voltage; 0 where the bank is of no use."""
    if on_bank.misfit(aboard):
        return 0.0
    house = on_bank.house(aboard, water)
    flows = days.flows(aboard, house, light)
    return days.lacking(aboard, house, flows) / aboard.bank.voltage
