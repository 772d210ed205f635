"""What a page of the guide may ask for besides words: calculators, cited numbers, check tables.

In Markdown:

    ```calculator power
    boat = "example"
    run_hours = "2 h"
    ```

puts a calculator there, filled with that example (TOML), of a boat in a role (see `citations`).
`{= unit.example.motor.rated_power =}` cites a record's value, `{= power.figure.input =}` a figure
of the page's own calculator, `{= power.option.inverter.hours =}` one of an option's,
`{= power.input.run_hours =}` an input; `in UNIT` before the closing mark chooses a unit.
`{= caution.mains =}` puts a caution there.

A fence called `example-link power` becomes a link, of these `words`, that fills the form with other
values, or with another boat. One called `checked-against` becomes the tables of check values, one
called `how-often` that of how often a diagnosis is right, one
called `glossary` the tables of quantities, one called `boat-sheet` the boat sheet and its answers
(`boat-sheet start`: the questions one begins with, `boat-sheet log`: the log and the tasks), one
called `licences` the licences of all that the site carries. A wrong name or value stops the build
with file, line and the nearest right name.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from html import escape, unescape
from pathlib import Path
from typing import Any

from calc import glossary as quantities
from calc import stock
from calc.frame import links, sheets, units
from calc.frame.guide import Calculator, Outcome, Unknown
from calc.frame.inputs import shortened
from calc.frame.language import spoken, spoken_count
from calc.frame.quantities import Quantity as Named
from calc.frame.render import html, mathml, tools
from calc.frame.render.spaces import in_english, named, worded

from . import citations, hidden, how_often, licences, making, published
from .citations import Placed, citation
from .edition import STOCK


class PageError(ValueError):
    """Something a page asks for that cannot be had: "file, line N: sentence"; what it `cites`."""

    cites = ""


@dataclass(frozen=True)
class LeftOut:
    """A paragraph that is left out of a page: its line, how it begins, what it cites in vain."""

    line: int
    begins: str
    cites: str


@dataclass
class Page:
    """A page being made: where it is, and the parts that replace its placeholders."""

    file: str
    first_line: int = 1
    placed: list[Placed] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)

    @property
    def of_stock(self) -> bool:
        """Whether another edition's records stand under a page of the stock."""
        edition = making.edition()
        own = edition.pages and (edition.pages / self.file).is_file()
        return edition != STOCK and not own and (making.STOCK_PAGES / self.file).is_file()

    def fail(self, line: int, sentence: str) -> PageError:
        return PageError(f"{self.file}, line {self.first_line + line}: {sentence}")


_FENCE = re.compile(
    r"^```\s*(calculator|example-link|checked-against|glossary|boat-sheet|how-often|licences)\b"
    r"[ \t]*(\S*)[ \t]*$"
)
_CITE = re.compile(r"\{=\s*(.*?)\s*=\}")
DOCS = making.STOCK_PAGES
_PLACE = "<div data-part='{}'></div>"


def prepare(markdown: str, page: Page) -> str:
    """Markdown with placeholders for calculators and tables, and with its numbers put in.

    Raises PageError with file, line and the nearest right name.
    """
    lines = markdown.splitlines()
    out: list[str | tuple[int, str]] = []
    number = 0
    in_code = False
    while number < len(lines):
        found = None if in_code else _FENCE.match(lines[number])
        if found:
            end = _end_of_fence(lines, number, page)
            body = "\n".join(lines[number + 1 : end])
            if found[1] == "calculator":
                html_part = _place_calculator(found[2], body, number, page)
            elif found[1] == "example-link":
                html_part = _example_link(found[2], body, number, page)
            else:
                html_part = _table(found[1], found[2], number, page)
            out += ["", _PLACE.format(len(page.parts)), ""]
            page.parts.append(html_part)
            number = end + 1
            continue
        if lines[number].lstrip().startswith("```"):
            in_code = not in_code
        out.append(lines[number] if in_code else (number, lines[number]))
        number += 1
    return "\n".join(_with_all_numbers(out, page))


def fill(content: str, page: Page) -> str:
    """HTML of a page with its placeholders replaced."""
    for index, part in enumerate(page.parts):
        content = content.replace(_PLACE.format(index), part)
    return content


@dataclass(frozen=True)
class Place:
    """Where a calculator stands in the guide: its page's address in the site, and its example."""

    url: str
    example: Mapping[str, Any]


