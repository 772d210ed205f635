"""The boat's year, as the boat sheet asks for it: months, passages and lay-ups."""

from __future__ import annotations

from ..frame.inputs import Inputs, ask, choice, date, yes_no

MONTHS = {
    str(index): name
    for index, name in enumerate(
        (
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ),
        1,
    )
}


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
    warmest = ask("Warmest there", "25 °C", at_least="-40 °C", at_most="70 °C")
    visits = ask(
        "Somebody can see to it every",
        "30 days",
        at_least="1 days",
        at_most="1830 days",
        help="If nobody comes: as long as the lay-up.",
    )
    bag_along = yes_no(
        "You take the bagged membranes with you",
        "no",
        help="Counts where it may freeze: you renew their preservative wherever you are.",
    )
