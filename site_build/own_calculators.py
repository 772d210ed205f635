"""An edition's own calculators (`calculators/`): read, imported, tried; what is wrong is told by
file and line, never as a traceback.

They are run here as they will be for a reader: what `check` refuses never gets as far as a browser.
"""

from __future__ import annotations

import ast
import re
import signal
import threading
import traceback
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

from calc import calculators, glossary, own, stock
from calc.frame.files import FileFault, decoded
from calc.frame.guide import Calculator, Guide
from calc.frame.inputs import Inputs, nearest
from calc.frame.render import html, text

from . import laws
from .edition import Edition

FOLDER = own.FOLDER
# What the engine has of Python's library, as the stock's own calculators use it.
LIBRARY = (
    "__future__",
    "bisect",
    "cmath",
    "collections",
    "contextlib",
    "copy",
    "csv",
    "dataclasses",
    "datetime",
    "decimal",
    "fractions",
    "functools",
    "heapq",
    "html",
    "io",
    "itertools",
    "json",
    "math",
    "operator",
    "re",
    "statistics",
    "textwrap",
    "time",
    "types",
    "typing",
)
_NAME = r"[a-z][a-z0-9_]*"
# What a calculator has to say, and how one would say it.
_NEEDED = {
    "TITLE": "its title: TITLE = \"Bucket\"",
    "WANTED": "two keys at least of the numbers one comes for: WANTED = (\"time\", \"hourly\")",
    "DECIDES": "the fields that decide: DECIDES = decides(\"volume\")",
    "Asks": "what it asks: class Asks(Inputs)",
    "answer": "how it answers: def answer(q: Asks, show: Report) -> None",
}  # fmt: skip


@dataclass(frozen=True)
class Own:
    """The calculators of an edition with their sources, and what is wrong with them."""

    calculators: Mapping[str, Calculator] = field(default_factory=dict)
    sources: Mapping[str, str] = field(default_factory=dict)
    faults: tuple[FileFault, ...] = ()


def read(made: Edition) -> Own:
    """The calculators of an edition, imported. All faults at once; nothing is raised."""
    folder = made.folder / FOLDER if made.folder else None
    if folder is None or not folder.is_dir():
        return Own()
    sources, faults = _sources(folder)
    broken = {fault.file for fault in faults}
    package = own.Package(sources)
    found: dict[str, Calculator] = {}
    for name in package.names():
        if any(_is_of(name, file.removeprefix(f"{FOLDER}/")) for file in broken):
            continue
        wrong = list(_named(name, sources))
        if not wrong:
            try:
                wrong = list(_lacking(name, package.module(name), sources))
                if not wrong:
                    found[name] = package.calculator(name)
                    wrong = list(_clashing(found, name, sources))
            except Exception as error:  # whatever its code raises
                wrong = [_raised(error, _file(name, sources), "can't be loaded")]
        faults += wrong
    return Own(found, sources, tuple(faults))


def sources(made: Edition) -> dict[str, str]:
    """The texts of an edition's calculators by path, as far as they are texts."""
    folder = made.folder / FOLDER if made.folder else None
    return _sources(folder)[0] if folder and folder.is_dir() else {}


def unasked(theirs: Own, asked: set[str]) -> Iterator[FileFault]:
    """Those that no page asks for."""
    for name in theirs.calculators:
        if name not in asked:
            sentence = f"no page asks for it: write “```calculator {name}” in one, and “```” below"
            yield FileFault("no page", _file(name, theirs.sources), 0, sentence)


LONGEST = 10.0  # s for an answer, as in a reader's browser
CASES = 80  # forms that each is tried with beside the examples: a second or two for each


def tried(theirs: Own, guide: Guide) -> Iterator[FileFault]:
    """What goes wrong where each is run: as its form stands, for each boat, for a boat that says
    nothing yet, and with much that one might type; and the laws that it breaks there."""
    boats: list[dict[str, str]] = [{"boat": key} for key in guide.shelf("boat")]
    for name, calculator in theirs.calculators.items():
        file = _file(name, theirs.sources)
        found = [fault for example in boats for fault in _run(guide, calculator, example, file)]
        if boats and not found:
            broken = list(_laws(guide, calculator, boats, file))
            broken = broken or list(_typed(guide, calculator, boats[0], file))
            found = [_told(one, name, theirs.sources) for one in broken]
        try:
            with _bounded():
                guide.run(calculator, sheet={"name": "a"}, own_boat=True)
        except Exception as error:  # whatever its code raises
            found.append(_raised(error, file, "fails for a boat of one's own"))
        yield from dict.fromkeys(found)