def places(docs: Path) -> dict[str, Place]:
    """Each calculator's place: the first of the page of its name, else the first of all."""
    found: dict[str, Place] = {}
    guide = stock.guide()
    for path in hidden.shown(docs):
        lines = path.read_text("utf-8-sig").splitlines()
        url = path.relative_to(docs).with_suffix(".html").as_posix()
        here: dict[str, Place] = {}
        for number, line in enumerate(lines):
            fence = _FENCE.match(line)
            if fence and fence[1] == "calculator" and fence[2] not in here:
                body = "\n".join(lines[number + 1 : lines.index("```", number)])
                fields = guide.get(fence[2]).asks.fields
                here[fence[2]] = Place(url, citations.with_roles(tomllib.loads(body), fields))
        found |= {
            name: place for name, place in here.items() if name not in found or path.stem == name
        }
    return found


_IN_NAV = re.compile(r"^\s+- .*?([\w/-]+)\.md\s*$", re.MULTILINE)


def in_order(docs: Path) -> list[str]:
    """The calculators that have a page, in the order of the guide."""
    nav = (docs.parent / "mkdocs.yml").read_text("utf-8").partition("\nnav:")[2]
    pages = [f"{name}.html" for name in _IN_NAV.findall(nav)]
    return sorted((found := places(docs)), key=lambda name: pages.index(found[name].url))


def _end_of_fence(lines: list[str], start: int, page: Page) -> int:
    for number in range(start + 1, len(lines)):
        if lines[number].strip() == "```":
            return number
    raise page.fail(start, "this block has no closing ```")


def _table(name: str, what: str, line: int, page: Page) -> str:
    try:
        if name == "boat-sheet":
            return boat_sheet(page, what)
        return _TABLES[name]()
    except KeyError as error:  # a page's example names a boat that there is not
        raise page.fail(line, _told(error)) from None


def _place_calculator(name: str, body: str, line: int, page: Page) -> str:
    try:
        made = stock.guide().get(name)
    except KeyError as error:
        raise page.fail(line, _told(error)) from None
    try:
        example = tomllib.loads(body)
    except tomllib.TOMLDecodeError as error:
        raise page.fail(line, f"the example cannot be read: {error}") from None
    example = citations.with_roles(example, made.asks.fields)
    try:
        outcome = stock.guide().run(made, example=example)
    except KeyError as error:
        raise page.fail(_line_in(body, "boat", line), _told(error)) from None
    if outcome.report is None:
        told = outcome.bound.faults[0]
        where = _line_in(body, told.field.partition(".")[0], line)
        raise page.fail(where, f"{told.field}: {told.sentence}")
    return _placed(made, outcome, example, page)


def _placed(made: Calculator, outcome: Outcome, example: Mapping[str, Any], page: Page) -> str:
    prefix = f"{made.name}-" if not page.placed else f"{made.name}-{len(page.placed) + 1}-"
    text = json.dumps(example, ensure_ascii=False, sort_keys=True)
    shown = html.calculator(made, outcome, text, "metric", prefix, _sheet_page(page))
    page.placed.append(Placed(made, outcome, shown))
    return shown


def calculator(name: str, example: Mapping[str, Any], page: Page) -> str:
    """A calculator as it stands on a page, with an example that stands on another page already."""
    made = stock.guide().get(name)
    return _placed(made, stock.guide().run(made, example=example), example, page)


def _example_link(name: str, body: str, line: int, page: Page) -> str:
    """A link that fills in the page's form: what it says in `words`, values, a boat in a role."""
    guide = stock.guide()
    try:
        made = guide.get(name)
        said = citations.with_roles(tomllib.loads(body), made.asks.fields)
        words, boat = said.pop("words"), said.pop("boat", "")
        record = guide.shelf("boat")[boat].texts if boat else {}
    except (KeyError, tomllib.TOMLDecodeError) as error:
        sentence = _told(error) if isinstance(error, KeyError) else str(error)
        raise page.fail(line, sentence) from None
    ours = {key: value for key, value in record.items() if key in made.asks.fields}
    outcome = guide.run(made, {**ours, **said})
    if outcome.report is None:
        told = outcome.bound.faults[0]
        raise page.fail(line, f"{told.field}: {told.sentence}")
    address = escape(links.fragment(made, outcome.bound), quote=True)
    return f'<p><a href="#{address}">{escape(words)}</a></p>'


