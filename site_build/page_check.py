"""The pages of an edition, looked through without building them: encoding, numbers, links."""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

from markdown import Markdown

from calc.frame.files import FileFault, decoded
from calc.frame.inputs import nearest, shortened
from calc.frame.language import Catalogue, noting_lacking, speaking

from . import hidden, language, language_sites, making
from . import pages as filling
from .edition import PAGES, Edition
from .edition_new import TO_WRITE

_EXTENSIONS = ["attr_list", "def_list", "footnotes", "md_in_html", "tables", "toc", "admonition"]
_FENCE = re.compile(r"^( *```)[^`]*?^\1[ \t]*$", re.MULTILINE | re.DOTALL)

_ASKED = re.compile(r"^```[ \t]*calculator[ \t]+(\S+)", re.MULTILINE)
_MADE = re.compile(r"^```(glossary|boat-sheet)", re.MULTILINE)


# What a browser keeps from working under the policy that the guide is hosted with.
_SCRIPT = "a script in a page does nothing: the guide's policy lets none run"
_STYLE = "a style in a page does nothing: put its rules into brand/, as the style sheet of [brand]"
_FOREIGN = "is never shown, as the guide asks no other host: put it into pages/, or write a link"


@dataclass(frozen=True)
class _Source:
    """A page: its name below docs/ or pages/, how a fault names it, and its text."""

    name: str
    shown: str
    text: str
    own: bool
    folder: Path

    @cached_property
    def _words(self) -> str:
        """Its text with nothing in place of code and blocks."""
        return _FENCE.sub(lambda one: "\n" * one[0].count("\n"), self.text)

    @cached_property
    def _read(self) -> _Links:
        found = _Links()
        found.feed(Markdown(extensions=_EXTENSIONS).convert(self._words))
        return found

    @property
    def links(self) -> list[str]:
        return self._read.links

    @property
    def barred(self) -> list[tuple[str, str]]:
        """What the policy of the site keeps from working: a piece of it, and why."""
        return self._read.barred

    @property
    def anchors(self) -> set[str]:
        return self._read.anchors

    def has(self, anchor: str) -> bool:
        """Whether it has a heading to be linked to; those of a table that is made are not known."""
        return anchor in self.anchors or _MADE.search(self.text) is not None

    def lines_of(self, said: str, times: int) -> list[int]:
        """The lines on which it stands so many times; the first where it is written otherwise."""
        alone = re.finditer(rf"(?<![\w./-]){re.escape(said)}(?![\w/#-])", self._words)
        found = [self._words.count("\n", 0, one.start()) + 1 for one in alone]
        return found[:times] or [1]


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.anchors: set[str] = set()
        self.barred: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "script" and not said.get("src"):
            self.barred.append(("<script", _SCRIPT))
        elif tag == "style":
            self.barred.append(("<style", _STYLE))
        elif tag != "a" and re.match("(https?:)?//", said.get("src", "")):
            self.barred.append((said["src"], _FOREIGN))
        for name, text in said.items():
            if name.startswith("on") or text.strip().lower().startswith("javascript:"):
                self.barred.append((text, _SCRIPT))
            elif name == "style" and not text.startswith("text-align:"):  # a table's columns
                self.barred.append((text, _STYLE))
        for name, value in attrs:
            if name in ("href", "src") and value:
                self.links.append(value)
            elif name == "id" and value:
                self.anchors.add(value)


def alone(made: Edition) -> list[FileFault]:
    """What can be told of the pages where the records have faults."""
    found, faults = _sources(made)
    return [*faults, *_hidden(made), *_links(made, found), *_barred(found)]


Wanted = dict[str, set[str]]  # by page, the sentences of the source that it has to be told in


def pages(made: Edition) -> tuple[list[FileFault], tuple[str, ...], Wanted]:
    """Faults of all pages that will be shown, what hidden ones bring about, and what each page
    wants of a language.

    They are those of `making.within`.
    """
    found, faults = _sources(made)
    faults += [*_hidden(made), *_links(made, found), *_barred(found)]
    notes: list[str] = []
    wanted: Wanted = {}
    for source in found.values():
        if source.name not in made.hidden:
            with speaking(Catalogue()), noting_lacking() as wanted[source.name]:  # it lacks all
                faults += _numbers(source, notes)
    return faults, (*_to_hidden(made, found), *notes), wanted


def of_language(made: Edition, code: str) -> list[FileFault]:
    """Faults of the pages that an edition has in a language alone."""
    found, faults = _sources(made, code)
    folder = language_sites.pages_of(made, code)
    theirs = {name: source for name, source in found.items() if source.folder == folder}
    faults += [*_links(made, found, theirs), *_barred(theirs)]
    for source in theirs.values():
        faults += _numbers(source, [])
    return faults


def unwritten(made: Edition) -> Iterator[tuple[str, FileFault]]:
    """Its pages that still say what `new` wrote, each with the name by which that is silenced."""
    for source in _sources(made)[0].values():
        if source.own and TO_WRITE in source.text:
            (line,) = source.lines_of(TO_WRITE, 1)
            sentence = f"“{TO_WRITE}” is still what `new` wrote: write it, or take the page out"
            yield source.shown, FileFault("unwritten", source.shown, line, sentence)


def asked(made: Edition) -> set[str]:
    """The calculators that pages ask for which will be shown."""
    pages = [one for one in _sources(made)[0].values() if one.own or one.name not in made.hidden]
    return {name for one in pages for name in _ASKED.findall(one.text)}


