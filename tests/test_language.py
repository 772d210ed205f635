"""The source's sentences in another language: put there where they are shown, and nowhere else."""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from dataclasses import replace

import pytest

from calc import stock
from calc.frame import language, service, units
from calc.frame.inputs import Fault, InputError
from calc.frame.language import Catalogue, catalogue, phrase, speaking
from calc.frame.report import Amount, as_written, counted, line, say
from site_build import language as files
from site_build import language_extract as extract

# Three forms, as in many Slavic languages: by the last digits, and by those before them.
_FORMS = [
    0
    if n % 10 == 1 and n % 100 != 11
    else 1
    if n % 10 in (2, 3, 4) and n % 100 not in (12, 13, 14)
    else 2
    for n in range(200)
]
OTHER = Catalogue(
    "xx",
    "Other",
    {
        "fits": "PASST",
        "not asked yet": "UNGEFRAGT",
        "{a} at {b}": "bei {b}: {a}",
        "up to 25 °C": "bis 25 °C",
        "pump": "PUMPE",
        "needs a value": "FEHLT",
        "yes": "JA",
        "days": "TAGE",
    },
    {"{n} day": ("{n} eins", "{n} wenige", "{n} viele")},
    _FORMS,
    ",",
)


def test_a_sentence_is_put_into_the_language_where_it_is_shown() -> None:
    told = line("{a} at {b}", a=(2.0, "m"), b="pump")
    assert told.text() == "2 m at pump"
    with speaking(OTHER):
        assert told.text() == "bei PUMPE: 2 m"
        assert say("up to 25 °C", "us") == "bis 77 °F"
        assert as_written("pump") == "pump"
        assert say("what no catalogue has") == "what no catalogue has"
        assert Amount(86400.0 * 3, "days").text() == "3 TAGE"
    assert told.text() == "2 m at pump"


@pytest.mark.parametrize(
    ("count", "form"), [(0, 2), (1, 0), (2, 1), (12, 2), (21, 0), (111, 2), (1002, 1), (54321, 0)]
)
def test_a_count_takes_the_form_of_its_language(count: int, form: int) -> None:
    told = counted(count, "{n} day", "{n} days")
    with speaking(OTHER):
        assert told.text() == OTHER.counts["{n} day"][form].format(n=count)
    assert told.text() == (f"{count} day" if count == 1 else f"{count} days")


def test_what_is_told_of_a_fault_is_told_anew_in_each_language() -> None:
    fault = Fault("f", "pump", phrase("{a} at {b}", a=phrase("yes"), b="yes"))
    assert str(fault) == "pump: yes at yes"
    with speaking(OTHER):
        assert str(fault) == "PUMPE: bei yes: JA"  # what was typed stays as it was typed
        assert str(InputError("{a} at {b}", a=1, b=2)) == "bei 2: 1"


def test_what_a_catalogue_lacks_is_noted() -> None:
    with speaking(OTHER), language.noting_lacking() as lacking:
        say("fits")
        say("does not fit")
        say("25")
        language.term("a name")
    assert lacking == {"does not fit"}
    with language.noting_lacking() as lacking:
        say("does not fit")
    assert not lacking


def test_a_catalogue_comes_back_from_its_data() -> None:
    again = catalogue(json.loads(json.dumps(OTHER.as_data())))
    assert again.as_data() == OTHER.as_data()


def test_the_service_speaks_the_language_of_its_guide() -> None:
    guide = replace(stock.guide(), language=OTHER)
    request = json.dumps({"calculator": "power", "example": {"boat": "ketch"}})
    english = service.handle(request, stock.guide())
    other = service.handle(request, guide)
    assert "PASST" in other and "PASST" not in english
    assert service.handle(request, stock.from_data(stock.data(guide))) == other
    assert service.handle(request, stock.guide()) == english
    assert language.code() == "en" and units.decimal_mark.get() == "."


def test_what_is_kept_between_requests_is_kept_by_language() -> None:
    guides = (stock.guide(), replace(stock.guide(), language=OTHER))
    tasks = [{"name": "a", "every_hours": ""}] * 2
    request = {"calculator": "upkeep", "typed": {"tasks": tasks}, "example": {"boat": "ketch"}}
    pages = {"do": "verdicts", "sheet": {"name": "a"}, "pages": {"power": {}}}
    for asked in map(json.dumps, (request, pages)):
        first = [service.handle(asked, guide) for guide in guides]
        again = [service.handle(asked, guide) for guide in reversed(guides)]
        assert first == again[::-1] and first[0] != first[1]


# ---- translators' files ----

HEADER = (
    'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
    '"Plural-Forms: nplurals=2; plural=(n > 1);\\n"\n\n'
)


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def po(*pairs: tuple[str, str], header: str = HEADER) -> bytes:
    """A translator's file of these words."""
    told = (f"msgid {quoted(a)}\nmsgstr {quoted(b)}\n" for a, b in pairs)
    return (header + "\n".join(told)).encode()