def _sheet_page(page: Page) -> str:
    """Where the boat sheet lies, seen from a page; nothing in a guide without one."""
    found = next(
        (p for p in hidden.shown(making.docs()) if "```boat-sheet\n" in p.read_text("utf-8-sig")),
        None,
    )
    if found is None:
        return ""
    url = found.relative_to(making.docs()).with_suffix(".html").as_posix()
    return "../" * page.file.count("/") + url


def _told(error: KeyError) -> str:
    """The sentence of what isn't there."""
    return str(error) if isinstance(error, Unknown) else str(error.args[0])


def _line_in(body: str, name: str, start: int) -> int:
    for offset, line in enumerate(body.splitlines(), 1):
        if re.match(rf"\s*(\[*\s*)?{re.escape(name)}\b", line):
            return start + offset
    return start


def _with_all_numbers(lines: list[str | tuple[int, str]], page: Page) -> list[str]:
    """The lines with their numbers. They come last: a sentence may cite a calculator below it.

    Of a stock page in another edition a paragraph that cites what its examples haven't (a source of
    power, say) is left out, and noted. Never a step of a list, nor a caution: there it is a fault.
    """
    made = [line if isinstance(line, str) else "" for line in lines]
    gone: set[int] = set()
    for at, line in enumerate(lines):
        if isinstance(line, str) or at in gone:
            continue
        try:
            made[at] = _with_numbers(*line, page)
        except PageError as error:
            around = _paragraph(lines, at)
            if not page.of_stock or any(_KEPT.search(_text(lines[one])) for one in around):
                raise
            first = _text(lines[around[0]])
            begins = shortened(re.sub(r"^\W+|[*_`]|\{=.*", "", first).strip())
            page.left_out.append(LeftOut(page.first_line + line[0], begins, error.cites))
            gone.update(around)
    return ["" if at in gone else line for at, line in enumerate(made)]


_KEPT = re.compile(r"^\s*\d+\.\s|^#|\{=\s*caution\.")  # what no edition loses
_APART = re.compile(r"^\s*(?:[-*]\s|<|$)")  # where a paragraph begins, or none is


def _text(line: str | tuple[int, str]) -> str:
    return "" if isinstance(line, str) else line[1]


def _paragraph(lines: list[str | tuple[int, str]], at: int) -> range:
    """The lines of the paragraph, or of the item of a list, in which one stands."""
    start = at
    while start > 0 and not _APART.match(_text(lines[start])) and _text(lines[start - 1]).strip():
        if _text(lines[start - 1]).lstrip().startswith("<"):
            break
        start -= 1
    end = at + 1
    while end < len(lines) and not _APART.match(_text(lines[end])):
        end += 1
    return range(start, end)


def _with_numbers(number: int, line: str, page: Page) -> str:
    def cite(found: re.Match[str]) -> str:
        try:
            return citation(found[1], page.placed)
        except KeyError as error:
            failed = page.fail(number, _told(error))
            failed.cites = found[1]
            raise failed from None

    return _CITE.sub(cite, line)


# ---- step cards ----

_SECTION = re.compile(r'<h2 id="([\w-]+)">(.*?)</h2>(.*?)(?=<h2 |\Z)', re.S)


def with_step_cards(html: str) -> str:
    """A page's HTML where each section with numbered steps can be kept as a card.

    A page asks for it by `cards: true` in its front matter.
    """

    def with_tools(found: re.Match[str]) -> str:
        if "<ol>" not in found[3]:
            return found[0]
        title = re.sub(r"<[^>]*>", "", found[2])
        return found[0] + tools.step_card(found[1], unescape(title))

    return _SECTION.sub(with_tools, html)


# ---- the boat sheet ----


def boat_sheet(page: Page, what: str = "") -> str:
    """The sheet's form, or of the `start` its first questions, or what has a page of its own
    (`log`), and the list of what it answers; empty until the reader fills it in."""
    found = {name: {"url": p.url} for name, p in places(making.docs()).items()}
    text = json.dumps(found, ensure_ascii=False, sort_keys=True, default=str)
    guide, address = stock.guide(), _sheet_page(page)
    if what == "log":
        found = sheets.obeying(found, guide)
        text = json.dumps(found, ensure_ascii=False, sort_keys=True, default=str)
        listed = sheets.dashboard({}, found, "metric", guide).html
        form = sheets.apart({}, "metric", "sheet-", guide)
        return html.apart_page(form, listed, text, address)
    listed = sheets.dashboard({}, found, "metric", guide).html
    if what == "start":
        return html.start_page(sheets.start({}, "metric", "sheet-", guide), listed, text, address)
    return html.sheet_page(sheets.form({}, "metric", "sheet-", guide), listed, text, address)


