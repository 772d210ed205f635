"""The words of the source, found in its syntax: what a translator is given.

A literal counts where the frame takes words (a label, a sentence, a slot, a choice …), and
elsewhere where it reads as words: sentences stand in tables too, and travel by names.
"""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from mkdocs.utils.yaml import yaml_load

import calc
from calc.frame import units

from . import machine, published

CALC, HERE = Path(calc.__file__).parent, Path(__file__).parent
# Rooms without words for a reader, and files that only tell those who build.
SILENT_ROOMS: tuple[str, ...] = (
    "calc/rounding.py",
    "calc/equipment/records",
    "calc/equipment/__init__.py",
)
SILENT_ROOMS += ("calc/equipment/layers.py", "calc/frame/files.py")
SILENT_ROOMS += ("calc/frame/units/table.py", "calc/frame/units/spellings.py", "calc/stock.py")

# Rooms that have no words but names of things: materials, classes, places.
NAMING_ROOMS = ("calc/physics", "calc/system")

# Where a call takes words: by its name, the places of its arguments.
WORDS_AT: dict[str, tuple[int, ...]] = {
    **dict.fromkeys(
        ("line", "Line", "phrase", "spoken", "worded", "named", "literal", "say"), (0,)
    ),
    **dict.fromkeys(("Said", "InputError", "UnitError", "LogError", "LinkError"), (0,)),
    **dict.fromkeys(("BoatFileError", "BadInput", "Unknown", "NestedTooDeep", "_NotNow"), (0,)),
    **dict.fromkeys(("headline", "note", "remedy"), (0,)),
    **dict.fromkeys(("reason", "fail", "unknown", "reservation", "Refusal"), (1,)),
    **dict.fromkeys(("figure", "held", "option", "Option"), (1,)),
    **dict.fromkeys(("ask", "whole", "yes_no", "aboard", "text", "date", "logbook"), (0,)),
    **dict.fromkeys(("choice",), (0, 1)),
    **dict.fromkeys(("record", "rows", "but"), (0,)),
    **dict.fromkeys(("Axis", "Series", "Mark", "Band", "Lane", "Stay"), (0,)),
    **dict.fromkeys(("Chart", "Drawing", "Timeline", "Bars"), (1, 2)),
    "Table": (1, 2, 3),
    "step": (0, 6),
    "Caution": (1, 2),
    "Question": (0, 2),
    "Quantity": (0, 1, 4),
    "download": (2,),
    **dict.fromkeys(("Day", "OneOf", "Hours", "Measure", "Words"), (1,)),
    "Paper": (0,),
    "Shape": (2,),
    "_fold": (1,),
    "bullets": (1,),
    "define": (1, 2),
}
COUNTS_AT = {"counted": (1, 2), "spoken_count": (1, 2), "of_count": (1, 2)}
# Named arguments that are words wherever they stand, and those that never are.
WORDS_NAMED = {"help", "note", "basis", "one", "others", "group", "summary", "description", "says"}
WORDS_NAMED |= {"label", "title", "text", "words"}
SILENT_NAMED = {"sets", "mends", "key", "unit", "kind", "formula", "style", "anchor", "default"}
SILENT_NAMED |= {
    "when",
    "from_record",
    "preset",
    "follows",
    "above",
    "at_least",
    "below",
    "at_most",
}
SILENT_NAMED |= {"encoding", "name", "pattern", "tells", "known_by", "rated_by", "known", "source"}
# Calls none of whose other arguments is for a reader.
MUTE = {"compile", "sub", "match", "fullmatch", "search", "get", "startswith", "endswith", "split"}
MUTE |= {"replace", "partition", "removesuffix", "removeprefix", "getattr", "setattr", "hasattr"}
MUTE |= {"TypeError", "KeyError", "ArithmeticError", "EquipmentError", "ValueError", "SyntaxError"}
MUTE |= {"add_argument", "add", "print", "FileFault", "fault", "import_module", "register_error"}
MUTE |= {"open", "encode", "decode", "read_text", "Layer", "ContextVar", "TypeVar"}
MUTE |= {"unit", "own", "own_unit", "parse", "decides", "Decides", "is_set", "is_one_of", "Other"}
MUTE |= {"rules", "Rule", "fact", "cached", "lru_cache", "strptime", "split_number", "_Parser"}


@dataclass(frozen=True)
class Message:
    """A literal with where it stands; of a count's pair `many` is the other one."""

    words: str
    file: str
    line: int
    many: str = ""


