"""An answer for a terminal: the same report, in lines that fit 80 columns."""

from __future__ import annotations

import csv
import io
import itertools
import textwrap
from collections.abc import Sequence

from .. import units
from ..inputs import Bound
from ..language import spoken
from ..offers import OFFERED, WHOSE, offers, with_its_link
from ..report import (
    FITS,
    Amount,
    Figure,
    Line,
    Option,
    Report,
    Step,
    Table,
    as_written,
    parted,
    say,
    verdict_word,
)

WIDTH = 80


def figures_csv(made: Report) -> str:
    """The figures of a report as CSV for other programs (RFC 4180): plain numbers, unit beside."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(
        [
            spoken("where"),
            spoken("what"),
            spoken("value"),
            spoken("unit"),
            spoken("limit"),
            spoken("limit is"),
            spoken("verdict"),
        ]
    )
    groups = [("", made.figures), *((o.name, o.figures) for o in made.options)]
    for where, figures in groups:
        for f in figures:
            symbol = f.value.unit
            limit = "" if f.limit is None else _plain(f.limit)
            state = verdict_word(f.state) if f.limit is not None and f.decides else ""
            writer.writerow(
                [
                    _safe(say(where)),
                    _safe(say(f.label)),
                    _plain(f.value),
                    symbol,
                    limit,
                    _limit_is(f) if limit else "",
                    state,
                ]
            )
    return out.getvalue()


def _limit_is(made: Figure) -> str:
    return spoken("most") if made.limit_is == "most" else spoken("least")


def _plain(amount: Amount) -> str:
    return f"{units.trim(units.from_si(amount.value, amount.unit), 6):.10g}"


def _safe(words: str) -> str:
    """A spreadsheet must not take a name for a formula."""
    return "'" + words if words[:1] in ("=", "+", "-", "@", "\t", "\r") else words


_SIGNS = {"fits": "[ok]", "tight": "[tight]", "fails": "[NO]", "unknown": "[?]"}


def report(
    made: Report,
    system: str = "metric",
    working: bool = False,
    bound: Bound | None = None,
    house: str = "",
) -> str:
    """The whole answer as text, with the steps of the working if asked for.

    `bound` are the form's values, whose things may be sold by somebody; `house` is whose values of
    equipment these are.
    """
    parts = [_wrapped(f"{say(made.title)}: {verdict_word(made.verdict).upper()}")]
    parts.append(_wrapped(made.reason().text(system)))
    parts += [_wrapped(h.text(system)) for h in made.headlines]
    parts += [_table(t, system) for t in made.tables if t.lead]
    parts.append(_figures(spoken("Figures"), made.figures, system))
    parts += [_option(o, system) for o in made.options]
    parts.append(_remedies("", made.verdict, made.remedies, system))
    parts += [_table(t, system) for t in made.tables if not t.lead]
    parts.append(_lines(spoken("Worth knowing"), made.notes, system))
    if working:
        parts.append(_working(made.steps, system))
    parts.append(_offers(bound))
    parts.append(_cautions(made, system))
    parts.append(_whose(house))
    return "\n\n".join(part for part in parts if part) + "\n"


LINES = 24  # of a screen
FEW_REMEDIES, FEW_FIGURES, FEW_WAYS = 2, 3, 4


def brief(made: Report, system: str = "metric", house: str = "") -> str:
    """What fits a screen: the verdict, what to do, the figures one came for, and the cautions' names."""
    ways = made.options[:FEW_WAYS]
    remedies = [*made.ways(FEW_REMEDIES)[0], *(r for way in ways for r in way.remedies)]
    if made.verdict != FITS:
        remedies = parted(made.verdict, remedies)[0]
    told = list(dict.fromkeys(r.text(system) for r in remedies))[:FEW_REMEDIES]
    top = [
        _wrapped(f"{say(made.title)}: {verdict_word(made.verdict).upper()}"),
        _wrapped(made.reason().text(system)),
    ]
    names = "; ".join(say(c.title, system) for c in made.cautions)
    foot = [_wrapped(f"{spoken('Before you touch it')}: {names}.")] if names else []
    foot += [_whose(house)] if house else []
    foot.append(spoken("All of it: --full. With formulas and sources: --working. Inputs: --help."))
    head = [*top, *_to_do(told if made.verdict != FITS else [])]
    while told and _height([*head, *foot]) > LINES:
        told.pop()  # the cautions' names stay
        head = [*top, *_to_do(told)]
    room = LINES - 1 - _height([*head, *foot])
    middle: list[str] = []
    headlines = [_wrapped(h.text(system)) for h in made.headlines[:1]]
    lines = [f"  {spoken(_SIGNS[o.verdict])} {say(o.name, system)}" for o in ways]
    for part in (_few_figures(made, system, room), *headlines, "\n".join(lines)):
        if part and _height([*middle, part]) <= room:
            middle.append(part)
    return "\n\n".join([*head, *middle, *foot]) + "\n"


def _to_do(told: Sequence[str]) -> list[str]:
    """What would make it fit, as a part of its own if there is any."""
    if not told:
        return []
    title = spoken("What would make it fit")
    return ["\n".join([title, *(_wrapped(w, "  - ") for w in told)])]


def _height(parts: Sequence[str]) -> int:
    return sum(part.count("\n") + 2 for part in parts)


