"""What an answer is made of. A calculator fills a `Report`; the verdict follows from its figures.

Values go in as SI floats with the unit symbol they are shown in. They are trimmed to nine
significant digits (`units.trim`) before they are compared, so a report is the same, byte for byte,
on every machine, and a verdict can never differ from the figures beside it.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, ClassVar, Literal, Protocol, TypeGuard

from . import units
from .cautions import Caution

FITS, TIGHT, FAILS, UNKNOWN = "fits", "tight", "fails", "unknown"
UNASKED = "unasked"  # of a boat of which what decides is not said yet: no verdict of any report
VERDICT_WORDS = {
    FITS: "fits",
    TIGHT: "tight",
    FAILS: "does not fit",
    UNKNOWN: "can't tell",
    UNASKED: "not asked yet",
}
_SEVERITY = {FITS: 0, TIGHT: 1, UNKNOWN: 2, FAILS: 3}

# Less than this share of a limit left over is called tight. Common practice, no source.
TIGHT_MARGIN = 0.10
# Of a level, a share means nothing: decibels left over count. Common practice, no source.
TIGHT_DECIBELS = 5.0

Pair = tuple[float, str]
_TRIMMED_DIGITS = 9  # of `units.trim`: no more tell two values apart


@dataclass(frozen=True)
class Amount:
    """An SI value, the unit it is shown in, and how it is rounded (see `units.rounded`).

    `step` [SI] is what the thing comes in, if it is to be had in whole steps only.
    """

    value: float
    unit: str
    digits: int = 3
    rounding: str = "nearest"
    step: float = 0.0

    def text(self, system: str = "metric") -> str:
        return units.text(self.value, self.unit, system, self.digits, self.rounding)

    def shown(self, system: str = "metric") -> float:
        """The SI value that its text has, rounded as it is there."""
        unit = units.unit(units.told_unit(self.value, self.unit, system))
        number = units.from_si(self.value, unit.symbol)
        return units.rounded(number, self.digits, self.rounding) * unit.factor + unit.offset

    def typed(self, system: str = "metric") -> str:
        """What one would type into a field to have what the text shows."""
        told = units.told_unit(self.value, self.unit, system)
        return f"{units.typed_text(self.shown(system), told, digits=9)} {told}".strip()

    def as_data(self) -> dict[str, Any]:
        return {"value": self.value, "unit": self.unit}


@dataclass(frozen=True)
class Line:
    """A sentence with slots: Line("{time} a day", {"time": Amount(7200, "h")}).

    The template is a literal of the source, whole, so that it can be translated. Slots hold
    amounts, terms (a name, a word that stands by itself) or whole sentences, never pieces of one.
    """

    template: str
    amounts: Mapping[str, Amount | str | Line] = field(default_factory=dict)

    def text(self, system: str = "metric") -> str:
        return units.in_system(self.template, system).format(
            **{
                name: a if isinstance(a, str) else a.text(system)
                for name, a in self.amounts.items()
            }
        )

    def as_data(self) -> dict[str, Any]:
        told = {n: a if isinstance(a, str) else a.as_data() for n, a in self.amounts.items()}
        return {"text": self.text(), "template": self.template, "amounts": told}


Words = Line | str  # a sentence or label: with slots, or a literal


def say(words: Words, system: str = "metric") -> str:
    """Words as text."""
    return units.in_system(words, system) if isinstance(words, str) else words.text(system)


def counted(count: int, one: str, many: str, **pairs: Slot) -> Line:
    """The sentence for a count, which stands in the slot {n}: `counted(2, "{n} day", "{n} days")`.

    Both are whole templates; a translation may have more forms, chosen by the count.
    """
    slots = line("", n=count, **pairs).amounts
    return Counted(one if count == 1 else many, slots, one, many, count)


@dataclass(frozen=True)
class Counted(Line):
    """A Line that was chosen by a count, with both of its forms."""

    one: str = ""
    many: str = ""
    count: int = 0

    def as_data(self) -> dict[str, Any]:
        return {**super().as_data(), "one": self.one, "many": self.many, "count": self.count}


Setting = Amount | str | bool | int


@dataclass(frozen=True)
class Remedy(Line):
    """A sentence that tells what would make it fit, and what to fill in to try that.

    `sets` holds values by field. Tried, they turn the figure called `mends` from failing to holding
    (of the option it belongs to); where none is named, the verdict.
    """

    sets: Mapping[str, Setting] = field(default_factory=dict)
    mends: str = ""

    def typed(self, system: str = "metric") -> dict[str, str]:
        """The texts by field that one would type to try it."""
        return {name: _typed(value, system) for name, value in self.sets.items()}

    def as_data(self) -> dict[str, Any]:
        return {**super().as_data(), "sets": self.typed(), "mends": self.mends}


def _typed(value: Setting, system: str) -> str:
    if isinstance(value, Amount):
        return value.typed(system)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def amount(value: float, unit: str, digits: int = 3, rounding: str = "nearest") -> Amount:
    """A trimmed Amount. Raises ArithmeticError if it is not finite: a bug, no reader's fault."""
    value = float(value)
    if value != value or value in (float("inf"), float("-inf")):
        raise ArithmeticError(f"a report cannot hold {value} {unit}")
    return Amount(units.trim(value), unit, digits, rounding)


