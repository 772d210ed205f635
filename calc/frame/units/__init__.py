"""Units at the edge: text with a unit becomes an SI float, an SI float becomes text again.

Inside calc every number is an SI float. Where SI leaves a choice open: a temperature is absolute, a
ratio is 1 (80 % is 0.8), a speed is in revolutions per second (a unit of its own: rpm is not Hz).
Pint knows the units; this package knows which of them a reader may use for what (`table.py`), what
they are called on a page, and how a hasty hand writes them (`spellings.py`).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from ...rounding import rounded, trim
from .known import KIND_OF, KINDS, MEASURED, UNITS, Kind, Unit, UnitError, define, kind_of, unit
from .read import (
    find_unit,
    in_watts,
    kind_written,
    of_land,
    one_number,
    own_unit,
    parse,
    parse_any,
    split_number,
)
from .retold import JOINED_BY, in_system, joints, written
from .table import US_TWIN
from .write import (
    SYSTEMS,
    THIN_SPACE,
    chosen_system,
    decimal_mark,
    from_si,
    join,
    money,
    number_text,
    pretty,
    printed,
    shown_unit,
    text,
    told_unit,
    typed_text,
)


@contextmanager
def as_before() -> Iterator[None]:
    """Kinds of quantity that are defined within it are forgotten after it."""
    tables: tuple[dict[Any, Any], ...] = (KINDS, UNITS, KIND_OF, MEASURED)
    kept = [dict(table) for table in tables]
    try:
        yield
    finally:
        for table, before in zip(tables, kept, strict=True):
            table.clear()
            table.update(before)
        for found in (own_unit, one_number, parse, printed, typed_text):
            found.cache_clear()


__all__ = [
    "JOINED_BY",
    "KINDS",
    "SYSTEMS",
    "THIN_SPACE",
    "UNITS",
    "US_TWIN",
    "Kind",
    "Unit",
    "UnitError",
    "as_before",
    "chosen_system",
    "decimal_mark",
    "define",
    "find_unit",
    "from_si",
    "in_system",
    "in_watts",
    "join",
    "joints",
    "kind_of",
    "kind_written",
    "money",
    "number_text",
    "of_land",
    "one_number",
    "own_unit",
    "parse",
    "parse_any",
    "pretty",
    "rounded",
    "shown_unit",
    "split_number",
    "text",
    "told_unit",
    "trim",
    "typed_text",
    "unit",
    "written",
]
