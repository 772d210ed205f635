"""What a calculator asks, for a terminal: each input with its unit, limits and default."""

from __future__ import annotations

import textwrap

from ..guide import Calculator, Guide
from ..inputs import Choice, Field, Other, Quantity, Record, Rows, Whole, YesNo
from ..inputs.fields import ALLOWED
from ..language import spoken
from .text import WIDTH


def told(made: Calculator, guide: Guide) -> str:
    """All inputs of a calculator by group, as one would type them: name=default."""
    parts = [textwrap.fill(f"{spoken(made.title)}: {spoken(made.question)}", WIDTH)]
    groups: dict[str, list[Field]] = {}
    for one in made.asks.fields.values():
        groups.setdefault("What decides" if one.open else one.group or "More", []).append(one)
    for name, members in groups.items():
        parts.append("\n".join([spoken(name), *(_field(one, guide) for one in members)]))
    return "\n\n".join(parts) + "\n"


def _field(made: Field, guide: Guide, indent: str = "  ") -> str:
    lines = [
        f"{indent}{_assigned(made)}",
        _wrapped(f"{spoken(made.label)}. {_allowed(made, guide)}", indent),
    ]
    if isinstance(made, Rows):
        for one in made.row.fields.values():
            lines.append(_field(one, guide, f"{indent}  {made.name}.0."))
    return "\n".join(lines)


def _assigned(made: Field) -> str:
    if isinstance(made, Rows):
        return f"{made.name}.0.…"
    default = f'"{made.default}"' if " " in made.default else made.default
    return f"{made.name}={default}"


def _wrapped(words: str, indent: str) -> str:
    space = " " * (len(indent) + 4)
    return textwrap.fill(
        words.strip(),
        WIDTH,
        initial_indent=space,
        subsequent_indent=space,
        break_on_hyphens=False,  # what is to be typed stays in one piece
    )


def _allowed(made: Field, guide: Guide) -> str:
    """Limits, unit and choices in words."""
    if isinstance(made, Choice):
        return spoken("One of {names}.", names=", ".join(made.choices))
    if isinstance(made, Record):
        return spoken("One of {names}.", names=", ".join(guide.shelf(made.kind)))
    if isinstance(made, YesNo):
        return spoken("yes or no.")
    if isinstance(made, Rows):
        most, one = made.most, spoken(made.one)
        return spoken("A list of at most {most}; of each {one}:", most=most, one=one)
    if not isinstance(made, (Quantity, Whole)):
        return ""
    limits = [spoken(ALLOWED[word], limit=_limit(limit)) for word, limit in made.limits().items()]
    unit = ""
    if isinstance(made, Quantity) and made.unit:
        unit = spoken("In {unit} or another unit.", unit=made.unit) + " "
    allowed = ", ".join(limits)
    return f"{unit}{allowed[:1].upper()}{allowed[1:]}." if limits else unit.strip()


def _limit(limit: object) -> str:
    if isinstance(limit, Other):
        share = "" if limit.factor == 1 else f"{limit.factor:g} × "
        return f"{share}{limit.name}"
    return str(limit)