def least(value: float, unit: str, step: float = 0.0) -> Amount:
    """The least that would do: rounded up where it is shown, and to whole steps [SI] to be had."""
    if step:
        value = math.ceil(units.trim(value / step)) * step
    return replace(amount(value, unit, rounding="up"), step=step)


def most(value: float, unit: str, step: float = 0.0) -> Amount:
    """The most that would still do: rounded down where it is shown, and to whole steps [SI]."""
    if step:
        value = math.floor(units.trim(value / step)) * step
    return replace(amount(value, unit, rounding="down"), step=step)


Slot = Pair | Amount | Line | str | int  # what a template's place takes


def line(template: str, **pairs: Slot) -> Line:
    """A Line out of a template and its amounts, each (SI value, unit symbol), Amount or text."""
    return Line(template, {name: _placed(pair) for name, pair in pairs.items()})


def remedy(
    template: str, sets: Mapping[str, Setting] | None = None, mends: str = "", **pairs: Any
) -> Remedy:
    """A Remedy out of a template, its amounts, and what to fill in to try it."""
    return Remedy(template, line(template, **pairs).amounts, dict(sets or {}), mends)


def _placed(pair: Slot) -> Amount | str | Line:
    if isinstance(pair, (Amount, Line)):
        return pair
    return amount(*pair) if isinstance(pair, tuple) else str(pair)


@dataclass(frozen=True)
class Figure:
    """A result, the limit it is held against, and what is left over.

    `limit_is` says whether the limit is the most or the least that is allowed. `decides` is False
    for a figure that is only told. `says` is the reason given when this figure decides the verdict.
    `zero` is where the value's scale begins for the margin: a temperature's own zero tells nothing.
    `by_ear`: a distance that sound carries, whose margin is one of level: 6 dB for each doubling.
    """

    key: str
    label: Words
    value: Amount
    limit: Amount | None = None
    limit_is: Literal["most", "least"] = "most"
    decides: bool = True
    says: Line | None = None
    note: Words = ""
    zero: float = 0.0
    by_ear: bool = False

    @property
    def is_level(self) -> bool:
        """Whether its margin is in decibels."""
        return self.by_ear or units.kind_of(self.value.unit) == "sound level"

    @cached_property
    def margin(self) -> float | None:
        """What is left over as a share of the limit; negative when over it.

        Of a level: decibels left over, put so that `TIGHT_DECIBELS` rank with `TIGHT_MARGIN`.
        """
        if self.limit is None:
            return None
        value, limit = self.value.value, self.limit.value
        spare = limit - value if self.limit_is == "most" else value - limit
        if spare == 0:
            return 0.0
        if self.by_ear:
            louder = round(20 * math.log10(value / limit), 6)
            spare = -louder if self.limit_is == "most" else louder
        if self.is_level:
            return units.trim(spare * TIGHT_MARGIN / TIGHT_DECIBELS)
        scale = abs(limit - self.zero) or abs(value)
        return units.trim(spare / scale)

    def left_over(self, system: str = "metric") -> str:
        """The margin for a reader: per cent of the limit, decibels of a level, or degrees."""
        margin = self.margin or 0.0
        if self.limit is not None and units.kind_of(self.value.unit) == "temperature":
            apart = abs(self.limit.value - self.value.value)
            told = units.text(math.copysign(apart, margin), "K", system, 2)
            return told.replace(" difference", "")  # a margin is one anyway
        if self.is_level:
            decibels = round(margin * TIGHT_DECIBELS / TIGHT_MARGIN, 1)
            return units.join(units.number_text(decibels, 2), "dB")
        if abs(margin) < 9.995:
            return f"{units.number_text(margin * 100, 2)} %"
        return f"{units.number_text(margin + 1, 2)}×" if margin > 0 else "far over"

    @property
    def used(self) -> float:
        """The value as a share of its limit; the other way round where the limit is the least."""
        if self.limit is None:
            return 0.0
        if self.is_level:
            return 1 - (self.margin or 0.0)
        value, limit = self.value.value - self.zero, self.limit.value - self.zero
        part, whole = (value, limit) if self.limit_is == "most" else (limit, value)
        return part / whole if whole > 0 else 2.0

    @cached_property
    def state(self) -> str:
        if self.margin is None or not self.decides:
            return FITS
        if self.margin < 0:
            return FAILS
        return TIGHT if self.margin < TIGHT_MARGIN else FITS

    def reason(self) -> Line:
        if self.says:
            return self.says
        assert self.limit is not None
        return Line(
            "{what}: {value}; at most {limit} allowed"
            if self.limit_is == "most"
            else "{what}: {value}; at least {limit} allowed",
            {"what": self.label, "value": self.value, "limit": self.limit},
        )

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "label": say(self.label),
            **self.value.as_data(),
            "limit": self.limit.value if self.limit else None,
            "limit_is": self.limit_is if self.limit else None,
            "margin": self.margin,
            "state": self.state,
            "decides": self.decides,
            "note": say(self.note),
        }


