"""The engine's alternator."""

from __future__ import annotations

from ..equipment import kinds
from ..frame.inputs import Inputs, Refusal, aboard, ask, is_set, record
from ..system import bank as system
from .groups import ENGINE, PRACTICE


class Alternator(Inputs, part=True):
    """The engine's alternator."""

    has_alternator = aboard(
        "The engine's alternator charges the house bank",
        "yes",
        ("alternator", "alternator_current"),
        group=ENGINE,
    )
    alternator = record(
        "Alternator",
        kinds.Alternator,
        "belt-24-70",
        optional=True,
        group=ENGINE,
        when=is_set("has_alternator"),
        rated_by=("alternator_current",),
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

    def alternator_aboard(self) -> system.Alternator | None:
        """The alternator, if there is one, at the engine's charging speed: its output as stated,
        else off the record's curve. Refuses one of which neither says."""
        if not self.has_alternator:
            return None
        own = self.alternator
        amps = self.alternator_current
        if amps is None and own is None:
            raise Refusal(
                "alternator_current", "needs a value, such as 40 A, or choose an alternator above"
            )
        if amps is None and own is not None:
            curve = [(point.speed, point.current) for point in own.output]
            amps = system.off_curve(self.engine_speed, own.pulley_ratio, curve)
        return system.Alternator(
            amps or 0.0, self.engine_fuel, None if own is None else own.voltage
        )
