"""The calculation package of Brinebook: what a watermaker asks of a boat, in pure Python.

from calc import answer
answer("power", bank_capacity="400 Ah", bank_chemistry="lifepo4").verdict
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from .version import VERSION

if TYPE_CHECKING:  # a browser starts sooner without
    from .frame.report import Report

__version__ = VERSION


class InputRefused(ValueError):
    """What was given cannot be answered; one sentence a line, each naming a field."""


def answer(
    calculator: str, /, *, boat: str = "", sheet: Mapping[str, Any] | None = None, **values: Any
) -> Report:
    """The answer of a calculator of the stock guide.

    `values` are what a reader would type, by field: texts with units ("400 Ah"), choices, records'
    keys, True and False, lists of rows. `sheet` is a boat sheet's values, which count where a value
    is not given; `boat` names a demo boat, for what neither gives (else the fields' defaults). A
    sheet without a demo boat is a boat of one's own: what it doesn't say is not there.

    Raises KeyError for an unknown calculator or boat, with the nearest name, and InputRefused with
    every fault at once.
    """
    from . import stock
    from .frame.language import lazily, one_of, spoken

    guide = stock.guide()
    example = {"boat": boat} if boat else {}
    own = sheet is not None and not boat
    outcome = guide.run(guide.get(calculator), values, sheet, example, own_boat=own)
    if outcome.lacks:
        fields = outcome.bound.asks.fields
        rows = [[lazily(fields[name].label) for name in row] for row in outcome.lacks]
        said = "{what}: not said yet, and it decides"
        raise InputRefused("\n".join(spoken(said, what=one_of(row)) for row in rows))
    if outcome.report is None:
        raise InputRefused("\n".join(map(str, outcome.bound.faults)))
    return outcome.report
