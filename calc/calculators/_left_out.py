"""What the lists hold of things that are not aboard."""

from __future__ import annotations

from collections.abc import Sequence

from ..frame.report import Report


def told(names: Sequence[str], show: Report) -> None:
    """What is left out of them."""
    if names:
        show.note(
            "Left out, as it isn't aboard: {names}.", names=", ".join(f"“{name}”" for name in names)
        )