def _run(
    guide: Guide, calculator: Calculator, example: Mapping[str, str], file: str
) -> Iterator[FileFault]:
    try:
        with _bounded():
            outcome = guide.run(calculator, example=example)
        report = outcome.report
        if report is None:
            return  # `check` tells it of the boat's record, as of any calculator
        text.report(report, working=True)
        if not any(laws.working(report)):  # else that is told, and need not be shown
            html.calculator(calculator, outcome, "{}", "metric", "own-", "")
    except Exception as error:  # whatever its code raises
        yield _raised(error, file, f"fails for the boat “{example['boat']}”")
        return
    if not report.headlines:
        sentence = 'says no headline: show.headline("It takes {time}.", time=(time, "min"))'
        yield FileFault("headline", file, 0, sentence)
    keys = [one.key for one in report.figures]
    keys += [one.key for option in report.options for one in option.figures]
    if not report.wanted_figures():
        sentence = f"WANTED names no figure that it shows.{nearest(calculator.wanted[0], keys)}"
        yield FileFault("wanted", file, 0, sentence)


def _laws(
    guide: Guide, calculator: Calculator, boats: Sequence[Mapping[str, str]], file: str
) -> Iterator[laws.Broken | FileFault]:
    """The laws that it breaks as its form stands for each boat; each step is told once."""
    known = glossary.of(guide)
    found: dict[tuple[str, str], laws.Broken] = {}
    for example in boats:
        report = guide.run(calculator, example=example).report
        if report is not None:
            for one in (*laws.working(report), *laws.strangers(report, known)):
                found.setdefault((one.key, one.formula), one)
        try:
            with _bounded():
                for choose in (min, max):  # two units of each kind, by their names
                    for one in laws.unmoved_by_units(guide, calculator, example, choose):
                        found.setdefault((one.key, one.formula), one)
        except Exception as error:  # whatever its code raises
            yield _raised(error, file, "fails with the same values typed in other units")
    yield from found.values()


def _typed(
    guide: Guide, calculator: Calculator, example: Mapping[str, str], file: str
) -> Iterator[laws.Broken | FileFault]:
    """The first law that it breaks, or the first fault of its code, with what is typed."""
    for form in laws.cases(calculator, guide, CASES):
        told = f"with {laws.told(form)} typed in"
        try:
            with _bounded():
                outcome = guide.run(calculator, form, example=example)
                brief = guide.run(calculator, form, example=example, verdict_only=True)
            broken = next(laws.answered(outcome, brief), None)
            html.answer(outcome)
        except Exception as error:  # whatever its code raises
            yield _raised(error, file, f"fails {told}")
            return
        if broken:
            yield laws.Broken(broken.key, f"{broken.sentence}, {told}")
            return


@contextmanager
def _bounded() -> Iterator[None]:
    """An answer that never comes is broken off, where the system can do that."""
    if not hasattr(signal, "setitimer") or threading.current_thread() != threading.main_thread():
        yield
        return

    def give_up(*_: object) -> None:
        raise TimeoutError(f"no answer after {LONGEST:g} s")

    # By the processor's time: a machine that is busy is no fault of theirs.
    before = signal.signal(signal.SIGVTALRM, give_up)
    signal.setitimer(signal.ITIMER_VIRTUAL, LONGEST)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def _told(one: laws.Broken | FileFault, name: str, sources: Mapping[str, str]) -> FileFault:
    """A broken law at the line of its formula, where that is written in one."""
    if isinstance(one, FileFault):
        return one
    for path, source in sources.items() if one.formula else ():
        lines = source.splitlines()
        at = next((n for n, line in enumerate(lines, 1) if one.formula in line), 0)
        if at and _is_of(name, path):
            return FileFault(one.key, f"{FOLDER}/{path}", at, one.sentence)
    return FileFault(one.key, _file(name, sources), 0, one.sentence)


# --- The sources -----------------------------------------------------------------------------


def _sources(folder: Path) -> tuple[dict[str, str], list[FileFault]]:
    """The texts of all files by path, and what is wrong with those that are no Python."""
    found: dict[str, str] = {}
    faults: list[FileFault] = []
    for path in sorted(folder.rglob("*.py")):
        name = path.relative_to(folder).as_posix()
        source = decoded(path.read_bytes(), f"{FOLDER}/{name}")
        if isinstance(source, FileFault):
            faults.append(source)
            continue
        found[name] = source.replace("\r\n", "\n")
        try:
            faults += _imports(ast.parse(source), f"{FOLDER}/{name}")
        except SyntaxError as error:
            faults.append(_raised(error, f"{FOLDER}/{name}", ""))
        except ValueError as error:  # a null byte
            faults.append(FileFault("syntax", f"{FOLDER}/{name}", 0, f"is no Python: {error}"))
    return found, faults


