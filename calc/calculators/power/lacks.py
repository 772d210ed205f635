"""What the boat hasn't, told apart and last: it counts in no verdict, headline or remedy."""

from __future__ import annotations

from ...frame.report import Line, Report, least, line
from ...system.aboard import Aboard
from ...system.lacking import lacking
from ...system.motor import Water
from .asks import Asks

Rows = list[tuple[str, Line]]


def tell(q: Asks, show: Report, aboard: Aboard, water: Water) -> None:
    """A row for each source that isn't aboard: how large it would have to be."""
    light = aboard.sun.profile(aboard.air) if aboard.sun else ()
    found = lacking(aboard, water, q.rated_set(), light)
    rows: Rows = []
    if found.generator is not None:
        told = line(
            "{p} continuous, if its windings have {x} of transient reactance",
            p=least(found.generator, "W"),
            x=(q.generator_reactance, "%"),
        )
        rows.append(("Generator", told))
    if found.inverter is not None:
        told = line(
            "{p} continuous, {s} for the start, and a bank to feed it",
            p=least(found.inverter.power, "VA"),
            s=least(found.inverter.surge, "VA"),
        )
        rows.append(("Inverter on a bank", told))
    charging = (
        ("Solar panels", found.panels),
        ("Engine's alternator", found.alternator),
        ("Charger on a generator", found.charger),
    )
    missing = line("{q} more a day", q=least(found.short, "Ah"))
    rows += [(name, missing) for name, lacks in charging if lacks]
    if rows:
        show.table(
            "if-you-had",
            "If you had one",
            ["Not aboard", "It would have to give"],
            rows,
            note="It counts in no verdict.",
        )
