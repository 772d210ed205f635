"""What pages ask for: calculators, cited numbers, and sentences with a line where it is wrong."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from calc import stock
from calc.calculators._wires import FUSES
from calc.frame import links
from calc.physics import protection
from site_build.pages import DOCS, Page, PageError, fill, places, prepare

CALCULATOR = '```calculator power\nboat = "ketch"\nrun_hours = "2 h"\n```\n'


def made(markdown: str, first_line: int = 1) -> str:
    page = Page("guide.md", first_line)
    return fill(prepare(markdown, page), page)


def test_a_calculator_stands_where_it_is_asked_for() -> None:
    html = made("before\n\n" + CALCULATOR + "\nafter")
    assert html.index("before") < html.index('data-calculator="power"') < html.index("after")
    assert 'data-slot="answer"' in html


def test_prose_cites_what_the_calculator_says() -> None:
    html = made("It wants {= power.input.run_hours =} a day.\n\n" + CALCULATOR)
    assert 'wants <span class="cited">2 h</span> a day' in html


def test_prose_cites_records_in_either_units() -> None:
    html = made("{= unit.skerry-45.pressure =} and {= unit.skerry-45.motor.mass in lb =}")
    both = 'data-us="798 psi" data-both="55 bar (798 psi)"'
    assert f'<span class="cited" {both}>55 bar</span>' in html
    assert "25.4 lb" in html


def test_cited_numbers_know_the_decimal_comma() -> None:
    html = made("{= unit.skerry-45.motor.mass in lb =}")
    assert 'data-metric-mark="25,4 lb"' in html
    assert 'data-us="' not in html


def test_code_blocks_are_left_alone() -> None:
    source = "````\n```calculator nothing\n```\n````\n"
    assert "{= x =}" in made("```\n{= x =}\n```\n")
    assert made(source)


@pytest.mark.parametrize(
    ("markdown", "sentence"),
    [
        (
            "a\n\n```calculator pwer\n```",
            "guide.md, line 3: no calculator is called “pwer”. Did you mean “power”?",
        ),
        (
            '```calculator power\nboat = "ketsch"\n```',
            "guide.md, line 2: no boat is called “ketsch”. Did you mean “ketch”?",
        ),
        (
            '```calculator power\nrun_hour = "2 h"\n```',
            "guide.md, line 2: run_hour: nothing of this name "
            "is asked (example). Did you mean “run_hours”?",
        ),
        (
            '```calculator power\n\nrun_hours = "40 h"\n```',
            "guide.md, line 3: run_hours: “40 h” is not allowed; it must be at most 24 h",
        ),
        (
            "```calculator power\nrun_hours = 2 h\n```",
            "guide.md, line 2: the example cannot be read",
        ),
        ("```calculator power\n", "guide.md, line 1: this block has no closing ```"),
        (
            "x\n{= motor.wick-075-51.mass =}",
            "guide.md, line 2: no motor is called “wick-075-51”. Did you mean “wick-075-50”?",
        ),
        (
            "{= motor.wick-075-50.mas =}",
            "guide.md, line 1: a motor has no “mas”. Did you mean “mass”?",
        ),
        (
            "{= moter.wick-075-50.mass =}",
            "“moter” is neither a calculator nor a kind. Did you mean “motor”?",
        ),
        ("{= power.figure.x =}", "this page has no calculator “power” to cite"),
        ("{= motor.wick-075-50.mass in V =}", "kg cannot be shown in “V”"),
        ("{= caution.main =}", "no caution is called “main”. Did you mean “mains”?"),
    ],
)
def test_a_wrong_name_stops_the_build_with_its_line(markdown: str, sentence: str) -> None:
    with pytest.raises(PageError) as caught:
        made(markdown)
    assert sentence in str(caught.value)


def test_lines_count_from_the_top_of_the_file() -> None:
    with pytest.raises(PageError, match=r"guide\.md, line 6:"):
        made("\n{= x.y =}", first_line=5)


def test_a_calculators_place_is_the_first_of_its_own_page(tmp_path: Path) -> None:
    block = '```calculator power\nrun_hours = "{} h"\n```\n'
    (tmp_path / "batteries.md").write_text(block.format(1), "utf-8")
    assert places(tmp_path)["power"].url == "batteries.html"
    (tmp_path / "power.md").write_text(block.format(2) + block.format(3), "utf-8")
    (tmp_path / "zinc.md").write_text(block.format(4), "utf-8")
    found = places(tmp_path)["power"]
    assert (found.url, found.example) == ("power.html", {"run_hours": "2 h"})


def test_what_an_example_holds_is_escaped() -> None:
    html = made('```calculator power\nboat = "ketch"\nunit = "skerry-45"\n```')
    assert "data-example='" not in html
    assert "&quot;boat&quot;" in html


def test_a_link_in_the_words_fills_a_form_of_its_page() -> None:
    """A page has one form; another boat's answer is a link away."""
    found = 0
    for path in sorted(DOCS.rglob("*.md")):
        text, page = path.read_text("utf-8"), Page(path.name)
        for fragment in re.findall(r'<p><a href="#(a\d+:[^"]*)"', fill(prepare(text, page), page)):
            opened = links.read(unescape(fragment), stock.guide())
            assert not opened.unknown, path
            assert f"```calculator {opened.calculator}\n" in text, path
            made = stock.guide().get(opened.calculator)
            outcome = stock.guide().run(made, opened.typed, example={"boat": "ketch"})
            assert outcome.report is not None, path
            found += 1
    assert found


@pytest.mark.parametrize("kind", FUSES)
def test_the_page_tells_the_table_of_fuses_as_it_is(kind: str) -> None:
    page = (DOCS / "wiring.md").read_text("utf-8")
    rows = [r for r in page.splitlines() if r.startswith("| ") and FUSES[kind] in r.split("|")[1]]
    device = protection.DEVICES[kind]
    tells = ["printed"]
    if device.breaks is not None:
        numbers = (device.highest_voltage, device.ratings[-1], device.breaks / 1000)
        tells = [f"{n:g} {unit}" for n, unit in zip(numbers, ("V", "A", "kA"), strict=True)]
    assert [told for told in tells if told not in rows[0]] == []
