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
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from html import escape, unescape
from pathlib import Path
from typing import Any

from calc import glossary as quantities
from calc import stock
from calc.frame import links, sheets, units
from calc.frame.guide import Calculator, Outcome, Unknown
from calc.frame.inputs import nearest, shortened
from calc.frame.language import spoken
from calc.frame.quantities import Quantity as Named
from calc.frame.render import html, mathml, tools
from calc.frame.render.spaces import named, worded

from . import citations, hidden, how_often, licences, making, published
from .citations import Placed, citation
from .edition import STOCK


class PageError(ValueError):
    """Something a page asks for that cannot be had: "file, line N: sentence"; what it `cites`."""

    def __init__(self, file: str, line: int, sentence: str, cites: str = "") -> None:
        super().__init__(f"{file}, line {line}: {sentence}")
        self.line, self.sentence, self.cites = line, sentence, cites


@dataclass(frozen=True)
class LeftOut:
    """A paragraph that is left out of a page: its line, how it begins, what it cites in vain."""

    line: int
    begins: str
    cites: str


@dataclass
class Page:
    """A page being made: where it is, and the parts that replace its placeholders.

    Where all of its `faults` are wanted they are kept, and none is raised; `broken` are then the
    calculators that it asks for in vain.
    """

    file: str
    first_line: int = 1
    placed: list[Placed] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)
    faults: list[PageError] | None = None
    broken: set[str] = field(default_factory=set)

    @property
    def of_stock(self) -> bool:
        """Whether another edition's records stand under a page of the stock."""
        edition = making.edition()
        own = edition.pages and (edition.pages / self.file).is_file()
        return edition != STOCK and not own and (making.STOCK_PAGES / self.file).is_file()

    def fail(self, line: int, sentence: str, cites: str = "") -> PageError:
        return PageError(self.file, self.first_line + line, sentence, cites)

    def tell(self, fault: PageError) -> None:
        """Raises a fault, or keeps it where all are wanted."""
        if self.faults is None:
            raise fault
        self.faults.append(fault)

    def cites_broken(self, words: str) -> bool:
        """Whether a number is cited of a calculator whose block has a fault, told there already."""
        names, head = set(stock.guide().names()), words.split(".")[0].strip()
        if head in {one.calculator.name for one in self.placed} or head not in names:
            return False
        return head in self.broken or not self.broken <= names  # by whatever name it was asked for


_FENCE = re.compile(
    r"^```\s*(calculator|example-link|checked-against|glossary|boat-sheet|how-often|licences)\b"
    r"[ \t]*(\S*)[ \t]*$"
)
_CITE = re.compile(r"\{=\s*(.*?)\s*=\}")
DOCS = making.STOCK_PAGES
_PLACE = "<div data-part='{}'></div>"


def prepare(markdown: str, page: Page) -> str:
    """Markdown with placeholders for calculators and tables, and with its numbers put in.

    Raises PageError with file, line and the nearest right name, unless the page keeps its `faults`.
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
            out += ["", _PLACE.format(len(page.parts)), ""]
            page.parts.append(_block(found[1], found[2], body, number, page))
            number = end + 1
            continue
        if lines[number].lstrip().startswith("```"):
            in_code = not in_code
        out.append(lines[number] if in_code else (number, lines[number]))
        number += 1
    return "\n".join(_with_all_numbers(out, page))


def _block(kind: str, name: str, body: str, line: int, page: Page) -> str:
    try:
        if kind == "calculator":
            return _place_calculator(name, body, line, page)
        if kind == "example-link":
            return _example_link(name, body, line, page)
        return _table(kind, name, line, page)
    except PageError as fault:
        page.tell(fault)
    except (ValueError, ArithmeticError) as error:
        if page.faults is None:
            raise
        # Of records that no answer can be worked out with; it is told of them too.
        page.tell(page.fail(line, f"no answer can be worked out: {error}"))
    if kind == "calculator":
        page.broken.add(name)
    return ""


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
    page.tell(page.fail(start, "this block has no closing ```"))
    return len(lines)


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
    example = citations.with_roles(_example(body, line, page), made.asks.fields)
    try:
        outcome = stock.guide().run(made, example=example)
    except KeyError as error:
        raise page.fail(_line_in(body, "boat", line), _told(error)) from None
    if outcome.report is None:
        raise _refused(outcome, page, lambda name: _line_in(body, name, line))
    return _placed(made, outcome, example, page)


def _refused(outcome: Outcome, page: Page, line_of: Callable[[str], int]) -> PageError:
    """The last fault of an example's values, each at its field's line; the others are told."""
    *others, last = (
        page.fail(line_of(one.field.partition(".")[0]), f"{one.field}: {one.sentence}")
        for one in outcome.bound.faults
    )
    for fault in others:
        page.tell(fault)
    return last


def _example(body: str, line: int, page: Page) -> dict[str, Any]:
    try:
        return tomllib.loads(body)
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"at line (\d+)", str(error))
        where = line + int(at[1]) if at else line
        sentence = re.sub(r"at line \d+, ", "", str(error))
        raise page.fail(where, f"the example cannot be read: {sentence}") from None


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
    except KeyError as error:
        raise page.fail(line, _told(error)) from None
    said = citations.with_roles(_example(body, line, page), made.asks.fields)
    words, boat, boats = said.pop("words", ""), said.pop("boat", ""), guide.shelf("boat")
    if not words:
        raise page.fail(line, "the link has no “words”")
    if boat and boat not in boats:
        raise page.fail(line, f"no boat is called “{boat}”.{nearest(str(boat), boats)}")
    record = boats[boat].texts if boat else {}
    ours = {key: value for key, value in record.items() if key in made.asks.fields}
    outcome = guide.run(made, {**ours, **said})
    if outcome.report is None:
        raise _refused(outcome, page, lambda _: line)
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
        made[at], faults = _with_numbers(*line, page)
        if not faults:
            continue
        around = _paragraph(lines, at)
        if not page.of_stock or any(_KEPT.search(_text(lines[one])) for one in around):
            for fault in faults:
                page.tell(fault)
            continue
        first = _text(lines[around[0]])
        begins = shortened(re.sub(r"^\W+|[*_`]|\{=.*", "", first).strip())
        page.left_out.append(LeftOut(page.first_line + line[0], begins, faults[0].cites))
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


def _with_numbers(number: int, line: str, page: Page) -> tuple[str, list[PageError]]:
    """A line with its numbers, and what it cites in vain."""
    faults: list[PageError] = []

    def cite(found: re.Match[str]) -> str:
        try:
            return citation(found[1], page.placed)
        except KeyError as error:
            if not page.cites_broken(found[1]):
                faults.append(page.fail(number, _told(error), found[1]))
            return ""

    return _CITE.sub(cite, line), faults


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
    "checked-against": published.as_html,
    "glossary": glossary,
    "how-often": how_often.as_html,
    "licences": licences.as_html,
}