@dataclass(frozen=True)
class Step:
    """One step of the working: a formula, the numbers put in, the result, and its source."""

    label: Words
    result: Amount
    formula: str
    where: Mapping[str, Amount]
    source: Words
    note: Words = ""

    def as_data(self) -> dict[str, Any]:
        return {
            "label": say(self.label),
            **self.result.as_data(),
            "formula": self.formula,
            "where": {name: a.as_data() for name, a in self.where.items()},
            "source": say(self.source),
            "note": say(self.note),
        }


@dataclass(frozen=True)
class Axis:
    """An axis in SI; `ticks` are where its numbers stand, if not at round ones."""

    label: Words
    unit: str
    low: float | None = None
    high: float | None = None
    log: bool = False
    ticks: Sequence[float] = ()


@dataclass(frozen=True)
class Series:
    """A curve: points are (x, y) in SI. `steps` draws it as a staircase; `dashed` by its name.

    Its name stands at its end, or `at_peak` over its highest point.
    """

    label: Words
    points: Sequence[tuple[float, float]]
    dashed: bool = False
    steps: bool = False
    area: bool = False
    at_peak: bool = False


@dataclass(frozen=True)
class Mark:
    """A labelled line across a chart at an SI value."""

    label: Words
    at: float


@dataclass(frozen=True)
class Band:
    """A labelled stretch of the x axis, from and to in SI."""

    label: Words
    start: float
    end: float


@dataclass(frozen=True)
class Chart:
    """Lines over an axis, with limits, marks and bands; values in SI."""

    key: str
    title: Words
    x: Axis
    y: Axis
    series: Sequence[Series]
    limits: Sequence[Mark] = ()
    marks: Sequence[Mark] = ()
    bands: Sequence[Band] = ()
    summary: Words = ""

    def as_data(self) -> dict[str, Any]:
        trim = units.trim
        return {
            "key": self.key,
            "title": say(self.title),
            "x": {"label": say(self.x.label), "unit": self.x.unit},
            "y": {"label": say(self.y.label), "unit": self.y.unit},
            "series": [
                {"label": say(s.label), "points": [[trim(x), trim(y)] for x, y in s.points]}
                for s in self.series
            ],
            "limits": [{"label": say(m.label), "at": trim(m.at)} for m in self.limits],
            "marks": [{"label": say(m.label), "at": trim(m.at)} for m in self.marks],
            "bands": [
                {"label": say(b.label), "from": trim(b.start), "to": trim(b.end)}
                for b in self.bands
            ],
        }


@dataclass(frozen=True)
class Shape:
    """A primitive of a drawing; which of the numbers count depends on `kind`.

    Kinds: line, polyline, polygon, rect, circle, text, dimension, arrow. Coordinates are in the
    drawing's own units, x to the right and y up. `style`: outline, fine, hatch, fill, blocked,
    hidden, accent.
    """

    kind: str
    points: Sequence[tuple[float, float]] = ()
    text: Words = ""
    style: str = "outline"
    radius: float = 0.0
    anchor: str = "middle"
    offset: float = 0.0


