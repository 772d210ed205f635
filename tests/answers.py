"""What tests ask of an answer: figures and reasons by key, slots of sentences; never its English."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calc import stock
from calc.frame.report import Figure, Line, Option, Remedy, Report, Step, Table, Words

Part = Report | Option


def typed(form: str = "", **more: str) -> dict[str, str]:
    """What is typed into a form: "dc_run: 6 m; dc_size: AWG 2", and more by name."""
    pairs = (pair.partition(":") for pair in form.split(";") if pair.strip())
    return {name.strip(): text.strip() for name, _, text in pairs} | more


def answered(
    name: str, texts: Mapping[str, Any], boat: str = "", verdict_only: bool = False
) -> Report:
    """A calculator's answer, for an example boat if one is named."""
    example = {"boat": boat} if boat else {}
    outcome = stock.guide().run(
        stock.guide().get(name), texts, example=example, verdict_only=verdict_only
    )
    assert outcome.report is not None, [str(f) for f in outcome.bound.faults]
    return outcome.report


def both(name: str, other: str, texts: Mapping[str, Any], boat: str) -> tuple[Any, Any] | None:
    """What two calculators ask of one boat, of what is typed as far as each asks it; None where
    either has no answer."""
    guide, found = stock.guide(), []
    for one in (name, other):
        made = guide.get(one)
        shared = {key: text for key, text in texts.items() if key in made.asks.fields}
        outcome = guide.run(made, shared, example={"boat": boat})
        if outcome.report is None:
            return None
        found.append(made.asks.of(outcome.bound.values))
    return found[0], found[1]


def refused(name: str, texts: Mapping[str, Any], boat: str = "") -> dict[str, str]:
    """What is wrong with what was typed, by field."""
    example = {"boat": boat} if boat else {}
    outcome = stock.guide().run(stock.guide().get(name), texts, example=example)
    assert outcome.report is None
    return {fault.field: fault.sentence for fault in outcome.bound.faults}


def figure(part: Part, key: str) -> Figure:
    return next(f for f in part.figures if f.key == key)


def has(part: Part, key: str) -> bool:
    return any(f.key == key for f in part.figures)


def value(part: Part, key: str) -> float:
    return figure(part, key).value.value


def limit(part: Part, key: str) -> float:
    found = figure(part, key).limit
    assert found is not None
    return found.value


def state(part: Part, key: str) -> str:
    return figure(part, key).state


def option(made: Report, key: str) -> Option:
    return next(o for o in made.options if o.key == key)


def failures(part: Part) -> list[str]:
    """The keys of what fails beside the figures."""
    return [found.key for found in part.failures]


def unknowns(part: Part) -> list[str]:
    """The keys of what nobody can tell."""
    return [found.key for found in part.unknowns]


def table(made: Report, key: str) -> Table:
    return next(t for t in made.tables if t.key == key)


def sets(part: Part, place: int = 0) -> dict[str, str]:
    """What a remedy fills in, the first if no other is named."""
    found = part.remedies[place]
    return found.typed() if isinstance(found, Remedy) else {}


def slots(words: Words) -> dict[str, str]:
    """The slots of a sentence as text."""
    if isinstance(words, str):
        return {}
    return {name: s if isinstance(s, str) else s.text() for name, s in words.amounts.items()}


def all_slots(words: Words) -> Iterator[str]:
    """The texts in the slots of a sentence and of the sentences in them."""
    if isinstance(words, str):
        return
    for slot in words.amounts.values():
        if isinstance(slot, Line):
            yield from all_slots(slot)
        else:
            yield slot if isinstance(slot, str) else slot.text()


def rows(lines: str) -> list[tuple[str, ...]]:
    """A table of cases, one a line, its cells parted by bars; a line that begins with # tells."""
    kept = (line.strip() for line in lines.strip().splitlines())
    found = [tuple(cell.strip() for cell in line.split("|")) for line in kept if line[:1] != "#"]
    assert len({len(cells) for cells in found}) == 1, "each line has as many cells"
    return found


def line_parts(made: Report) -> list[Line]:
    """The parts of the one-line drawing in words, from the source on."""
    found, words = [], made.drawings[0].description
    while isinstance(words, Line) and (inner := words.amounts.get("parts")):
        words = inner
    while isinstance(words, Line):
        found.append(words)
        words = words.amounts.get("others", "")
    return found


def remedy_for(part: Part, *fields: str) -> Remedy | None:
    """The remedy that fills in just these fields."""
    found = (r for r in part.remedies if isinstance(r, Remedy) and set(r.sets) == set(fields))
    return next(found, None)


def step(made: Report, result: str) -> Step:
    """The step of the working that gives a quantity, by its symbol."""
    return next(s for s in made.steps if s.formula.startswith(f"{result} ="))


def hottest(report: Report, key: str) -> float:
    """Of a locker: hottest air, frame or winding before it is told in whole degrees; air at the run's end."""
    chart = report.charts[0]
    points = next(series.points for series in chart.series if series.label == key)
    if key == "air":
        return max(y for x, y in points if any(b.start <= x <= b.end for b in chart.bands))
    return max(y for _, y in points)


def noted(made: Report, *names: str) -> dict[str, str] | None:
    """The slots of the note or remedy that has just these, None if there is none."""
    found = (slots(words) for words in (*made.notes, *made.remedies))
    return next((pairs for pairs in found if set(pairs) == set(names)), None)
