"""How a calculator declares what it asks, and how what a reader typed becomes values.

    class Asks(Inputs):
        volume = ask("Free air in the locker", "180 L", above="0 L")
        fan = yes_no("A fan runs with the pump", "no")
        flow = ask("Fan's flow", "120 m3/h", above="0 m3/h", when=is_set("fan"))

The form, the command line, the JSON Schema, the validation and its sentences all come from that
one declaration. `bind` reads layers of texts (typed, boat sheet, page example, ...), never raises
for what a reader typed, and names every fault at once.
"""

from .binding import as_text, bind, limit_text
from .bound import Bound, Layer, is_asked
from .declare import aboard, ask, but, choice, date, logbook, record, rows, text, whole, yes_no
from .fields import (
    NO_SHELVES,
    NONE_LISTED,
    NOT_KNOWN,
    Choice,
    Date,
    Field,
    Log,
    Other,
    Presence,
    Quantity,
    Record,
    Shelves,
    Text,
    When,
    Whole,
    YesNo,
    is_one_of,
    is_set,
)
from .forms import MOST_ROWS, Inputs, Kind, Limit, Rows
from .said import (
    ABSENT,
    CLOCK,
    DEFAULT,
    EXAMPLE,
    LONGEST_TEXT,
    NOWHERE,
    SHEET,
    SHELF,
    TYPED,
    Fault,
    InputError,
    Origin,
    Refusal,
    nearest,
    shortened,
)

__all__ = [
    "ABSENT",
    "CLOCK",
    "DEFAULT",
    "EXAMPLE",
    "LONGEST_TEXT",
    "MOST_ROWS",
    "NONE_LISTED",
    "NOT_KNOWN",
    "NOWHERE",
    "NO_SHELVES",
    "SHEET",
    "SHELF",
    "TYPED",
    "Bound",
    "Choice",
    "Date",
    "Fault",
    "Field",
    "InputError",
    "Inputs",
    "Kind",
    "Layer",
    "Limit",
    "Log",
    "Origin",
    "Other",
    "Presence",
    "Quantity",
    "Record",
    "Refusal",
    "Rows",
    "Shelves",
    "Text",
    "When",
    "Whole",
    "YesNo",
    "aboard",
    "as_text",
    "ask",
    "bind",
    "but",
    "choice",
    "date",
    "is_asked",
    "is_one_of",
    "is_set",
    "limit_text",
    "logbook",
    "nearest",
    "record",
    "rows",
    "shortened",
    "text",
    "whole",
    "yes_no",
]
