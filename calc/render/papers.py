"""The papers that cards are printed on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Paper:
    """A sheet: its size for `@page`, its margin, and the columns that it is folded into."""

    name: str
    size: str
    margin: str = "9mm"
    columns: int = 1


PAPERS = {
    "a5": Paper("A5", "A5 portrait"),
    "a6-folded": Paper("A6, folded out of A5", "A5 landscape", "8mm", 2),
    "half-letter": Paper("half of Letter", "5.5in 8.5in"),
}