def _imports(tree: ast.Module, file: str) -> Iterator[FileFault]:
    """What a reader's browser hasn't got."""
    for node in ast.walk(tree):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and not node.level:
            names = [node.module or ""]
        for name in names:
            if name.partition(".")[0] not in (*LIBRARY, "calc"):
                sentence = (
                    f"imports “{name}”, which a reader's browser hasn't got; it has the guide's "
                    f"own modules (from ..frame import …) and {', '.join(LIBRARY[1:])}"
                )
                yield FileFault("import", file, getattr(node, "lineno", 0), sentence)


def _is_of(name: str, path: str) -> bool:
    return path == f"{name}.py" or path.startswith(f"{name}/")


def _file(name: str, sources: Mapping[str, str]) -> str:
    """The file that faults of a calculator are told at."""
    single = f"{name}.py"
    return f"{FOLDER}/{single if single in sources else f'{name}/__init__.py'}"


def _named(name: str, sources: Mapping[str, str]) -> Iterator[FileFault]:
    """What is wrong with a calculator's name."""
    file = _file(name, sources)
    if not re.fullmatch(_NAME, name):
        sentence = (
            f"“{name}” is not allowed as a name: small letters, digits and “_”, a letter first"
        )
        yield FileFault("name", file, 0, sentence)
    elif name in calculators.found():
        sentence = f"a calculator of the stock is called “{name}”: give yours another name"
        yield FileFault("same name", file, 0, sentence)
    elif file.removeprefix(f"{FOLDER}/") not in sources:
        yield FileFault("missing", file, 0, "isn't there: a folder's calculator begins with it")
    elif f"{name}.py" in sources and any(path.startswith(f"{name}/") for path in sources):
        sentence = f"there is a folder “{name}” too: keep one of the two"
        yield FileFault("same name", file, 0, sentence)


def _lacking(name: str, module: ModuleType, sources: Mapping[str, str]) -> Iterator[FileFault]:
    """What a calculator must say and doesn't."""
    file = _file(name, sources)
    if not (module.__doc__ or "").strip():
        sentence = "must begin with the question that it answers, as its docstring"
        yield FileFault("lacking", file, 1, sentence)
    for part, told in _NEEDED.items():
        if not hasattr(module, part):
            yield FileFault("lacking", file, 0, f"must say {told}", "", part)
    asks: Any = getattr(module, "Asks", Inputs)
    if not (isinstance(asks, type) and issubclass(asks, Inputs)):
        yield FileFault("lacking", file, 0, f"must say {_NEEDED['Asks']}", "", "Asks")
        return
    if hasattr(module, "WANTED") and (
        isinstance(module.WANTED, str) or len(tuple(module.WANTED)) < 2
    ):
        yield FileFault("lacking", file, 0, f"must say {_NEEDED['WANTED']}", "", "WANTED")
    for row in getattr(module, "DECIDES", ()):
        for one in getattr(row, "fields", (str(row),)):
            if one not in asks.fields and hasattr(module, "Asks"):
                sentence = f"it asks for no “{one}”.{nearest(one, asks.fields)}"
                yield FileFault("decides", file, 0, sentence, "", "DECIDES")


def _clashing(
    found: Mapping[str, Calculator], name: str, sources: Mapping[str, str]
) -> Iterator[FileFault]:
    """Kinds of record that there are already."""
    others = {one.shelf for other, made in found.items() if other != name for one in made.kinds}
    for kind in found[name].kinds:
        if kind.shelf in stock.kinds() or kind.shelf in others:
            sentence = f"a kind of record is called “{kind.shelf}” already: name yours otherwise"
            yield FileFault("same name", _file(name, sources), 0, sentence, "", "KINDS")


def _raised(error: Exception, file: str, what: str) -> FileFault:
    """What its code raised, at the last line of the edition's own that led there."""
    if isinstance(error, SyntaxError):
        said = str(error.filename or "")
        where = said if said.startswith(f"{FOLDER}/") else file
        return FileFault("syntax", where, error.lineno or 0, f"is no Python here: {error.msg}")
    frames = traceback.extract_tb(error.__traceback__)
    there = [one for one in frames if one.filename.startswith(f"{FOLDER}/")]
    at = (there[-1].filename, there[-1].lineno or 0) if there else (file, 0)
    told = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
    return FileFault("raises", *at, f"{what}: {told}")