def _sources(made: Edition, code: str = "en") -> tuple[dict[str, _Source], list[FileFault]]:
    """All pages by name, the edition's in place of the stock's, those in a language in place of
    both, and what can't be read."""
    found, faults = {}, []
    in_language = language_sites.pages_of(made, code)
    told = f"{language.FOLDER}/{code}/{PAGES}"
    for folder, shown in ((making.docs(), "docs"), (made.pages, PAGES), (in_language, told)):
        for path in sorted(folder.rglob("*.md")) if folder else ():
            assert folder
            name = path.relative_to(folder).as_posix()
            content = path.read_bytes().removeprefix(b"\xef\xbb\xbf")
            text = decoded(content, f"{shown}/{name}")
            if isinstance(text, FileFault):
                faults.append(text)
            else:
                # Of a stock page that was translated, links to hidden pages become words too.
                own = shown == PAGES or (shown == told and not (making.docs() / name).is_file())
                found[name] = _Source(name, f"{shown}/{name}", text, own, folder)
    return found, faults


def _hidden(made: Edition) -> Iterator[FileFault]:
    stock_pages = [p.relative_to(making.docs()).as_posix() for p in making.docs().rglob("*.md")]
    for name in made.hidden:
        if name in hidden.NEVER:
            never = ", ".join(hidden.NEVER)
            sentence = f"“{name}” can't be hidden; these stay: {never}"
            yield made.fault("hidden", sentence, "", "hide")
        elif made.pages and (made.pages / name).is_file():
            sentence = f"“{name}” is a page of your own too: take one of the two out"
            yield made.fault("hidden", sentence, "", "hide")
        elif name not in stock_pages:
            sentence = f"no stock page is called “{name}”.{nearest(name, stock_pages)}"
            yield made.fault("hidden", sentence, "", "hide")


def _links(
    made: Edition, found: Mapping[str, _Source], of: Mapping[str, _Source] | None = None
) -> Iterator[FileFault]:
    """Links that lead nowhere, of its own pages also those into stock pages that are hidden; of all
    pages, or `of` some."""
    for source in (found if of is None else of).values():
        if source.name in made.hidden and not source.own:
            continue
        for link, times in Counter(source.links).items():
            if told := _dead(made, found, source, link):
                for line in source.lines_of(link, times):
                    yield FileFault("link", source.shown, line, f"“{link}” {told}")


def _barred(found: Mapping[str, _Source]) -> Iterator[FileFault]:
    for source in found.values():
        for (piece, why), times in Counter(source.barred).items():
            for line in source.lines_of(piece, times):
                yield FileFault("barred", source.shown, line, f"“{shortened(piece)}”: {why}")


def _dead(made: Edition, found: Mapping[str, _Source], source: _Source, link: str) -> str:
    parts = urlsplit(link)
    if parts.scheme or parts.netloc:
        return ""
    if re.match(r"a\d+:", parts.fragment):
        return ""  # an answer's link, for a calculator to read
    if not parts.path:
        return "" if source.has(unquote(parts.fragment)) else "is no heading of this page"
    target = _below(source.name, unquote(parts.path))
    if target in made.hidden:
        return "is a page that this edition hides" if source.own else ""
    if not target.endswith(".md"):
        folders = (source.folder, made.pages, making.docs())
        there = [folder / target for folder in folders if folder]
        return "" if any(path.is_file() for path in there) else "leads to no file"
    if target not in found:
        seen = [posixpath.relpath(p, posixpath.dirname(source.name) or ".") for p in found]
        return f"leads to no page.{nearest(parts.path, seen)}"
    if parts.fragment and not found[target].has(unquote(parts.fragment)):
        near = nearest(parts.fragment, sorted(found[target].anchors))
        return f"leads to no heading of that page.{near}"
    return ""


def _below(page: str, link: str) -> str:
    """A link's path as seen from the top: "a/b.md" and "../c.md" give "c.md"."""
    if link.startswith("/"):
        return link.lstrip("/")
    parts: list[str] = page.split("/")[:-1]
    for part in link.split("/"):
        if part == ".." and parts:
            parts.pop()
        elif part not in (".", ""):
            parts.append(part)
    return "/".join(parts)


def _numbers(source: _Source, notes: list[str]) -> Iterator[FileFault]:
    """Calculators, tables and cited numbers that can't be had; each is told.

    What is left out of a stock page, as the edition's example hasn't what it cites, is noted.
    """
    page = filling.Page(source.name, faults=[])
    filling.prepare(source.text, page)
    notes += [
        f"{source.shown}, line {one.line}: the paragraph “{one.begins}” is left out, as it "
        f"cites what your examples haven't: {one.cites}"
        for one in page.left_out
    ]
    for fault in page.faults or ():
        yield FileFault("number", source.shown, fault.line, fault.sentence)


def _to_hidden(made: Edition, found: Mapping[str, _Source]) -> Iterator[str]:
    """Where prose of the stock links to pages that are hidden: those links become words."""
    for source in found.values():
        if source.own or source.name in made.hidden:
            continue
        gone = [
            one for one in source.links if _below(source.name, one.partition("#")[0]) in made.hidden
        ]
        if gone:
            pages_named = ", ".join(dict.fromkeys(one.partition("#")[0] for one in gone))
            yield f"{source.shown}: links to {pages_named} become words"