def test_a_translators_file_becomes_a_catalogue() -> None:
    counted_one = (
        'msgid "{n} line"\nmsgid_plural "{n} lines"\nmsgstr[0] "a {n}"\nmsgstr[1] "b {n}"\n'
    )
    content = po(("fits", "convient"), ("of nobody", "de personne")) + b"\n" + counted_one.encode()
    found = files.read(content, "fr")
    assert found.faults == found.doubts == ()
    made = found.catalogue
    assert (made.code, made.decimal_mark, made.from_right) == ("fr", ",", False)
    assert made.words == {"fits": "convient"} and found.stale == ("of nobody",)
    assert "tight" in found.missing and "fits" not in found.missing
    with speaking(made):
        assert [language.of_count(n, "{n} line", "{n} lines") for n in (0, 1, 2, 300)] == [
            "a {n}",
            "a {n}",
            "b {n}",
            "b {n}",
        ]


BROKEN = [
    ("slots", "{day} {month} {year}", "{jour} {month} {year}"),
    ("slots", "{day} {month} {year}", "{day} {month}"),
    ("slots", "{day} {month} {year}", "{day} {month} {year} {0}"),
    ("slots", "{day} {month} {year}", "{day} {month} {year:>9}"),
    ("slots", "{day} {month} {year}", "{day} {month} {year"),
    ("amounts", "Charged below 0 °C", "sous 10 °C"),
]


@pytest.mark.parametrize(("kind", "source", "told"), BROKEN)
def test_a_translation_with_other_slots_or_amounts_is_refused(
    kind: str, source: str, told: str
) -> None:
    words = [m.id for m in files.template() if isinstance(m.id, str)]
    whole = next(one for one in words if one.startswith(source))
    found = files.read(po((whole, told)), "fr")
    assert kind in [fault.key for fault in found.faults] and found.faults[0].line > 0


@pytest.mark.parametrize(
    ("key", "content", "code"),
    [
        ("language", po(), "not a code"),
        ("po", b"\xff\xfe", "fr"),
        ("po", b"what is this?", "fr"),
        ("plural", po(header=HEADER.replace("n > 1", "n % 7")), "fr"),
    ],
)
def test_a_file_that_is_no_catalogue_is_told(key: str, content: bytes, code: str) -> None:
    assert [fault.key for fault in files.read(content, code).faults] == [key]


def test_a_file_is_brought_up_to_the_source() -> None:
    fresh = files.update(b"", "pl")
    assert fresh == files.update(fresh, "pl")
    again = files.read(fresh, "pl")
    assert again.faults == () and not again.catalogue.words
    kept = files.read(files.update(po(("fits", "convient"), ("gone", "parti")), "fr"), "fr")
    assert kept.catalogue.words == {"fits": "convient"} and kept.stale == ()


def test_the_words_of_the_source_have_slots_that_hold() -> None:
    """What the source itself says passes for its own translation."""
    rows = []
    for message in files.template():
        if isinstance(message.id, str) and message.id:
            rows.append((message.id, message.id))
    found = files.read(po(*rows), "en-GB")
    assert found.faults == found.doubts == ()
    assert len(found.catalogue.words) == len(rows) > 3000


# Literals that read as words and are a translator's in no way.
NO_WORDS = {
    "Packing set": "the name of a part in the records",
    "another sea": "a name, as one would type it",
    "tuple[Any, ...]": "a type",
    "A5 portrait": "a page's size in CSS",
    "A5 landscape": "a page's size in CSS",
    "5.5in 8.5in": "a page's size in CSS",
    "python3 -m calc": "a command",
    "your boat's file, or a demo boat: ": "argparse speaks English",
    "two cautions have one key": "for who writes cautions",
    "a kind of quantity “": "for who defines units",
    "” exists already": "for who defines units",
}


def test_whatever_reads_as_words_is_a_translators() -> None:
    """No sentence of the source is out of sight because of the place in which it stands."""
    assert all(map(stock.guide().get, stock.guide().names()))  # which define kinds of quantity
    taken = {words for one in extract.messages() for words in (one.words, one.many)}
    left = {}
    for path in extract.CALC.rglob("*.py"):
        name = path.relative_to(extract.CALC.parent).as_posix()
        if name.startswith((*extract.SILENT_ROOMS, *extract.NAMING_ROOMS)):
            continue
        tree = ast.parse(path.read_text("utf-8"))
        silent = {id(part) for part in _silent(tree)}
        for node in ast.walk(tree):
            words = node.value if isinstance(node, ast.Constant) else None
            if (
                isinstance(words, str)
                and id(node) not in silent
                and " " in words.strip()
                and extract.reads_as_words(words)
                and words not in taken
                and words not in units.KINDS
                and words not in NO_WORDS
            ):
                left[words] = f"{name}, line {node.lineno}"
    assert left == {}


def _silent(tree: ast.Module) -> Iterator[ast.AST]:
    """Docstrings, keys, what is compared, works cited, names, messages to programmers."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr):
            yield node.value
        elif isinstance(node, ast.Dict):
            yield from filter(None, node.keys)
        elif isinstance(node, ast.Compare):
            yield from ast.walk(node)
        elif isinstance(node, ast.keyword) and node.arg in extract.SILENT_NAMED:
            yield from ast.walk(node.value)
        elif isinstance(node, ast.Call):
            name = _called(node)
            cited = node.args[5:6] if name == "step" else []
            # What a ValueError says a reader may see; a Said has a sentence that is translated.
            mute = node.args if name in extract.MUTE - {"ValueError"} else []
            for argument in (*cited, *mute):
                yield from ast.walk(argument)


def _called(node: ast.expr | None) -> str:
    made = node.func if isinstance(node, ast.Call) else None
    return str(getattr(made, "attr", getattr(made, "id", "")))