def _few_figures(made: Report, system: str, room: int) -> str:
    """The figures one came for, then those that are nearest to their limits; without notes."""
    best = made.best_option()
    held = [f for f in [*made.figures, *(best.figures if best else [])] if f.decides and f.limit]
    nearest = sorted(held, key=lambda f: -f.used)
    wanted = made.wanted_figures()
    found = {f.key: f for f in [*wanted, *nearest]}
    few = list(found.values())[: max(FEW_FIGURES, len(wanted) + 1)]
    while few and _figures(spoken("Figures"), few, system, False).count("\n") + 2 > room:
        few.pop()
    return _figures(spoken("Figures"), few, system, False)


def _remedies(indent: str, verdict: str, lines: Sequence[Line], system: str) -> str:
    mending, far = parted(verdict, lines)
    told = (
        _lines(indent + spoken("What would make it fit"), mending, system),
        _lines(indent + spoken("How far it reaches"), far, system),
    )
    return "\n".join(part for part in told if part)


def _wrapped(words: str, indent: str = "") -> str:
    return textwrap.fill(words, WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent))


def _figures(title: str, found: Sequence[Figure], system: str, notes: bool = True) -> str:
    if not found:
        return ""
    rows = []
    for f in found:
        limit = margin = sign = ""
        if f.limit is not None and f.margin is not None:
            limit = ("≤ " if f.limit_is == "most" else "≥ ") + f.limit.text(system)
            margin = f.left_over(system)
            sign = spoken(_SIGNS[f.state]) if f.decides else ""
        rows.append((say(f.label, system), f.value.text(system), limit, margin, sign))
    return title + "\n" + _columns(rows, "lrrrl", [say(f.note, system) for f in found if notes])


def _columns(rows: Sequence[Sequence[str]], sides: str, notes: Sequence[str] = ()) -> str:
    """Rows side by side, under each its note if it has one."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    beside = sum(widths[1:]) + 2 * len(widths)
    widths[0] = min(widths[0], 44, max(20, WIDTH - beside))
    out = []
    for row, note in itertools.zip_longest(rows, notes, fillvalue=""):
        first = textwrap.wrap(row[0], widths[0]) or [""]
        cells = [
            cell.rjust(w) if side == "r" else cell.ljust(w)
            for cell, w, side in zip([first[-1], *row[1:]], widths, sides, strict=True)
        ]
        out += ["  " + line for line in first[:-1]]
        out.append(("  " + "  ".join(cells)).rstrip())
        if note:
            out.append(_wrapped(note, "    "))
    return "\n".join(out)


def _option(made: Option, system: str) -> str:
    parts = [
        _wrapped(
            f"{spoken(_SIGNS[made.verdict])} {say(made.name, system)} ({verdict_word(made.verdict)}): {made.reason().text(system)}"
        ),
        _figures("  " + spoken("figures"), made.figures, system),
        _remedies("  ", made.verdict, made.remedies, system),
    ]
    return "\n".join(part for part in parts if part)


def _lines(title: str, lines: Sequence[Line], system: str) -> str:
    if not lines:
        return ""
    return title + "\n" + "\n".join(_wrapped(made.text(system), "  - ") for made in lines)


def _offers(bound: Bound | None) -> str:
    found = offers(bound) if bound else []
    lines = [_wrapped(with_its_link(one), "  - ") for one in found]
    return "\n".join([spoken(OFFERED), *lines]) if found else ""


def _whose(house: str) -> str:
    return _wrapped(spoken(WHOSE, house=house)) if house else ""


def _table(made: Table, system: str) -> str:
    rows = [
        [c.text(system) if isinstance(c, Amount) else say(c, system) for c in row]
        for row in made.rows
    ]
    heads, title = [say(c, system) for c in made.columns], say(made.title, system)
    signs = [spoken(_SIGNS[state]) if state else "" for state in made.states]
    signs = signs or [""] * len(rows)
    marked = [[*row, sign] for row, sign in zip(rows, signs, strict=True)]
    if len("  ".join(heads)) <= WIDTH and all(len("  ".join(r)) <= WIDTH for r in marked):
        return title + "\n" + _columns([[*heads, ""], *marked], "l" * (len(heads) + 1))
    blocks = []
    for index, row in enumerate(rows):
        sign = f"{signs[index]} " if signs[index] else ""
        told = "; ".join(f"{h}: {c}" for h, c in zip(heads[1:], row[1:], strict=True) if c)
        blocks.append(_wrapped(f"{sign}{row[0]}. {told}", "  - "))
    return title + "\n" + "\n".join(blocks)


def _working(steps: Sequence[Step], system: str) -> str:
    out = [spoken("Working")]
    for number, step in enumerate(steps, 1):
        put_in = ", ".join(f"{name} = {a.text(system)}" for name, a in step.where.items())
        out.append(f"  {number}. {say(step.label, system)}: {step.result.text(system)}")
        out.append(f"     {step.formula}")
        out.append(_wrapped(spoken("with {values}", values=put_in), "     "))
        out.append(_wrapped(spoken("Source: {source}", source=as_written(step.source)), "     "))
        if step.note:
            out.append(_wrapped(say(step.note, system), "     "))
    return "\n".join(out)


def _cautions(made: Report, system: str) -> str:
    if not made.cautions:
        return ""
    return (
        spoken("Before you touch it")
        + "\n"
        + "\n".join(
            _wrapped(f"{say(c.title, system)}. {say(c.text, system)}", "  ! ")
            for c in made.cautions
        )
    )
