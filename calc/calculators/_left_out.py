"""What the lists hold of a boost pump, on a boat that has none."""

from __future__ import annotations

from collections.abc import Sequence

from ..frame.report import Report


def told(names: Sequence[str], show: Report) -> None:
    """What is left out of them."""
    if names:
        show.note(
            "Left out, as there is no boost pump: {names}.",
            names=", ".join(f"“{name}”" for name in names),
        )
