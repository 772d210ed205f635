"""The engine's alternator."""

from __future__ import annotations

from ..equipment import kinds
from ..frame.inputs import Inputs, ask, is_set, record, yes_no
from .groups import ENGINE, PRACTICE


class Alternator(Inputs, part=True):
    """The engine's alternator."""

    has_alternator = yes_no("The engine's alternator charges the house bank", "yes", group=ENGINE)
    alternator = record(
        "Alternator",
        kinds.Alternator,
        "belt-24-70",
        optional=True,
        group=ENGINE,
        when=is_set("has_alternator"),
    )
    engine_speed = ask(
        "Engine's speed while it charges",
        "1400 rpm",
        group=ENGINE,
        above="0 rpm",
        at_most="6000 rpm",
        when=is_set("has_alternator"),
    )
    alternator_current = ask(
        "Alternator's output, hot, at that speed",
        unit="A",
        group=ENGINE,
        at_least="0 A",
        at_most="1000 A",
        optional=True,
        when=is_set("has_alternator"),
        help="Left empty: read from the alternator's curve.",
    )
    engine_fuel = ask(
        "Engine's fuel at that speed",
        "1.8 L/h",
        group=ENGINE,
        at_least="0 L/h",
        at_most="100 L/h",
        when=is_set("has_alternator"),
        basis=PRACTICE,
    )
