"""What would make a unit's place good: each answer is tried under all limits before it is told.

Least amounts are rounded up, greatest ones down, so that what is shown holds when it is typed back.
"""

from __future__ import annotations

from ...frame.report import Report
from ...system.place import Placed, failing
from . import fixing_remedies as fixing
from .asked import Asked
from .floor_remedies import mounts_and_floor
from .judge import tight


def remedies(made: Placed, show: Report) -> None:
    """The inverse answers to what fails in a place; where nothing does, to what holds just so."""
    case = Asked(made, failing(made), tight(made))
    if "maker" in case.failing:
        fixing.stands(case, show)
    mounts_and_floor(case, show)
    fixing.level(case, show)
    if "fastening" in case.asked:
        fixing.stronger(case, show)
    elif "washer" in case.asked:
        fixing.wider(case, show)
    fixing.roomier(case, show)
    if "lift" in case.asked:
        fixing.hands(case, show)