# ---- the check tables ----


def checked_against() -> str:
    """Every published check with our value beside theirs, grouped by area."""
    areas: dict[str, list[published.Check]] = {}
    for check in published.load():
        areas.setdefault(check.area, []).append(check)
    total = sum(map(len, areas.values()))
    counts = {s: sum(c.standing == s for c in published.load()) for s in published.STANDINGS}
    told = ", ".join(f"{n} {spoken(s)}" for s, n in counts.items() if n)
    count = spoken_count(total, "{n} check", "{n} checks")
    head = f'<p class="checks-total"><strong>{escape(count)}</strong>: {told}.</p>'
    return head + "".join(_area(name, checks) for name, checks in areas.items())


def _area(name: str, checks: list[published.Check]) -> str:
    rows = "".join(_check_row(c) for c in checks)
    count = spoken_count(len(checks), "{n} check", "{n} checks")
    return (
        f'<details class="checks" data-key="checks-{escape(name, quote=True)}" data-search-exclude>'
        f'<summary>{escape(spoken(name))} <span class="count">{escape(count)}</span></summary>'
        f'<div class="table-scroll"><table class="plain"><thead><tr>'
        f'<th scope="col">{worded("What")}</th>'
        f'<th scope="col" class="num">{worded("Theirs")}</th>'
        f'<th scope="col" class="num">{worded("Ours")}</th>'
        f'<th scope="col" class="num">{worded("Allowed")}</th>'
        f'<th scope="col">{worded("Source")}</th></tr></thead>'
        f"<tbody{in_english()}>{rows}</tbody></table></div></details>"
    )


def _check_row(check: published.Check) -> str:
    outcome = published.run(check)
    if isinstance(check.value, str):
        symbol = units.split_number(check.value)[1]
        kind = units.kind_of(symbol)
        theirs, ours = (
            units.join(units.number_text(units.from_si(v, symbol, kind), 5), symbol)
            for v in (outcome.theirs, outcome.ours)
        )
    else:
        theirs, ours = units.number_text(outcome.theirs, 5), units.number_text(outcome.ours, 5)
    note = f'<span class="note">{escape(check.note)}</span>' if check.note else ""
    return (
        f'<tr><th scope="row">{escape(check.about)}{note}</th><td class="num">{escape(theirs)}</td>'
        f'<td class="num">{escape(ours)}</td><td class="num">±{escape(str(check.tolerance))}</td>'
        f"<td>{escape(check.source)} <em>({escape(check.standing)})</em></td></tr>"
    )


# ---- the glossary ----

FEW_QUANTITIES = 3  # that a folded group names
_GLOSSARY_COLUMNS = ("Quantity", "Symbol", "Unit", "What it is")


def glossary() -> str:
    """The quantities of the guide, a table a group."""
    named = quantities.of(stock.guide())
    groups = dict.fromkeys(one.group for one in named)
    return "".join(_quantities(g, [q for q in named if q.group == g]) for g in groups)


def _quantities(group: str, rows: Sequence[Named]) -> str:
    body = "".join(_quantity_row(one) for one in rows)
    name = re.sub(r"\W+", "-", group.lower())
    # spaces between the cells: the search index would run them together
    head = " ".join(f'<th scope="col">{worded(h)}</th>' for h in _GLOSSARY_COLUMNS)
    few = ", ".join(spoken(one.name) for one in rows[:FEW_QUANTITIES])
    inside = named("{n} quantities: {names} …", n=str(len(rows)), names=few)
    return (
        f'<h2 id="{name}" told="{inside}">{worded(group)}</h2>'
        '<div class="table-scroll"><table class="plain">'
        f"<thead><tr>{head} </tr></thead> <tbody>{body}</tbody></table></div>"
    )


def _quantity_row(one: Named) -> str:
    symbol = f"<math>{mathml.symbol(one.symbol)}</math>" if one.symbol else "–"
    unit = escape(units.join("", one.unit).strip()) if one.unit else "–"
    return (
        f'<tr><th scope="row">{worded(one.name)}</th> <td>{symbol}</td> <td>{unit}</td> '
        f"<td>{worded(one.meaning)}</td></tr> "
    )


_TABLES = {
    "checked-against": checked_against,
    "glossary": glossary,
    "how-often": how_often.as_html,
    "licences": licences.as_html,
}
