"""The source's sentences in another language: put there where they are shown, and nowhere else."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from calc import stock
from calc.frame import language, service, units
from calc.frame.inputs import Fault, InputError
from calc.frame.language import Catalogue, catalogue, phrase, speaking
from calc.frame.report import Amount, as_written, counted, line, say
from site_build import language as files

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
