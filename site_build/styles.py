"""One style sheet out of the theme's and ours, without the rules that no page can ever use.

The first picture waits for all that is in it. A rule goes only where each of its selectors asks for
an element, a class, an id or an attribute whose name occurs nowhere: in no page as it was built, in
no script that runs in one, in none of the code that writes answers. Names that code puts together
are known by their pieces ("calc-" and what follows). States of elements (`:hover`, `::before`) are
no names: they drop nothing.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib import metadata
from pathlib import Path

import tinycss2  # type: ignore[import-untyped]
from tinycss2.ast import AtRule, Declaration, Node, QualifiedRule  # type: ignore[import-untyped]

import calc
from site_build import kit, tables

BROWSER = Path(__file__).parent / "browser"
CALC = Path(calc.__file__).parent

_TAG = re.compile(r"""<[a-zA-Z](?:[^<>"']++|"[^"]*+"|'[^']*+')*+>""")
_WORD = re.compile(r"[\w-]+")
_PIECE = 2  # letters that a piece of a name has at least: a single one fits everything
_JOINTS = ("-", "__")  # where names are put together
# Of what stands in these one must be there; what stands in others (`:not`) drops nothing.
_ANY_OF = ("is", "where", "has", "matches", "-webkit-any", "-moz-any")
_WHOLE = ("=", "~=")  # how an attribute is compared with whole words
# The theme sets it at every start and takes it away again, so that colours change at once: all
# style is computed anew, twice.
_UNHEARD = {"data-md-color-switching"}
# The theme's tables of a text are those without a class. But a browser notes of a rule that a class
# may matter, not whose: each one that is set on an element would have all in it computed anew.
_BARE, _MARKED = "table:not([class])", f"table[{tables.PLAIN}]"
_SHEETS = 12  # that are kept: an edition has one for each of its languages


@dataclass(frozen=True)
class Names:
    """The names that elements may come to bear."""

    words: frozenset[str]
    begins: tuple[str, ...] = ()
    ends: tuple[str, ...] = ()

    def __contains__(self, name: str) -> bool:
        if name in _UNHEARD:
            return False
        return name in self.words or name.startswith(self.begins) or name.endswith(self.ends)


def names(pages: Iterable[str], code: Iterable[str]) -> Names:
    """What stands in the tags of pages, and in code anywhere; there also pieces of names."""
    tags = {tag for page in pages for tag in _TAG.findall(page)}
    words = {word for tag in tags for word in _WORD.findall(tag)}
    coded = {word for text in code for word in _WORD.findall(text)}
    joined = (word for word in coded if word.startswith(_JOINTS) or word.endswith(_JOINTS))
    pieces = sorted(word for word in joined if len(re.sub(r"\W|\d|_", "", word)) >= _PIECE)
    return Names(
        frozenset(words | coded),
        tuple(word for word in pieces if word.endswith(_JOINTS)),
        tuple(word for word in pieces if word.startswith(_JOINTS)),
    )


def write(site: Path, name: str, sheets: Sequence[str], own: str) -> str:
    """Put one sheet into a site whose pages and scripts are there, in the place of `name`.

    Returns the name that it gets, which tells its content.
    """
    pages = {path: path.read_text("utf-8") for path in sorted(site.rglob("*.html"))}
    made = _made(sheets, own, names(pages.values(), [*_scripts(site), *_renderers()]))
    target = Path(named(name.removesuffix(".css"), ".css", made))
    (site / target).parent.mkdir(parents=True, exist_ok=True)
    (site / target).write_text(made, "utf-8")
    for path, page in pages.items():
        path.write_text(page.replace(f'{name}"', f'{target.as_posix()}"', 1), "utf-8")
    return target.as_posix()


def _made(sheets: Sequence[str], own: str, known: Names) -> str:
    """The one sheet, which is kept: most changes of a guide bring no name and take none away."""
    version = metadata.version("tinycss2").encode()
    names = (*sorted(known.words), "", *known.begins, "", *known.ends)
    texts = (own, *sheets, "\n".join(names))
    ingredients = [Path(__file__).read_bytes(), version, *(text.encode() for text in texts)]
    return kit.kept("sheet", ingredients, lambda: in_one(sheets, own, known), _SHEETS)


def named(stem: str, suffix: str, content: str) -> str:
    """A name that tells a file's content, as hosts and browsers keep such ones."""
    return f"{stem}.{hashlib.sha256(content.encode()).hexdigest()[:12]}{suffix}"


def _scripts(site: Path) -> Iterator[str]:
    """All that runs in pages: the theme's, ours."""
    theirs = site / "assets" / "javascripts"
    for path in (*BROWSER.glob("*.js"), *theirs.glob("*.js"), *theirs.glob("workers/*.js")):
        yield path.read_text("utf-8")


@cache
def _renderers() -> list[str]:
    """The code that writes answers, in a browser too."""
    return [path.read_text("utf-8") for path in sorted(CALC.rglob("*.py"))]


@dataclass
class _Said:
    """A declaration: what it sets, its text, the properties of our own that it reads."""

    name: str
    text: str
    reads: frozenset[str]


@dataclass
class _Block:
    """A rule with its head, or without one all of a sheet."""

    head: str
    inside: list[_Block | _Said | str] = field(default_factory=list)


def in_one(sheets: Sequence[str], own: str, known: Names) -> str:
    """The sheets as one, without what no page can use; after it `own`, an edition's, as it is."""
    whole = _Block("")
    for sheet in sheets:
        rules = tinycss2.parse_stylesheet(sheet, skip_comments=True, skip_whitespace=True)
        whole.inside += _blocks(rules, known)
    said = [_Said("", own, frozenset(re.findall(r"--[\w-]+", own)))] if own else []
    _drop_unread(whole, said, known)
    return _charset_first(f"{_text(whole)}\n{own}" if own else _text(whole))


def selectors(sheet: str) -> Iterator[str]:
    """Each selector of a sheet by itself, those of all media."""
    rules = tinycss2.parse_stylesheet(sheet, skip_comments=True, skip_whitespace=True)
    yield from _selectors(rules)


def _selectors(rules: Iterable[Node]) -> Iterator[str]:
    for rule in rules:
        if isinstance(rule, QualifiedRule):
            yield from map(_selector, split(rule.prelude))
        elif isinstance(rule, AtRule) and rule.content and "keyframes" not in rule.lower_at_keyword:
            yield from _selectors(tinycss2.parse_blocks_contents(rule.content, True, True))


def _selector(tokens: Sequence[Node]) -> str:
    return _packed(tokens).replace(_BARE, _MARKED)


def _blocks(rules: Iterable[Node], known: Names | None) -> Iterator[_Block | _Said | str]:
    """What is kept of some rules; all, where no names are given."""
    for rule in rules:
        if isinstance(rule, Declaration):
            reads = frozenset(re.findall(r"--[\w-]+", tinycss2.serialize(rule.value)))
            yield _Said(rule.name, _declared(rule), reads)
        elif isinstance(rule, QualifiedRule):
            if known is None or any(_possible(one, known) for one in split(rule.prelude)):
                head = ",".join(map(_selector, split(rule.prelude)))
                yield _Block(head, list(_blocks(_inside(rule), known)))
        elif isinstance(rule, AtRule):
            head = f"@{rule.at_keyword} {_packed(rule.prelude)}".rstrip()
            if rule.content is None:
                yield f"{head};"
                continue
            steps = "keyframes" in rule.lower_at_keyword
            if inside := list(_blocks(_inside(rule), None if steps else known)):
                yield _Block(head, inside)


def _inside(rule: QualifiedRule | AtRule) -> list[Node]:
    found: list[Node] = tinycss2.parse_blocks_contents(rule.content, True, True)
    return found


def _possible(tokens: Sequence[Node], known: Names) -> bool:
    """Whether an element may ever match a selector that has no comma."""
    before = None
    for token in tokens:
        after, before = before, token
        if token.type == "hash" or (token.type == "ident" and after != ":"):
            if token.value not in known:
                return False
        elif token.type == "[] block":
            if not all(name in known for name in _of_attribute(token.content)):
                return False
        elif (
            token.type == "function"
            and token.lower_name in _ANY_OF
            and not any(_possible(one, known) for one in split(token.arguments))
        ):
            return False
    return True


def _of_attribute(tokens: Sequence[Node]) -> list[str]:
    """The attribute's name, and the words that it is to hold."""
    idents = [token for token in tokens if token.type in ("ident", "string")]
    compared = [token.value for token in tokens if token.type == "literal"]
    name, values = idents[0].value, idents[1:2]
    words = [word for one in values for word in _WORD.findall(one.value)]
    return [name, *words] if compared and compared[0] in _WHOLE else [name]


def split(tokens: Iterable[Node]) -> list[list[Node]]:
    """Selectors that stand in a list."""
    found: list[list[Node]] = [[]]
    for token in tokens:
        if token == ",":
            found.append([])
        else:
            found[-1].append(token)
    return found


def _drop_unread(whole: _Block, said: list[_Said], known: Names) -> None:
    """Properties of our own that nothing reads, until none is left: the theme has icons in them."""
    dropped = True
    while dropped:
        read = {name for one in (*said, *_all_said(whole)) for name in one.reads}
        dropped = _without(whole, known.words | read)


def _all_said(block: _Block) -> Iterator[_Said]:
    for one in block.inside:
        if isinstance(one, _Said):
            yield one
        elif isinstance(one, _Block):
            yield from _all_said(one)


def _without(block: _Block, kept: frozenset[str]) -> bool:
    """Drop other properties of our own, and rules that say nothing then; whether any was."""
    before = len(block.inside)
    block.inside = [
        one
        for one in block.inside
        if not (isinstance(one, _Said) and one.name.startswith("--") and one.name not in kept)
    ]
    dropped = len(block.inside) < before
    for one in list(block.inside):
        if isinstance(one, _Block) and one.inside and _without(one, kept):
            dropped = True
            if not one.inside:
                block.inside.remove(one)
    return dropped


def _text(block: _Block) -> str:
    inside = "".join(_written(one) for one in block.inside)
    return f"{block.head}{{{inside.removesuffix(';')}}}" if block.head else inside


def _written(one: _Block | _Said | str) -> str:
    if isinstance(one, _Said):
        return f"{one.text};"
    return one if isinstance(one, str) else _text(one)


def _declared(one: Declaration) -> str:
    name = one.name if one.name.startswith("--") else one.lower_name
    return f"{name}:{_packed(one.value)}{'!important' if one.important else ''}"


def _packed(tokens: Iterable[Node]) -> str:
    """Tokens as text, without what is there for people."""
    return str(tinycss2.serialize(_bare(tokens))).strip()


def _bare(tokens: Iterable[Node]) -> list[Node]:
    kept = [token for token in tokens if token.type != "comment"]
    for token in kept:
        if token.type == "whitespace":
            token.value = " "
        for name in ("content", "arguments"):
            if inside := getattr(token, name, None):
                setattr(token, name, _bare(inside))
    return kept


def _charset_first(sheet: str) -> str:
    """It counts at the very beginning alone."""
    mark = '@charset "UTF-8";'
    return mark + sheet.replace(mark, "")