@dataclass(frozen=True)
class Drawing:
    """A line drawing from the reader's numbers.

    A drawing that is not to scale may have a `frame` (width, height): its coordinates are then the
    picture's own, y up from the lower edge, and its text keeps its size on a narrow screen. `card`
    is how the same is drawn on a card, if not alike.
    """

    key: str
    title: Words
    description: Words
    shapes: Sequence[Shape]
    to_scale: bool = True
    frame: tuple[float, float] | None = None
    card: Drawing | None = None

    def as_data(self) -> dict[str, Any]:
        return {"key": self.key, "title": say(self.title), "description": say(self.description)}


@dataclass(frozen=True)
class Lane:
    """A line of a timeline: its name, days marked on it by kind, and stretches of doubt.

    Kinds: due (a full mark), calm (an open one), late (a crossed one).
    """

    label: Words
    days: Sequence[tuple[datetime.date, str]]
    windows: Sequence[tuple[datetime.date, datetime.date]] = ()


@dataclass(frozen=True)
class Stay:
    """A named stretch of days behind all lanes of a timeline."""

    label: Words
    start: datetime.date
    end: datetime.date


@dataclass(frozen=True)
class Timeline:
    """Days on lanes, from a first to a last day."""

    key: str
    title: Words
    start: datetime.date
    end: datetime.date
    lanes: Sequence[Lane]
    stays: Sequence[Stay] = ()
    summary: Words = ""

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "title": say(self.title),
            "from": self.start.isoformat(),
            "to": self.end.isoformat(),
            "lanes": [
                {"label": say(lane.label), "days": [[d.isoformat(), kind] for d, kind in lane.days]}
                for lane in self.lanes
            ],
        }


