"""The boat's year, as the boat sheet asks for it: months, passages and lay-ups."""

from __future__ import annotations

from .inputs import Inputs, ask, choice, date, yes_no

MONTHS = {
    str(index): name
    for index, name in enumerate(
        ("January", "February", "March", "April", "May", "June", "July", "August", "September",
         "October", "November", "December"), 1,
    )
}  # fmt: skip


class Month(Inputs):
    month = choice("Month", MONTHS)
    daily = ask("Hours a day", "0 h", at_least="0 h", at_most="24 h")


class Passage(Inputs):
    start = date("From", "2026-06-01")
    end = date("To", "2026-06-14")
    daily = ask("Hours a day", "2 h", at_least="0 h", at_most="24 h")


class LayUp(Inputs):
    start = date("From", "2026-11-01")
    end = date("To", "2027-03-31", help="The day you wake it.")
    frost = yes_no("It may freeze there", "no")
