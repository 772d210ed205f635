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


def test_the_service_speaks_the_language_that_is_asked_for() -> None:
    guide = replace(stock.guide(), languages={"xx": OTHER})
    request = {"calculator": "power", "example": {"boat": "ketch"}}
    english = service.handle(json.dumps(request), guide)
    other = service.handle(json.dumps({**request, "language": "xx"}), guide)
    assert other != english
    for unknown in ("en", "yy", None, 3, ["xx"]):
        assert service.handle(json.dumps({**request, "language": unknown}), guide) == english
    assert language.code() == "en" and units.decimal_mark.get() == "."


def test_what_is_kept_between_requests_is_kept_by_language() -> None:
    guide = replace(stock.guide(), languages={"xx": OTHER})
    tasks = [{"name": "a", "every_hours": ""}] * 2
    request = {"calculator": "upkeep", "typed": {"tasks": tasks}, "example": {"boat": "ketch"}}
    pages = {"do": "verdicts", "sheet": {"name": "a"}, "pages": {"power": {}}}
    for asked in (request, pages):
        first = [service.handle(json.dumps({**asked, "language": c}), guide) for c in ("en", "xx")]
        again = [service.handle(json.dumps({**asked, "language": c}), guide) for c in ("xx", "en")]
        assert first == again[::-1]