@cache
def messages() -> tuple[Message, ...]:
    """All words of the source, in the order of files and lines, each place of each."""
    found: list[Message] = []
    for path in sorted(CALC.rglob("*.py")):
        name = path.relative_to(CALC.parent).as_posix()
        if not name.startswith(SILENT_ROOMS):
            found += of_source(path.read_text("utf-8"), name)
    for path in sorted(HERE.glob("*.py")):
        if not path.name.startswith("language"):
            found += _Called(f"site_build/{path.name}", ast.parse(path.read_text("utf-8"))).found
    for name, read in (("theme", of_theme), ("browser", of_script)):
        for path in sorted((HERE / name).rglob("*")):
            if path.suffix in (".html", ".js"):
                found += read(path.read_text("utf-8"), path.relative_to(HERE.parent).as_posix())
    areas = dict.fromkeys(check.area for check in published.load())
    found += [Message(area, "published", 0) for area in (*areas, *published.STANDINGS)]
    return (*found, *of_units(), *of_settings(machine.ROOT / "mkdocs.yml"))


def of_own(sources: Mapping[str, str]) -> Iterator[Message]:
    """The words of calculators that an edition has of its own; none of a file that is no Python."""
    for path, source in sorted(sources.items()):
        try:
            found = of_source(source, f"calc/calculators/{path}")
        except (SyntaxError, ValueError):
            continue  # `check` tells it
        yield from (replace(one, file=f"calculators/{path}") for one in found)


_SAID = re.compile(r"""say\("([^"]+)"\)""")
_SPOKEN = re.compile(r"""\b(?:spoken|parts)\(\s*"((?:[^"\\]|\\.)*)\"""")
_COUNTED = re.compile(r"""\bcounted\(\s*\w+,\s*"([^"]*)",\s*"([^"]*)\"""")


def of_theme(source: str, name: str) -> Iterator[Message]:
    """The theme's words: what a template says."""
    for found in _SAID.finditer(source):
        yield Message(found[1], name, source.count("\n", 0, found.start()) + 1)


def of_script(source: str, name: str) -> Iterator[Message]:
    """A script's words: what it takes from the page's language."""
    for found in _SPOKEN.finditer(source):
        yield Message(json.loads(f'"{found[1]}"'), name, source.count("\n", 0, found.start()) + 1)
    for found in _COUNTED.finditer(source):
        line = source.count("\n", 0, found.start()) + 1
        yield Message(found[1], name, line, found[2])


def of_settings(path: Path) -> Iterator[Message]:
    """The words of the stock's settings: chapters, the names of the looks."""
    settings = yaml_load(path.read_text("utf-8"))
    words = [settings["site_description"], *_titles(settings["nav"])]
    for look in settings["theme"]["palette"]:
        words += [look["toggle"]["name"], look["scheme"].title()]
    for one in words:
        yield Message(one, path.name, 0)


def _titles(nav: Any) -> Iterator[str]:
    for one in nav if isinstance(nav, list) else ():
        for title, inside in one.items() if isinstance(one, dict) else ():
            yield title
            yield from _titles(inside)


def of_units() -> list[Message]:
    """The units that are words, as they are printed."""
    symbols = {units.pretty(symbol) for _, symbol in units.UNITS}
    words = [one for one in sorted(symbols) if re.search(r"[a-z]{4}|\b(?:US|imp)\b", one)]
    for kind in units.KINDS.values():
        words += filter(is_words, (kind.asked, kind.example))
    return [Message(one, "calc/frame/units/table.py", 0) for one in (*words, *units.JOINED_BY)]


def of_source(source: str, name: str) -> list[Message]:
    """The words of one file."""
    tree = ast.parse(source)
    if name.startswith(NAMING_ROOMS):
        return list(_names(tree, name))
    reader = _Reader(name, set(_tables_of_pairs(tree)))
    reader.visit(tree)
    if re.fullmatch(r"calc/calculators/(?!_)\w+(?:/__init__)?\.py", name):
        asked = (ast.get_docstring(tree) or "").strip().splitlines()
        reader.found[:0] = [Message(asked[0], name, 1)] if asked else []
    return reader.found


