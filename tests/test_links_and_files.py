"""Answer links, boat files and cards: they carry a form whole, and nonsense in them does no harm."""

from __future__ import annotations

import json
import re
from html import unescape
from html.parser import HTMLParser
from typing import Any

import pytest
from hostile import FRAGMENTS
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import __version__, browser, stock
from calc.frame import boatfile, links, sheets
from calc.frame.inputs import Rows
from calc.frame.render.papers import PAPERS
from calc.sheet import BoatSheet

NAMES = stock.guide().names()

HOSTILE = [
    "<script>alert(1)</script>",
    "</title><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "<svg/onload=alert(1)>",
    "javascript:alert(1)",
    "{{7*7}}",
    "${7*7}",
    "{0.__class__}",
    "%s%n",
    "' OR 1=1 --",
    "../../../etc/passwd",
    "\x00",
    "\u202etxet",
    "\ufeffboat",
    "&lt;b&gt;",
    "<!--",
    "]]>",
    "\\u003cscript\\u003e",
    '=HYPERLINK("x")',
    "+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(1)",
    "a" * 5000,
    "🦭" * 300,
    "\n\r\t",
    "NULL",
    "undefined",
    "NaN",
    "Infinity",
    "-0",
    "1e999",
    "0x41",
    "١٢٣",
    "½",
    "Ω",
    "é",
    "null\x00byte",
    "<b>bold</b>",
    "<style>*{display:none}</style>",
    "<iframe src=//x>",
    "<a href=javascript:x>",
    "<math><mi//xlink:href=x>",
    "&#60;script&#62;",
]
HOSTILE_FRAGMENTS = [
    *FRAGMENTS,
    "",
    "#heading",
    "#a1:power?x",
    "#a1:power?" + "x=1&" * 4000,
    "#a1:power?" + "y" * 30000,
]
HOSTILE_FILES = [
    "",
    "{",
    "[]",
    "null",
    "5",
    '"text"',
    "{}",
    '{"brinebook boat": 99, "values": {}}',
    '{"brinebook boat": "1"}',
    '{"brinebook boat": true, "values": {}}',
    '{"brinebook boat": 1}',
    '{"brinebook boat": -1}',
    '{"brinebook boat": 1, "values": []}',
    "[" * 100000,
    '{"a":' * 5000,
    "name = ",
    "\x00\x01",
    "x" * 300000,
    '{"brinebook boat": 1, "values": {"unit": {"a": [1]}}}',
    '{"brinebook boat": 1, "values": {"bank_capacity": 1e400}}',
    "<html></html>",
    '{"__proto__": {"x": 1}}',
]


