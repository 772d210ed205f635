"""What an answer is made of. A calculator fills a `Report`; the verdict follows from its figures.

Values go in as SI floats with the unit symbol they are shown in. They are trimmed to nine
significant digits (`units.trim`) before they are compared, so a report is the same, byte for byte,
on every machine, and a verdict can never differ from the figures beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from .cautions import Caution
from .figures import (
    FAILS,
    FITS,
    SEVERITY,
    TIGHT,
    TIGHT_DECIBELS,
    TIGHT_MARGIN,
    UNASKED,
    UNKNOWN,
    VERDICT_WORDS,
    Figure,
    Held,
    Step,
    against,
    figure,
    parted,
    verdict_word,
)
from .pictures import Axis, Band, Bars, Chart, Drawing, Lane, Mark, Series, Shape, Stay, Timeline
from .words import (
    Amount,
    Line,
    Linked,
    Pair,
    Reason,
    Remedy,
    Setting,
    Slot,
    Words,
    amount,
    as_written,
    counted,
    least,
    line,
    linked,
    most,
    reason,
    remedy,
    say,
)

__all__ = [
    "FAILS",
    "FITS",
    "TIGHT",
    "TIGHT_DECIBELS",
    "TIGHT_MARGIN",
    "UNASKED",
    "UNKNOWN",
    "VERDICT_WORDS",
    "Amount",
    "Axis",
    "Band",
    "Bars",
    "Chart",
    "Download",
    "Drawing",
    "Figure",
    "Lane",
    "Line",
    "Linked",
    "Mark",
    "Option",
    "Pair",
    "Reason",
    "Remedy",
    "Report",
    "Series",
    "Setting",
    "Shape",
    "Stay",
    "Step",
    "Table",
    "Timeline",
    "Words",
    "amount",
    "as_written",
    "counted",
    "least",
    "line",
    "linked",
    "most",
    "parted",
    "say",
    "verdict_word",
]


@dataclass(frozen=True)
class Download:
    """A file that the reader may keep: its name, its media type, and what writes its text."""

    key: str
    name: str
    label: str
    media_type: str
    write: Callable[[], str]

    @cached_property
    def text(self) -> str:
        """Its text, written when it is first asked for."""
        return self.write()

    def as_data(self) -> dict[str, str]:
        return {"key": self.key, "name": self.name, "type": self.media_type, "text": self.text}


@dataclass(frozen=True)
class Table:
    """A table of amounts or texts; `states` colours rows by verdict when given.

    A table that is the answer at one glance may `lead`: it stands right under the headline. A
    reference card has room for its columns `on_card`, by their places, and for the first rows; of
    one that is `whole`, things to buy and how much of each, for all. One of `steps` that hands
    follow, each with its number, what to do and why, stands open, and a card has all of it; one
    that is longer than a card, and so not `carried`, it leaves to the page; one that is made for
    paper the page has `folded`. One that is the answer itself stands open `at_once`, under the
    numbers one came for.
    """

    key: str
    title: Words
    columns: Sequence[Words]
    rows: Sequence[Sequence[Amount | Words]]
    states: Sequence[str] = ()
    note: Words = ""
    lead: bool = False
    on_card: Sequence[int] = ()
    steps: bool = False
    whole: bool = False
    carried: bool = True
    at_once: bool = False
    folded: bool = False

    def as_data(self) -> dict[str, Any]:
        def cell(c: Amount | Words) -> Any:
            return c if isinstance(c, str) else c.as_data()

        return {
            "key": self.key,
            "title": say(self.title),
            "columns": [say(c) for c in self.columns],
            "rows": [[cell(c) for c in row] for row in self.rows],
            "states": list(self.states),
            "note": say(self.note),
        }


@dataclass
class Option:
    """One of several ways to do it (a generator, an inverter ...), with figures of its own."""

    key: str
    name: Words
    figures: list[Figure] = field(default_factory=list)
    remedies: list[Line] = field(default_factory=list)
    unknowns: list[Reason] = field(default_factory=list)
    failures: list[Reason] = field(default_factory=list)
    reservations: list[Reason] = field(default_factory=list)

    def figure(self, key: str, label: Words, value: float, unit: str, **settings: Any) -> float:
        """Adds a figure; see `Report.figure`."""
        self.figures.append(figure(key, label, value, unit, **settings))
        return value

    def held(self, key: str, label: Words, held: Held, unit: str, **settings: Any) -> None:
        """Adds a value that is held against a limit; see `Report.figure`."""
        self.figure(key, label, held.value, unit, **against(held), **settings)

    def remedy(
        self,
        template: str,
        *,
        sets: Any = None,
        mends: Any = "",
        as_reach: Any = False,
        **pairs: Any,
    ) -> None:
        """What would make it fit; see `Report.remedy`. Of a way that is able, but tight, what only
        tells how far it reaches is told so (`as_reach`)."""
        self.remedies.append(remedy(template, sets, mends, as_reach, **pairs))

    def unknown(self, key: str, template: str, /, **pairs: Slot) -> None:
        """Something that must be known before this can be judged."""
        self.unknowns.append(reason(key, template, **pairs))

    def fail(self, key: str, template: str, /, **pairs: Slot) -> None:
        """A reason why it cannot work at all, where no figure can be given."""
        self.failures.append(reason(key, template, **pairs))

    def reservation(self, key: str, template: str, /, **pairs: Slot) -> None:
        """Why it is no better than tight, though every figure of its own holds."""
        self.reservations.append(reason(key, template, **pairs))

    @property
    def verdict(self) -> str:
        return _worst(self)

    @property
    def decider(self) -> Reason | Figure | None:
        """The figure or reason that decides; None where nothing is held."""
        return _deciding(self)

    @property
    def decided_by(self) -> str:
        """The key of the figure or reason that decides; "" where nothing is held."""
        return _decided_by(self)

    def reason(self) -> Line:
        return _reason(self)

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "name": say(self.name),
            "verdict": self.verdict,
            "reason": {**self.reason().as_data(), "key": self.decided_by},
            **_reasons(self),
            "figures": [f.as_data() for f in self.figures],
            "remedies": [r.as_data() for r in self.remedies],
        }


def _worst(part: Option | Report) -> str:
    """The verdict of figures that must all hold."""
    if part.failures:
        return FAILS
    found = [figure.state for figure in part.figures]
    if part.unknowns:
        found.append(UNKNOWN)
    if isinstance(part, Option) and part.reservations:
        found.append(TIGHT)
    return max(found, key=SEVERITY.__getitem__, default=FITS)


def _reasons(part: Option | Report) -> dict[str, Any]:
    """What stands against it beside its figures, as data."""
    found = {"failures": part.failures, "unknowns": part.unknowns}
    if isinstance(part, Option):
        found["reservations"] = part.reservations
    return {kind: [reason.as_data() for reason in reasons] for kind, reasons in found.items()}


def _deciding(part: Option | Report) -> Reason | Figure | None:
    """What decides the verdict of figures that must all hold: the one reason, or figure."""
    if part.failures:
        return part.failures[0]
    judged = [f for f in part.figures if f.decides and f.margin is not None]
    tightest = min(judged, key=lambda f: f.margin or 0.0, default=None)
    failing = tightest is not None and tightest.state == FAILS
    if part.unknowns and not failing:
        return part.unknowns[0]
    if isinstance(part, Option) and part.reservations and not failing:
        return part.reservations[0]
    return tightest


def _reason(part: Option | Report) -> Line:
    """Why the verdict of figures that must all hold is what it is."""
    found = _deciding(part)
    if found is None:
        return Line("nothing to hold it against")
    return found.reason() if isinstance(found, Figure) else found


def _decided_by(part: Option | Report) -> str:
    """The key of what decides the verdict of figures that must all hold."""
    found = _deciding(part)
    return found.key if found else ""


class Report:
    """An answer under construction; `answer(q, show)` receives it as `show`."""

    def __init__(self, title: str, question: str) -> None:
        self.title = title
        self.question = question
        self.headlines: list[Line] = []
        self.figures: list[Figure] = []
        self.options: list[Option] = []
        self.remedies: list[Line] = []
        self.notes: list[Line] = []
        self.unknowns: list[Reason] = []
        self.failures: list[Reason] = []
        self.steps: list[Step] = []
        self.charts: list[Chart] = []
        self.drawings: list[Drawing] = []
        self.timelines: list[Timeline] = []
        self.bars: list[Bars] = []
        self.downloads: list[Download] = []
        self.tables: list[Table] = []
        self.wanted: Sequence[str] = ()  # keys of the figures one comes for, best first
        self.picture = ""  # key of the one that says it at a glance
        self.facts: set[str] = set()
        self.cautions: list[Caution] = []  # by the table in `cautions`, once it is answered
        self.borrowed: list[Caution] = []  # those of the answers that this one is put together of
        self.ask: object = None  # what it asks of other calculators with: see `asking`

    def headline(self, template: str, **pairs: Slot) -> None:
        """The one plain sentence with the numbers that matter."""
        self.headlines.append(line(template, **pairs))

    def figure(self, key: str, label: Words, value: float, unit: str, **settings: Any) -> float:
        """Adds a result and returns it.

        `at_most` or `at_least` is the SI limit it is held against, shown in `limit_unit` or `unit`,
        and rounded to its safe side where it is a `safe_limit`, for a reader who types it back;
        `decides=False` only tells it; `says` is the reason given when this figure decides; `zero`
        is where its scale begins for the margin, and `by_ear` judges a distance in decibels. A
        figure that is itself a limit to keep has a `rounding`, "down" or "up".
        """
        self.figures.append(figure(key, label, value, unit, **settings))
        return value

    def held(self, key: str, label: Words, held: Held, unit: str, **settings: Any) -> None:
        """Adds a value that is held against a limit; see `figure`."""
        self.figure(key, label, held.value, unit, **against(held), **settings)

    def take(self, part: Option, *, failing: bool = False) -> None:
        """Adds a part that was judged by itself, with all its figures, or with the `failing` alone
        where it is told elsewhere."""
        self.figures += [f for f in part.figures if not failing or f.state == FAILS]
        self.unknowns += part.unknowns
        self.failures += part.failures
        self.remedies += part.remedies

    def step(
        self,
        label: Words,
        value: float,
        unit: str,
        formula: str,
        where: Mapping[str, Pair],
        source: Words,
        note: Words = "",
    ) -> float:
        """Adds a step of the working and returns its value.

        `formula` is "result = expression" in Python's notation over the SI values of `where`; a
        test evaluates it, so that the working shown is the working done. Greek letters by name,
        subscripts after an underscore.
        """
        placed = {name: amount(*pair) for name, pair in where.items()}
        self.steps.append(Step(label, amount(value, unit), formula, placed, source, note))
        return value

    def option(self, key: str, name: Words) -> Option:
        """One of several ways to do it. The report's verdict is then that of its best option."""
        made = Option(key, name)
        self.options.append(made)
        return made

    def remedy(self, template: str, *, sets: Any = None, mends: Any = "", **pairs: Any) -> None:
        """What would make it fit: an inverse answer as a sentence.

        `sets` is what to fill in to try it, by field: `sets={"bank_capacity": least(ah, "Ah")}`;
        the reader gets a button for it, and a law of the frame tries it: with it the figure `mends`
        holds (without one: the verdict), and with one step less it does not.
        """
        self.remedies.append(remedy(template, sets, mends, **pairs))

    def note(self, template: str, **pairs: Slot) -> None:
        """A sentence worth saying that is neither a remedy nor a caution."""
        self.notes.append(line(template, **pairs))

    def unknown(self, key: str, template: str, /, **pairs: Slot) -> None:
        """Something that must be known before this can be judged."""
        self.unknowns.append(reason(key, template, **pairs))

    def fail(self, key: str, template: str, /, **pairs: Slot) -> None:
        """A reason why it cannot work at all, where no figure can be given."""
        self.failures.append(reason(key, template, **pairs))

    def fact(self, fact: str) -> None:
        """Something found that a caution hangs on: see `cautions.RULES`."""
        self.facts.add(fact)

    def chart(self, chart: Chart) -> None:
        """Adds a chart; of one whose curves never move a number says as much."""
        if not chart.still:
            self.charts.append(chart)
            return
        drawn = [one for one in chart.series if one.points]
        ends = [amount(one.points[0][1], chart.y.unit) for one in drawn]
        alike = len({end.text() for end in ends}) == 1 < len(drawn)
        for series, end in list(zip(drawn, ends, strict=True))[: 1 if alike else None]:
            what = chart.y.label if alike else series.label or chart.y.label
            self.note("{title}: {what} stays at {v}.", title=chart.title, what=what, v=end)

    def drawing(self, drawing: Drawing) -> None:
        self.drawings.append(drawing)

    def timeline(self, timeline: Timeline) -> None:
        self.timelines.append(timeline)

    def bar_chart(self, bars: Bars) -> None:
        self.bars.append(bars)

    def download(
        self, key: str, name: str, label: str, media_type: str, write: Callable[[], str]
    ) -> None:
        """Offers a file; `label` is what the link to it says, `write` gives its text."""
        self.downloads.append(Download(key, name, label, media_type, write))

    def table(
        self,
        key: str,
        title: Words,
        columns: Sequence[Words],
        rows: Iterable[Sequence[Pair | Amount | Words]],
        states: Sequence[str] = (),
        note: Words = "",
        lead: bool = False,
        on_card: Sequence[int] = (),
        steps: bool = False,
        whole: bool = False,
        carried: bool = True,
        at_once: bool = False,
        folded: bool = False,
    ) -> None:
        """Adds a table; a cell is (SI value, unit), a Line or text. `lead` puts it first; one of
        `steps` stands open and is never cut; see `Table`."""
        made = [[amount(*c) if isinstance(c, tuple) else c for c in row] for row in rows]
        card = (on_card, steps, whole, carried, at_once, folded)
        self.tables.append(Table(key, title, columns, made, states, note, lead, *card))

    def own(self) -> tuple[str, Line]:
        """Verdict and reason of the report's own figures, whatever its options say."""
        return _worst(self), _reason(self)

    @property
    def verdict(self) -> str:
        """The worst of the report's own figures and of its best option."""
        own = _worst(self)
        if not self.options:
            return own
        best = min((o.verdict for o in self.options), key=SEVERITY.__getitem__)
        return max(own, best, key=SEVERITY.__getitem__)

    def best_option(self) -> Option | None:
        """The option that decides, if there are any: the best verdict, the first of equals."""
        return min(self.options, key=lambda o: SEVERITY[o.verdict], default=None)

    def wanted_figures(self, most: int = 3) -> list[Figure]:
        """The numbers that one comes for, of the report and of the option that decides."""
        best = self.best_option()
        found = {f.key: f for f in [*(best.figures if best else []), *self.figures]}
        return [found[key] for key in self.wanted if key in found][:most]

    @property
    def decider(self) -> Option | None:
        """The option whose verdict is the report's, None where its own figures decide."""
        best, own = self.best_option(), _worst(self)
        own_decides = best is None or (own != FITS and SEVERITY[own] >= SEVERITY[best.verdict])
        return None if own_decides else best

    def reason(self) -> Line:
        best = self.decider
        if best is None:
            return _reason(self)
        return Line("{way}: {reason}", {"way": best.name, "reason": best.reason()})

    def ways(self, few: int) -> tuple[list[Line], list[Line]]:
        """What to do, of the report and of the option that decides: a few to begin with, and more.

        What mends the figure or reason that decides comes first. Where all figures hold and a
        reservation decides, nothing else makes it fit; and how far it reaches does nowhere.
        """
        best, decider = self.best_option(), self.decider
        every = [*self.remedies, *(best.remedies if best else [])]
        found, far = (every, []) if self.verdict == FITS else parted(self.verdict, every)
        decided = self.decided_by
        aims = [isinstance(one, Remedy) and one.mends == decided != "" for one in found]
        aimed = [one for one, does in zip(found, aims, strict=True) if does]
        others = [one for one, does in zip(found, aims, strict=True) if not does]
        reserved = decider is not None and decided in [one.key for one in decider.reservations]
        told = [*aimed, *others]
        count = min(few, len(aimed)) if aimed and reserved else few
        return told[:count], [*told[count:], *far]

    @property
    def decided_by(self) -> str:
        """The key of the figure or reason that decides, of the report or of its best option."""
        return _decided_by(self.decider or self)

    def sources(self) -> list[str]:
        """Every source named in the working, once, in order."""
        return list(dict.fromkeys(as_written(step.source) for step in self.steps))

    def as_data(self) -> dict[str, Any]:
        """The report as plain data for JSON: SI values with the unit each is shown in."""
        return {
            "title": say(self.title),
            "question": say(self.question),
            "verdict": self.verdict,
            "verdict_word": verdict_word(self.verdict),
            "reason": {**self.reason().as_data(), "key": self.decided_by},
            "headline": [h.as_data() for h in self.headlines],
            **_reasons(self),
            "figures": [f.as_data() for f in self.figures],
            "options": [o.as_data() for o in self.options],
            "remedies": [r.as_data() for r in self.remedies],
            "notes": [n.as_data() for n in self.notes],
            "tables": [t.as_data() for t in self.tables],
            "charts": [c.as_data() for c in self.charts],
            "drawings": [d.as_data() for d in self.drawings],
            "timelines": [t.as_data() for t in self.timelines],
            "bars": [b.as_data() for b in self.bars],
            "downloads": [d.as_data() for d in self.downloads],
            "working": [s.as_data() for s in self.steps],
            "sources": self.sources(),
            "cautions": [c.as_data() for c in self.cautions],
        }
