"""What stands under a field: what is wrong with it, or what was understood and where from."""

from __future__ import annotations

from ... import units
from ...inputs import TYPED, Bound, Field, Log, Quantity, Rows, limit_text
from ...language import spoken
from ...report import say
from ..spaces import said, worded
from .parts import YOURS


def sheet_note(made: Field, bound: Bound, system: str) -> str:
    """What stands under a field of the boat sheet: a fault, or where its value comes from."""
    origin = bound.origin(made.name)
    if origin == TYPED or origin.kind == "contradicted" or bound.faults_of(made.name):
        return field_note(made, bound, system)
    value = bound.values.get(made.name)
    holder = bound.holder(made.name)
    if origin.kind == "record" and bound.origin(holder) == TYPED and value is not None:
        return said(f"{made.shown(value, system)}, {origin.text()}")
    return worded("not said yet")


def field_note(made: Field, bound: Bound, system: str, own: str = "") -> str:
    """What stands under a field: what is wrong with it, or what was understood and where from.

    `own` says whose a typed value is.
    """
    own = own or spoken(YOURS)
    wrong = bound.faults_of(made.name)
    if wrong:
        return f'<span class="fault">{said(wrong[0].sentence)}</span>'
    if made.name in bound.lacking:
        return f'<span class="say">{worded("say this: it decides")}</span>'
    origin = bound.origin(made.name)
    value = bound.values.get(made.name)
    if made.name in bound.outgrown:
        return said(bound.shown(made.name, system))
    told = origin.text()
    if origin == TYPED:
        told = f"{own}: {made.shown(value, system)}" if value is not None else own
        told = f"{own}: {bound.taken[made.name]}" if made.name in bound.taken else told
    elif told and made.basis and origin.kind != "default" and not origin.own:
        told = f"{told} ({say(made.basis, system)})"
    elif origin.kind == "default":
        told = units.in_system(told, system)
    if not isinstance(made, Quantity):
        if isinstance(made, Log):
            told = ": ".join(filter(None, (told.partition(":")[0], made.shown(value, system))))
            return said(told)
        return said(own if origin == TYPED else told)
    limits = _limit_words(made, system)
    return said(told) + (f'<span class="allowed">{said(limits)}</span>' if limits else "")


def _limit_words(made: Quantity, system: str) -> str:
    low, high = made.above or made.at_least, made.below or made.at_most
    if not isinstance(low, str) or not isinstance(high, str):
        return ""
    least, most = limit_text(made, low, True, system), limit_text(made, high, False, system)
    return spoken("{least} to {most}", least=least, most=most)


def rows_note(made: Rows, bound: Bound, own: str = "") -> str:
    """Faults of a list as a whole, or where it comes from; `own` says whose a typed one is."""
    wrong = bound.faults_of(made.name)
    if wrong:
        return f'<span class="fault">{said(wrong[0].sentence)}</span>'
    origin, count = bound.origin(made.name), len(bound.values.get(made.name, ()))
    if count > len(bound.rows.get(made.name, ())):
        return worded("all {n} of the equipment records, until you add one", n=str(count))
    return said((own or spoken(YOURS)) if origin == TYPED else origin.text())
