"""A unit in a sea that its membranes don't suit, told alike wherever its water counts."""

from __future__ import annotations

from ..frame.report import Report
from ..system.watermaking import Making


def judge(making: Making, show: Report) -> None:
    """Salty water and membranes that are driven too hard are another page's matter."""
    if making.ails == "salty":
        show.unknown(
            "salty",
            "at {p} the water from this sea is salty: see on the page “Water from this sea” which "
            "pressure to set",
            p=(making.pressure, "bar"),
        )
    if making.ails == "driven":
        show.unknown(
            "driven",
            "at {p} its membranes are driven harder in this sea than they should be: see on the "
            "page “Water from this sea” which pressure to set",
            p=(making.pressure, "bar"),
        )
    if making.ails == "unfit":
        show.unknown(
            "unfit",
            "its membranes don't bear this sea, or so much feed, at any pressure: see on the page "
            "“Water from this sea” what they bear",
        )