@dataclass(frozen=True)
class Bars:
    """Labelled amounts side by side, the SI values in one unit."""

    key: str
    title: Words
    unit: str
    bars: Sequence[tuple[Words, float]]
    summary: Words = ""

    def as_data(self) -> dict[str, Any]:
        told = [{"label": say(label), "value": units.trim(value)} for label, value in self.bars]
        return {"key": self.key, "title": say(self.title), "unit": self.unit, "bars": told}


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
    reference card has room for its columns `on_card`, by their places.
    """

    key: str
    title: Words
    columns: Sequence[Words]
    rows: Sequence[Sequence[Amount | Words]]
    states: Sequence[str] = ()
    note: Words = ""
    lead: bool = False
    on_card: Sequence[int] = ()

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


class Held(Protocol):
    """A value held against the most that is allowed of it, or the least: as the system finds it."""

    @property
    def value(self) -> float: ...
    @property
    def limit(self) -> float: ...
    @property
    def least(self) -> bool: ...
    @property
    def zero(self) -> float: ...


def _against(held: Held) -> dict[str, float]:
    """The limit of a held value, as settings of a figure."""
    return {"at_least" if held.least else "at_most": held.limit, "zero": held.zero}


@dataclass
class Option:
    """One of several ways to do it (a generator, an inverter ...), with figures of its own."""

    trial: ClassVar[bool] = False  # see `told`

    key: str
    name: Words
    figures: list[Figure] = field(default_factory=list)
    remedies: list[Line] = field(default_factory=list)
    unknowns: list[Line] = field(default_factory=list)
    failures: list[Line] = field(default_factory=list)
    reservations: list[Line] = field(default_factory=list)

    def figure(self, key: str, label: Words, value: float, unit: str, **settings: Any) -> float:
        """Adds a figure; see `Report.figure`."""
        self.figures.append(_figure(key, label, value, unit, **settings))
        return value

    def held(self, key: str, label: Words, held: Held, unit: str, **settings: Any) -> None:
        """Adds a value that is held against a limit; see `Report.figure`."""
        self.figure(key, label, held.value, unit, **_against(held), **settings)

    def remedy(self, template: str, *, sets: Any = None, mends: Any = "", **pairs: Any) -> None:
        """What would make it fit; see `Report.remedy`."""
        self.remedies.append(remedy(template, sets, mends, **pairs))

    def unknown(self, template: str, **pairs: Slot) -> None:
        """Something that must be known before this can be judged."""
        self.unknowns.append(line(template, **pairs))

    def fail(self, template: str, **pairs: Slot) -> None:
        """A reason why it cannot work at all, where no figure can be given."""
        self.failures.append(line(template, **pairs))

    def reservation(self, template: str, **pairs: Slot) -> None:
        """Why it is no better than tight, though every figure of its own holds."""
        self.reservations.append(line(template, **pairs))

    @property
    def verdict(self) -> str:
        return _worst(self)

    def reason(self) -> Line:
        return _reason(self)

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "name": say(self.name),
            "verdict": self.verdict,
            "reason": self.reason().as_data(),
            "figures": [f.as_data() for f in self.figures],
            "remedies": [r.as_data() for r in self.remedies],
        }


def told(part: Option | Report, template: str, **pairs: Slot) -> Line | None:
    """What a figure says, as `line`; nothing in a trial, which is judged and never shown."""
    return None if part.trial else line(template, **pairs)


def _figure(
    key: str,
    label: Words,
    value: float,
    unit: str,
    *,
    at_most: float | None = None,
    at_least: float | None = None,
    limit_unit: str | None = None,
    decides: bool = True,
    says: Line | None = None,
    note: Words = "",
    zero: float = 0.0,
    by_ear: bool = False,
    digits: int = 3,
    safe_limit: bool = False,
) -> Figure:
    limit = at_most if at_most is not None else at_least
    least_asked = at_most is None and at_least is not None
    rounding = "nearest" if not safe_limit else "up" if least_asked else "down"
    made = Figure(
        key,
        label,
        amount(value, unit, digits),
        None if limit is None else amount(limit, limit_unit or unit, digits, rounding),
        "least" if least_asked else "most",
        decides,
        says,
        note,
        zero,
        by_ear,
    )
    return _legible(made) if made.state == FAILS or safe_limit else made


def _legible(figure: Figure) -> Figure:
    """A figure with so many digits that value and limit, as they are shown, tell its verdict.

    A limit that is broken must not read like the value, nor one that holds as if it were broken.
    """
    value, limit = figure.value, figure.limit
    if limit is None or figure.margin is None or limit.unit != value.unit:
        return figure
    said = figure.says.amounts if figure.says else {}
    over = [a for a in (value, *said.values()) if _same(a, value)]
    bound = [a for a in (limit, *said.values()) if _same(a, limit)]
    few = min(a.digits for a in (*over, *bound))
    for digits in range(few, _TRIMMED_DIGITS + 1):
        if all(
            _broken(figure, _finer(a, digits), _finer(b, digits), system) == (figure.margin < 0)
            for a in over
            for b in bound
            for system in ("metric", "us")
        ):
            break
    if digits == few:
        return figure
    says = figure.says and Line(
        figure.says.template,
        {
            name: _finer(a, digits) if isinstance(a, Amount) and (a in over or a in bound) else a
            for name, a in said.items()
        },
    )
    return replace(figure, value=_finer(value, digits), limit=_finer(limit, digits), says=says)


def _broken(figure: Figure, value: Amount, limit: Amount, system: str) -> bool:
    """Whether the limit is broken by what a reader sees of it and of the value."""
    seen, bound = value.shown(system), limit.shown(system)
    return seen > bound if figure.limit_is == "most" else seen < bound


def _same(one: Amount | str | Line, other: Amount) -> TypeGuard[Amount]:
    return isinstance(one, Amount) and (one.value, one.unit) == (other.value, other.unit)


def _finer(told: Amount, digits: int) -> Amount:
    return told if told.digits >= digits else replace(told, digits=digits)


def _worst(part: Option | Report) -> str:
    """The verdict of figures that must all hold."""
    if part.failures:
        return FAILS
    found = [figure.state for figure in part.figures]
    if part.unknowns:
        found.append(UNKNOWN)
    if isinstance(part, Option) and part.reservations:
        found.append(TIGHT)
    return max(found, key=_SEVERITY.__getitem__, default=FITS)


def _reason(part: Option | Report) -> Line:
    """The one reason that decides the verdict of figures that must all hold."""
    if part.failures:
        return part.failures[0]
    judged = [f for f in part.figures if f.decides and f.margin is not None]
    tightest = min(judged, key=lambda f: f.margin or 0.0, default=None)
    failing = tightest is not None and tightest.state == FAILS
    if part.unknowns and not failing:
        return part.unknowns[0]
    if isinstance(part, Option) and part.reservations and not failing:
        return part.reservations[0]
    return tightest.reason() if tightest else Line("nothing to hold it against")


class Report:
    """An answer under construction; `answer(q, show)` receives it as `show`."""

    trial: ClassVar[bool] = False  # see `told`

    def __init__(self, title: str, question: str, *, brief: bool = False) -> None:
        """`brief`: only the verdict and its reason are wanted; `answer` may leave out the rest."""
        self.title = title
        self.question = question
        self.brief = brief
        self.headlines: list[Line] = []
        self.figures: list[Figure] = []
        self.options: list[Option] = []
        self.remedies: list[Line] = []
        self.notes: list[Line] = []
        self.unknowns: list[Line] = []
        self.failures: list[Line] = []
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

    def headline(self, template: str, **pairs: Slot) -> None:
        """The one plain sentence with the numbers that matter."""
        self.headlines.append(line(template, **pairs))

    def figure(self, key: str, label: Words, value: float, unit: str, **settings: Any) -> float:
        """Adds a result and returns it.

        `at_most` or `at_least` is the SI limit it is held against, shown in `limit_unit` or `unit`,
        and rounded to its safe side where it is a `safe_limit`, for a reader who types it back;
        `decides=False` only tells it; `says` is the reason given when this figure decides; `zero`
        is where its scale begins for the margin, and `by_ear` judges a distance in decibels.
        """
        self.figures.append(_figure(key, label, value, unit, **settings))
        return value

    def held(self, key: str, label: Words, held: Held, unit: str, **settings: Any) -> None:
        """Adds a value that is held against a limit; see `figure`."""
        self.figure(key, label, held.value, unit, **_against(held), **settings)

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

    def unknown(self, template: str, **pairs: Slot) -> None:
        """Something that must be known before this can be judged."""
        self.unknowns.append(line(template, **pairs))

    def fail(self, template: str, **pairs: Slot) -> None:
        """A reason why it cannot work at all, where no figure can be given."""
        self.failures.append(line(template, **pairs))

    def fact(self, fact: str) -> None:
        """Something found that a caution hangs on: see `cautions.RULES`."""
        self.facts.add(fact)

    def chart(self, chart: Chart) -> None:
        self.charts.append(chart)

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
    ) -> None:
        """Adds a table; a cell is (SI value, unit), a Line or text. `lead` puts it first."""
        made = [[amount(*c) if isinstance(c, tuple) else c for c in row] for row in rows]
        self.tables.append(Table(key, title, columns, made, states, note, lead, on_card))

    def own(self) -> tuple[str, Line]:
        """Verdict and reason of the report's own figures, whatever its options say."""
        return _worst(self), _reason(self)

    @property
    def verdict(self) -> str:
        """The worst of the report's own figures and of its best option."""
        own = _worst(self)
        if not self.options:
            return own
        best = min((o.verdict for o in self.options), key=_SEVERITY.__getitem__)
        return max(own, best, key=_SEVERITY.__getitem__)

    def best_option(self) -> Option | None:
        """The option that decides, if there are any: the best verdict, the first of equals."""
        return min(self.options, key=lambda o: _SEVERITY[o.verdict], default=None)

    def wanted_figures(self, most: int = 3) -> list[Figure]:
        """The numbers that one comes for, of the report and of the option that decides."""
        best = self.best_option()
        found = {f.key: f for f in [*(best.figures if best else []), *self.figures]}
        return [found[key] for key in self.wanted if key in found][:most]

    def reason(self) -> Line:
        best = self.best_option()
        own = _worst(self)
        if best is None or (own != FITS and _SEVERITY[own] >= _SEVERITY[best.verdict]):
            return _reason(self)
        return Line("{way}: {reason}", {"way": best.name, "reason": best.reason()})

    def sources(self) -> list[str]:
        """Every source named in the working, once, in order."""
        return list(dict.fromkeys(say(step.source) for step in self.steps))

    def as_data(self) -> dict[str, Any]:
        """The report as plain data for JSON: SI values with the unit each is shown in."""
        return {
            "title": say(self.title),
            "question": self.question,
            "verdict": self.verdict,
            "verdict_word": VERDICT_WORDS[self.verdict],
            "reason": self.reason().as_data(),
            "headline": [h.as_data() for h in self.headlines],
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