class _Reader(ast.NodeVisitor):
    def __init__(self, name: str, pairs: set[str]) -> None:
        self.name = name
        self.pairs = pairs  # names of tables of what is told of one and of many
        self.found: list[Message] = []

    def _take(self, node: ast.Constant, sure: bool) -> None:
        words = node.value
        if isinstance(words, str) and (is_words(words) if sure else reads_as_words(words)):
            self.found.append(Message(words, self.name, node.lineno))

    def visit_Constant(self, node: ast.Constant) -> None:
        self._take(node, sure=False)

    def visit_Expr(self, node: ast.Expr) -> None:
        if not isinstance(node.value, ast.Constant):  # else a docstring
            self.visit(node.value)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        for part in node.values:  # its own pieces are marks between sentences, or HTML
            if isinstance(part, ast.FormattedValue):
                self.visit(part.value)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        self.visit(node.value)
        if not isinstance(node.slice, ast.Constant):
            self.visit(node.slice)

    def visit_Compare(self, node: ast.Compare) -> None:
        for part in (node.left, *node.comparators):
            if not _is_plain(part):
                self.visit(part)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self.visit(node.test)
        for one in (node.body, node.orelse):  # a word by itself in a cell: "never", "louder"
            if isinstance(one, ast.Constant) and isinstance(one.value, str):
                self._take(one, sure=re.fullmatch(r"[a-z]{3,}", one.value) is not None)
            else:
                self.visit(one)

    def visit_Dict(self, node: ast.Dict) -> None:
        for key, value in zip(node.keys, node.values, strict=True):
            if key is not None and not _is_plain(key):
                self.visit(key)
            self._words(value)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self.visit(node.value)

    def visit_Assign(self, node: ast.Assign) -> None:
        names = [one.id for one in node.targets if isinstance(one, ast.Name)]
        if names in (["WANTED"], ["__all__"], ["PICTURE"]):
            return
        if names == ["DECIDES"] and not isinstance(node.value, ast.Dict):
            return
        if names == ["TITLE"] or (
            names and names[0].isupper() and isinstance(node.value, ast.Tuple)
        ):
            self._words(node.value)
        elif self.pairs.intersection(names):
            for pair in ast.walk(node.value):
                if isinstance(pair, ast.Tuple) and len(pair.elts) == 2:
                    self._pair(pair.elts)
        else:
            self.visit(node.value)

    def visit_arguments(self, node: ast.arguments) -> None:
        for default in (*node.defaults, *node.kw_defaults):
            if default is not None:
                self.visit(default)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        self.visit(node.args)  # and no annotations: they are types
        for decorator in node.decorator_list:
            self.visit(decorator)
        for part in node.body:
            self.visit(part)

    def visit_Call(self, node: ast.Call) -> None:
        called = node.func
        name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
        self.visit(called)
        if name in COUNTS_AT:
            self._count(node, COUNTS_AT[name])
        taken = WORDS_AT.get(name, ())
        for place, value in enumerate(node.args):
            if place in taken:
                self._words(value)
            elif not _is_plain(value) or (name not in MUTE and name not in (*WORDS_AT, *COUNTS_AT)):
                self.visit(value)
        slots = name in WORDS_AT or name in COUNTS_AT
        for one in node.keywords:
            if one.arg in SILENT_NAMED and _is_plain(one.value):
                continue
            if one.arg in WORDS_NAMED or (slots and one.arg not in SILENT_NAMED):
                self._words(one.value)
            elif name not in MUTE or not _is_plain(one.value):
                self.visit(one.value)

    def _count(self, node: ast.Call, places: tuple[int, ...]) -> None:
        self._pair([node.args[place] for place in places if place < len(node.args)])

    def _pair(self, pair: Sequence[ast.expr]) -> None:
        texts = [one.value for one in pair if isinstance(one, ast.Constant)]
        if len(texts) == 2 and all(isinstance(text, str) for text in texts):
            one, many = map(str, texts)
            self.found.append(Message(one, self.name, pair[0].lineno, many))

    def _words(self, node: ast.expr) -> None:
        """What stands where words are taken: a literal, or one of several."""
        if isinstance(node, ast.Constant):
            self._take(node, sure=True)
        elif isinstance(node, ast.IfExp):
            self.visit(node.test)
            self._words(node.body)
            self._words(node.orelse)
        elif isinstance(node, (ast.Tuple, ast.List)):
            for part in node.elts:
                self._words(part)
        elif isinstance(node, ast.BoolOp):
            for part in node.values:
                self._words(part)
        elif isinstance(node, ast.Subscript) and isinstance(node.value, (ast.Tuple, ast.Dict)):
            self._words(node.value)
            self.visit(node.slice)
        elif isinstance(node, ast.DictComp):
            self._words(node.value)
            self.visit(node.generators[0].iter)
        else:
            self.visit(node)


