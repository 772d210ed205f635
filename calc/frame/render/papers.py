"""The papers that cards are printed on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Paper:
    """A sheet: its size for `@page`, its margin, the columns that it is folded into, and their gap."""

    name: str
    size: str
    margin: str = "9mm"
    columns: int = 1
    gap: str = ""


PAPERS = {
    "a5": Paper("A5", "A5 portrait"),
    "a6-folded": Paper("A6, folded out of A5", "A5 landscape", "6.5mm 8mm", 2, "16mm"),
    "half-letter": Paper("half of Letter", "5.5in 8.5in"),
}