class Seen(HTMLParser):
    """Every tag and attribute that a browser would find."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs


def ask(**request: Any) -> dict[str, Any]:
    reply = json.loads(browser.handle(json.dumps(request)))
    assert isinstance(reply, dict)
    return reply


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_a_link_carries_every_input(name: str, data: st.DataObject) -> None:
    """What was typed comes back as it was typed, whatever it was."""
    made = stock.guide().get(name)
    words = st.one_of(st.text(max_size=30), st.sampled_from(HOSTILE[:40]))
    typed: dict[str, Any] = {}
    for key, asked in made.asks.fields.items():
        if not data.draw(st.booleans()):
            continue
        if isinstance(asked, Rows):
            row = st.fixed_dictionaries(dict.fromkeys(asked.row.fields, words))
            typed[key] = data.draw(st.lists(row, max_size=3))
        elif type(asked).__name__ != "Log":
            typed[key] = data.draw(words)
    fragment = links.fragment(made, stock.guide().run(made, typed).bound)
    if len(fragment) <= links.LONGEST:
        opened = links.read("#" + fragment, stock.guide())
        assert opened.calculator == name
        assert opened.typed == typed
        assert opened.unknown == ()
    assert not set(fragment) & set(' <>"#')


@pytest.mark.parametrize("name", NAMES)
def test_a_link_shows_the_same_answer(name: str) -> None:
    request = {"calculator": name, "example": {"boat": "ketch"}}
    first = ask(**request, sheet={"run_hours": "1 h", "ambient_temperature": "30 °C"})
    opened = ask(do="open", fragment="#" + first["link"])
    again = ask(**request, typed=opened["typed"], own=opened["own"])
    assert again["slots"]["answer"] == first["slots"]["answer"]


@pytest.mark.parametrize("fragment", HOSTILE_FRAGMENTS)
def test_nonsense_in_a_link_does_no_harm(fragment: str) -> None:
    opened = ask(do="open", fragment=fragment)
    assert opened["error"] or opened["calculator"] is None or "typed" in opened
    if opened.get("typed"):
        reply = ask(calculator="power", typed=opened["typed"])
        assert "<script" not in json.dumps(reply)


def test_what_a_link_holds_beyond_the_form_is_named() -> None:
    opened = ask(do="open", fragment="#a1:power?colour=blue&run_hours=2+h")
    assert "colour" in opened["notice"]
    assert opened["typed"] == {"run_hours": "2 h"}


def test_a_newer_link_is_refused_politely() -> None:
    assert "another edition" in ask(do="open", fragment="#a3:power?run_hours=2+h")["error"]


@settings(max_examples=100, deadline=None)
@given(st.dictionaries(st.text(max_size=20), st.text(max_size=60), max_size=12))
def test_a_boat_file_keeps_all_it_was_given(sheet: dict[str, str]) -> None:
    assert boatfile.read(boatfile.write(sheet, BoatSheet), BoatSheet) == sheet


def test_a_boat_file_reads_toml_and_bare_tables() -> None:
    versioned = '"brinebook boat" = 1\n[values]\nname = "Alder"\nhas_inverter = true\n'
    assert boatfile.read(versioned, BoatSheet) == {"name": "Alder", "has_inverter": "yes"}
    assert boatfile.read('name = "Alder"\n', BoatSheet) == {"name": "Alder"}


def test_a_newer_boat_file_is_refused_with_its_version() -> None:
    with pytest.raises(
        boatfile.BoatFileError, match="version 2; this guide reads versions up to 1"
    ):
        boatfile.read('{"brinebook boat": 2, "values": {}}', BoatSheet)


@pytest.mark.parametrize("content", HOSTILE_FILES, ids=range(len(HOSTILE_FILES)))
def test_a_foreign_file_is_a_sentence_or_a_sheet(content: str) -> None:
    reply = ask(do="read boat file", text=content)
    assert reply["error"] or isinstance(reply["sheet"], dict)
    if not reply["error"]:
        for do in ("sheet", "verdicts"):
            assert ask(do=do, sheet=reply["sheet"])["error"] is None


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_words_only_show_as_text(words: str) -> None:
    sheet = {"name": words, "unit": words, words: words}
    pages = {"power": {"url": words, "example": {"boat": "ketch"}}}
    shown = ask(do="sheet", sheet=sheet)["slots"]
    shown |= ask(do="verdicts", sheet=sheet, pages=pages)["slots"]
    made = ask(
        do="card",
        calculator="power",
        example={"boat": "ketch"},
        boat=words,
        day="2026-05-31",
        edition=words,
        address="guide/power.html",
    )
    for text in (*shown.values(), made["html"]):
        seen = Seen()
        seen.feed(text)
        assert not seen.tags & {"script", "img", "iframe", "object", "embed", "form", "base"}
        assert not [name for name, _ in seen.attributes if name.startswith("on")]
        assert not [v for n, v in seen.attributes if n in ("href", "src") and ":" in (v or "")]
    assert made["html"].count("<style") == 1
    file = ask(do="boat file", sheet=sheet)
    assert boatfile.read(file["text"], BoatSheet)["name"] == words[:2000]
    assert set(file["name"]) <= set("abcdefghijklmnopqrstuvwxyz0123456789-.")


def test_a_card_tells_the_boats_values_from_the_examples() -> None:
    request = {"do": "card", "calculator": "power", "day": "2026-05-31"}
    example = {"boat": "ketch"}

    def told(**more: Any) -> str:
        words = unescape(re.sub("<[^>]*>", "", ask(**request, **more)["html"]))
        return words.partition("Computed for")[2]

    label = BoatSheet.fields["run_hours"].label
    own, _, rest = told(example=example, typed={"run_hours": "2 h"}).partition("Example:")
    assert own == f"Yours: {label}: 2 h. " and "Battery bank" in rest and label not in rest
    mine = told(example=example, sheet={"run_hours": "2 h"})
    assert mine.startswith(f"{label}: 2 h; else") and "Battery bank" not in mine
    plain = told(example=example)
    assert plain.startswith(" the example") and "Yours" not in plain
    assert told(typed={"run_hours": "2 h"}).startswith(f"{label}: 2 h; else the guide's own")


def test_the_dashboard_says_what_is_assumed() -> None:
    made = stock.guide().get("upkeep")
    sheet = {"unit": "skerry-45", "started": "2026-03-01"}
    (line,) = sheets.lines(sheet, {made.name: {}}, stock.guide())
    assumed = line.outcome.bound.unsaid
    assert "run_hours" in assumed and not assumed & sheet.keys()
    told = ask(do="verdicts", sheet=sheet, pages={made.name: {}})["slots"]["dashboard"]
    assert made.asks.fields["run_hours"].label in told
    assert f">{len(assumed)} values are assumed" in told


@pytest.mark.parametrize("boat", sorted(stock.guide().shelf("boat")))
def test_the_dashboard_lists_every_answer_worst_first(boat: str) -> None:
    texts = dict(stock.guide().shelf("boat")[boat].texts)
    pages = {n: {"url": f"{n}.html", "example": {}} for n in NAMES}
    shown = ask(do="verdicts", sheet=texts, pages=pages)["slots"]["dashboard"]
    places = [shown.index(f'data-dashboard="{n}"') for n in NAMES]
    assert len(places) == len(NAMES)
    states = [part.split('"')[0] for part in shown.split('class="state-')[1:]]
    order = ["fails", "unknown", "tight", "fits", "unasked"]
    assert states == sorted(states, key=order.index)


@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("name", NAMES)
def test_a_card_needs_nothing_else(name: str, paper: str) -> None:
    made = ask(
        do="card",
        calculator=name,
        example={"boat": "ketch"},
        boat="Alder",
        day="2026-05-31",
        edition="2026-05",
        address="https://guide.example/power.html",
        paper=paper,
    )["html"]
    assert len(made.encode()) <= 250_000
    assert "<script" not in made
    assert "src=" not in made
    wanted = set(re.findall(r"url\((.{9})", made))
    assert all(one.startswith(("#", "data:font")) for one in wanted)
    for words in (
        "Alder",
        "31 May 2026",
        f"Brinebook {__version__}, edition 2026-05",
        "Before you touch it",
        "Computed for",
    ):
        assert words in made
    assert 'class="qr"' in made


def test_every_shared_field_has_a_group_and_is_explained() -> None:
    for name, made in BoatSheet.fields.items():
        assert made.group, name


def test_figures_as_csv_are_plain_numbers() -> None:
    told = ask(do="figures", calculator="power", example={"boat": "ketch"}, decimal=",")["csv"]
    lines = told.splitlines()
    assert lines[0] == "where,what,value,unit,limit,limit is,verdict"
    assert len(lines) > 3


def test_numbers_follow_the_readers_style() -> None:
    request = {"calculator": "power", "example": {"boat": "ketch"}}
    point = ask(**request)["slots"]["answer"]
    comma = ask(**request, decimal=",")["slots"]["answer"]
    assert point != comma
    assert ask(**request)["slots"]["answer"] == point


def test_both_units_side_by_side() -> None:
    answer = ask(calculator="power", example={"boat": "ketch"}, units="both")["slots"]["answer"]
    assert " psi)" in answer


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_a_step_card_takes_words_and_nothing_that_acts(words: str) -> None:
    body = f'<p onclick="x()">one {words}</p><ol><li><a href="javascript:x">two</a></li></ol>'
    reply = ask(do="step card", title=words, html=body, key=words, boat=words, paper="a6-folded")
    seen = Seen()
    seen.feed(reply["html"].partition("<body>")[2])
    assert not seen.tags & {"script", "img", "iframe", "style", "svg", "a", "math"}
    assert {name for name, _ in seen.attributes} <= {"class"}
    assert set(reply["name"]) <= set("abcdefghijklmnopqrstuvwxyz0123456789-.")


def test_a_step_card_keeps_its_lists_and_closes_what_is_open() -> None:
    html = ask(do="step card", title="Oil", html="<ol><li>Warm <strong>oil<p>x")["html"]
    assert "<ol><li>Warm <strong>oil<p>x</p></strong></li></ol>" in html


DEEP = 5000


@pytest.mark.parametrize(
    "request_text",
    [
        "[" * DEEP,
        '{"a":' * DEEP,
        '{"calculator": ' + "[" * DEEP + "]" * DEEP + "}",
        json.dumps({"do": "read boat file", "text": "[" * DEEP + "]" * DEEP}),
        json.dumps({"do": "read boat file", "text": '{"a":' * DEEP + "1" + "}" * DEEP}),
        json.dumps({"do": "read boat file", "text": "a = " + "[" * DEEP}),
        json.dumps({"do": "read boat file", "text": "a = " + "{a=" * DEEP}),
        json.dumps({"do": "read boat file", "text": ".".join("a" * DEEP) + " = 1"}),
        json.dumps({"do": "read boat file", "text": "[" + ".".join("a" * DEEP) + "]"}),
        json.dumps({"do": "log merge", "text": '{"brinebook log": 1, "entries": ' + "[" * DEEP}),
        json.dumps(
            {"do": "log merge", "text": '{"brinebook log": 1, "entries": [{"a": ' + "[" * DEEP}
        ),
        '{"a": ' + "9" * DEEP + "}",
        '{"typed": NaN}',
        '"\\ud800"',
        '{"do": ["answer"]}',
        '{"do": {}}',
        json.dumps({"do": "read boat file", "text": "x" * 10_000_000}),
        json.dumps({"do": "log add", "cells": 5}),
        json.dumps({"do": "log add", "cells": {"date": "\ud800"}}),
        json.dumps({"do": "card", "calculator": "power", "day": "yesterday"}),
        json.dumps({"do": "card", "calculator": "power", "address": "\udc00", "boat": "\ud83e"}),
        json.dumps({"do": "answer", "calculator": "power", "typed": {"run_hours": "\ud800"}}),
        json.dumps({"do": "picture", "calculator": "power", "picture": "nothing"}),
        json.dumps({"do": "figures", "calculator": "power", "typed": {"run_hours": "x"}}),
        json.dumps({"do": "answer", "calculator": "power", "linked": 5}),
        json.dumps({"do": "verdicts", "pages": 5}),
        json.dumps({"do": "verdicts", "sheet": [1]}),
    ],
    ids=range(27),
)
def test_nothing_that_is_sent_makes_the_door_raise_or_speak_like_a_programmer(
    request_text: str,
) -> None:
    reply = json.loads(browser.handle(request_text))
    assert "error" in reply
    words = (reply["error"] or "") + str(reply.get("said", ""))
    for word in (
        "codec",
        "recursion",
        "NoneType",
        "object",
        "Traceback",
        "isoformat",
        "KeyError",
        "argument",
        "attribute",
        "int(",
        "'",
        "JSON value",
    ):
        assert word not in words.replace("can't", ""), words


def test_deep_nests_are_refused_and_brackets_within_words_are_not() -> None:
    told = ask(do="read boat file", text='{"a":' * DEEP + "1" + "}" * DEEP)["error"]
    assert "levels deep" in told
    sheet = {"name": "[" * 60 + '\\"' + "{" * 60}
    assert ask(do="read boat file", text=json.dumps(sheet))["sheet"] == sheet
    reply = json.loads(browser.handle("[" * 41 + "]" * 41))
    assert "levels deep" in reply["error"]
    assert ask(do="read boat file", text="[" * 10_000 + "x")["error"]


def test_what_a_card_is_sent_in_halves_of_characters_is_shown_whole() -> None:
    made = ask(do="card", calculator="power", boat="Seal \ud83e", address="a\ud800.html")
    assert made["error"] is None and "Seal \ufffd" in made["html"]


def test_a_calculator_without_a_page_stands_in_no_list() -> None:
    shown = ask(do="verdicts", sheet={"name": "a"}, pages={"power": {"url": "power.html"}})
    assert shown["slots"]["dashboard"].count("data-dashboard=") == 1


@pytest.mark.parametrize(
    ("url", "linked"),
    [
        ("power.html", True),
        ("power/", True),
        ("a/power.html", True),
        ("../power.html", False),
        ("", False),
        ("//elsewhere/power.html", False),
        ("https://elsewhere.example/", False),
        ("javascript:alert(1)", False),
        ("power.html?x", False),
        ("power.html/../x", False),
    ],
)
def test_the_boats_list_links_to_pages_of_this_guide_only(url: str, linked: bool) -> None:
    shown = ask(do="verdicts", sheet={"name": "a"}, pages={"power": {"url": url}})["slots"][
        "dashboard"
    ]
    assert (f'<a href="{url}">' in shown) is linked
    assert {f'href="{url}"'} >= set(re.findall(r'href="(?!#)[^"]*"', shown))


def test_a_link_longer_than_any_of_ours_is_refused_and_one_as_long_is_read() -> None:
    start = "a1:power?run_hours=2+h&x="
    longest = start + "x" * (links.LONGEST - len(start))
    assert links.LONGEST == 20_000  # what a link may hold: browsers and messengers carry that
    assert links.read("#" + longest, stock.guide()).typed == {"run_hours": "2 h"}
    with pytest.raises(links.LinkError, match="too long"):
        links.read("#" + longest + "x", stock.guide())