def _names(tree: ast.Module, name: str) -> Iterator[Message]:
    """The names of things in a file: what a thing is made with, or stands under in a table."""
    for node in ast.walk(tree):
        found: list[ast.expr | None] = []
        if isinstance(node, ast.Call) and _makes_a_thing(node):
            found = [*node.args[:1], *(one.value for one in node.keywords if one.arg == "name")]
        elif isinstance(node, ast.Dict) and all(map(_makes_a_thing, node.values)):
            found = list(node.keys)
        elif isinstance(node, (ast.Return, ast.IfExp)):
            found = [node.value] if isinstance(node, ast.Return) else [node.body, node.orelse]
        elif isinstance(node, ast.Assign) and isinstance(node.value, ast.Tuple):
            found = list(node.value.elts)
        for one in found:
            if isinstance(one, ast.Constant) and isinstance(one.value, str) and is_words(one.value):
                yield Message(one.value, name, one.lineno)


def _makes_a_thing(node: ast.expr) -> bool:
    """Whether it is a call of a class of ours."""
    return (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id[:1].isupper()
        and not node.func.id.endswith("Error")
    )


class _Called(ast.NodeVisitor):
    """The words of a file that mostly tells those who build: what it hands to `spoken` and such."""

    CALLS = ("spoken", "worded", "named")

    def __init__(self, name: str, tree: ast.Module) -> None:
        self.found: list[Message] = []
        self._reader = _Reader(name, set())
        self._reader.found = self.found
        self._constants = {
            one.id: node.value
            for node in tree.body
            if isinstance(node, ast.Assign)
            for one in node.targets
            if isinstance(one, ast.Name)
        }
        self.visit(tree)

    def visit_Call(self, node: ast.Call) -> None:
        name = getattr(node.func, "id", "")
        if name in self.CALLS and node.args:
            first = node.args[0]
            words = self._constants.get(getattr(first, "id", ""), first)
            if isinstance(words, ast.Constant):
                self._reader.visit_Call(ast.Call(node.func, [words], []))
            self.generic_visit(node)
        elif name in COUNTS_AT:
            self._reader.visit_Call(node)
        else:
            self.generic_visit(node)

    def visit_Assign(self, node: ast.Assign) -> None:
        names = [one.id for one in node.targets if isinstance(one, ast.Name)]
        if names and names[0].endswith(("_COLUMNS", "_WORDS")):
            self._reader.visit_Assign(node)
        else:
            self.generic_visit(node)


def _tables_of_pairs(tree: ast.Module) -> Iterator[str]:
    """The names in `counted(n, *PAIR)` and `counted(n, *PAIRS[key])`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in COUNTS_AT:
            for one in node.args:
                value = one.value if isinstance(one, ast.Starred) else None
                value = value.value if isinstance(value, ast.Subscript) else value
                if isinstance(value, ast.Name):
                    yield value.id


def _is_plain(node: ast.expr) -> bool:
    """Whether it is a literal, or a row of literals."""
    if isinstance(node, (ast.Tuple, ast.List, ast.Set)):
        return all(map(_is_plain, node.elts))
    return isinstance(node, ast.Constant)


def is_words(text: str) -> bool:
    """Whether a literal has a word in it beside its slots, or several slots, which another language
    may put in another order; and is no name of the program's."""
    if re.fullmatch(r"\w+_\w+|[\w-]+\.\w+(\.\w+)*", text):
        return False
    if len(re.findall(r"{\w+}", text)) > 1:
        return True
    return re.search(r"[^\W\d_]{2}", re.sub(r"{\w*}", "", text)) is not None


_FORMULA = re.compile(r"^\w+ = |\*\*|sqrt\(")
_MARKUP = re.compile(r"[<>\\\n]|^[.#:@&\[]|[;{]\s*$|\w+=\"")


def reads_as_words(text: str) -> bool:
    """Whether a literal reads as words wherever it stands: a sentence, or a word with a capital."""
    plain = re.sub(r"{\w*}", "", text)
    if (
        not is_words(text)
        or _FORMULA.search(text)
        or _MARKUP.search(text)
        or re.search(r"[\\\n]", text)
    ):
        return False
    if re.fullmatch(r"[-+]?[\d.,/ ]+\s?\S*( \S{1,3})?", text):  # an amount
        return False
    if " " in plain.strip():
        return re.search(r"[a-z]{2}", plain) is not None
    return re.fullmatch(r"[A-Z][a-z’'-]{2,}[.:…]?", plain.strip()) is not None
