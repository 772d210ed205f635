"""What the lists hold of things that are not aboard."""

from __future__ import annotations

from collections.abc import Sequence

from ..frame.report import Report


def told(names: Sequence[str], kept: Sequence[str], show: Report) -> None:
    """What is left out of them, and what is kept as nobody said whether it is there."""
    if names:
        show.note("Left out, as it isn't aboard: {names}.", names=_quoted(names))
    if kept:
        show.note("Kept, as you haven't said whether it is aboard: {kept}.", kept=_quoted(kept))


def _quoted(names: Sequence[str]) -> str:
    return ", ".join(f"“{name}”" for name in names)
