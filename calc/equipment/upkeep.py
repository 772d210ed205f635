"""What records of upkeep hold: tasks with their intervals, and parts that wear or fail.

The rows of a form hold the same, less what only a record needs.
"""

from __future__ import annotations

from ..frame.inputs import Inputs, Kind, ask, choice, text, whole, yes_no

WHO = {
    "owner": "you",
    "mechanic": "a mechanic",
    "electrician": "a licensed electrician",
    "licensed": "a workshop licensed for pressure equipment",
}
# What a number in a row is meant for; a unit may have several membranes.
PER = {"unit": "the unit", "membrane": "each membrane"}
# Whose it is: on a boat without a boost pump nothing of one falls due.
PART_OF = {
    "unit": "the unit",
    "boost": "the boost pump",
    "relief": "the relief valve",
    "switch": "the low-pressure switch",
    "carbon": "the carbon filter in the flush line",
    "meter": "the salinity meter",
}
LAID_UP = {
    "after": "waits for waking",
    "before": "is done before you leave",
    "during": "must be done all the same",
}


class TaskRow(Inputs):
    name = text("Task", optional=False)
    hours = ask(
        "Every so many running hours", unit="h", at_least="10 h", at_most="100000 h", optional=True
    )
    months = ask(
        "Every so many months",
        unit="months",
        at_least="7 days",
        at_most="30 years",
        optional=True,
        help="Days, weeks and years will do too.",
    )
    first_hours = ask(
        "The first time after", unit="h", at_least="1 h", at_most="100000 h", optional=True
    )
    before_lay_up = yes_no("Before a lay-up", "no")
    after_lay_up = yes_no("On waking", "no")
    laid_up = choice("If its date falls into a lay-up, it", LAID_UP, "after")
    condition = text("Or sooner, when")
    duration = ask("Takes", "30 min", at_least="0 min", at_most="100 h")
    parts = text("Parts")
    tools = text("Tools")
    price = ask("Price of the parts", "0 ¤", at_least="0 ¤", at_most="100000 ¤")
    per = choice("Parts and their price are for", PER, "unit")
    part_of = choice("It is done to", PART_OF, "unit")
    who = choice("Who may do it", WHO, "owner")


class Task(Kind, TaskRow):
    basis = text("Where the intervals come from", "invented")
    units = text("Keys of the units it belongs to; all if empty")


class PartRow(Inputs):
    name = text("Part", optional=False)
    task = text("Changed with the task", help="Its name in the list of tasks; empty if none.")
    per_change = whole("Used each time", "1", at_least=0, at_most=50)
    fitted = whole("Fitted", "1", at_least=1, at_most=20, help="How many of it can fail.")
    per = choice("Both numbers are for", PER, "unit")
    part_of = choice("It is a part of", PART_OF, "unit")
    rate = ask(
        "Fails at random",
        unit="/1000 h",
        at_least="0 /1000 h",
        at_most="20 /1000 h",
        optional=True,
        help="Each of them, per thousand running hours. Empty if it only wears out.",
    )
    shape = ask(
        "Wears out: Weibull shape",
        unit="",
        above="0.3",
        at_most="10",
        optional=True,
        help="1 is at random, 2 to 4 is wear.",
    )
    life = ask(
        "Wears out: characteristic life",
        unit="h",
        at_least="20 h",
        at_most="1000000 h",
        optional=True,
        help="The running hours by which 63 % of them have failed.",
    )
    age = ask(
        "Its age now",
        unit="h",
        at_least="0 h",
        at_most="1000000 h",
        optional=True,
        help="Empty: since the task was last done by the log.",
    )
    mass = ask("Mass of one", "0.1 kg", at_least="0 kg", at_most="200 kg")
    price = ask("Price of one", "0 ¤", at_least="0 ¤", at_most="100000 ¤")


class Part(Kind, PartRow):
    basis = text("Where its failures come from", "invented")
    units = text("Keys of the units it belongs to; all if empty")
