"""Quantities as a guide's glossary names them."""

from __future__ import annotations

from dataclasses import dataclass

from . import units


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity as the guide names it.

    symbol: as formulas of the working write it, before a subscript ("eta", "dp"), "" if none does;
    unit: as the pages show it, "" for a plain number; asked: labels of inputs that ask for it.
    """

    group: str
    name: str
    symbol: str
    unit: str
    meaning: str
    asked: tuple[str, ...] = ()

    @property
    def kind(self) -> str:
        """What its unit measures, "" for a plain number."""
        return units.kind_of(self.unit) if self.unit else ""
