"""Pages speak of roles, not of the stock's machines: a guide with other records has no dead citation."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from calc import stock
from calc.frame.inputs import Record
from site_build import citations, making
from site_build.edition import Edition
from site_build.pages import DOCS, Page, PageError, fill, places, prepare

OWN = """
[drop]
boat = ["ketch", "catamaran"]
task = ["low-pressure"]

[unit.quern]
name = "Quern 30"
motor = "wick-110-50"
pump = "ness-10"
membranes = "two-40"
pressure = "54 bar"
product_flow = "66 L/h"
mass = "31 kg"
length = "600 mm"
width = "260 mm"
height = "280 mm"

[boat.tern]
name = "Tern, 10 m sloop"
unit = "quern"
ac_voltage = "230 V"
ac_frequency = "50 Hz"
"""
TERN = Edition(folder=Path("nowhere"), name="Tern Water", unit="quern", boats=("tern",))
NAMES = re.compile(r"\b(?:[Kk]etch|[Cc]atamaran|Alder|Two Kettles|Skerry|skerry|Wick|wick-)\b")
PAGES = sorted(DOCS.rglob("*.md"))
# What a host copies into files of her own names records as they are.
TO_COPY = re.compile(r"^```(?:toml|sh|text|html|json)?\n.*?^```$", re.MULTILINE | re.DOTALL)


def other_guide() -> stock.Guide:
    return stock.with_layers({"own.toml": OWN.encode()})


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_no_page_names_a_machine_or_a_boat_of_the_stock(path: Path) -> None:
    text = TO_COPY.sub("", path.read_text("utf-8"))
    named = [
        line for line in text.splitlines() if NAMES.search(line) and "brinebook boat" not in line
    ]
    assert named == []
    cited = re.findall(r"\{= *([a-z]+)\.([\w-]+)[^=]*=\}", text)
    for kind, key in cited:
        if kind in ("unit", "boat"):
            assert key in (citations.EXAMPLE, citations.SECOND)
        assert kind not in ("motor", "pump", "membranes", "generator", "inverter", "bank")


def test_the_stock_pages_stand_with_other_boats_units_and_tasks() -> None:
    """Whatever cites what those haven't is a paragraph that is left out, never a step or caution."""
    left = []
    with making.within(TERN, other_guide()):
        for path in PAGES:
            page = Page(path.name)
            made = prepare(path.read_text("utf-8"), page)
            assert not NAMES.search(TO_COPY.sub("", made)), path
            left += [(path.stem, one) for one in page.left_out]
            steps = re.findall(r"^\d+\. ", path.read_text("utf-8"), re.M)
            assert re.findall(r"^\d+\. ", made, re.M) == steps
            assert "{=" not in TO_COPY.sub("", made)
    assert {page for page, _ in left} >= {"hertz", "steps"}, "one hertz, no such task"
    assert len(left) < 20


def test_a_role_is_the_editions_own_record() -> None:
    text = "{= unit.example =}, {= boat.example =}, {= boat.second-example =}"
    assert "Skerry 45" in prepare(text, Page("page.md"))
    with making.within(TERN, other_guide()):
        told = prepare(text, Page("page.md"))
    assert "Quern 30" in told
    assert told.count("Tern, 10 m sloop") == 2, "the second is the first where there is one"


def test_an_examples_boat_is_the_one_in_the_role() -> None:
    assert places(DOCS)["power"].example["boat"] == making.edition().boats[0]
    with making.within(TERN, other_guide()):
        assert places(DOCS)["power"].example["boat"] == "tern"
        assert places(DOCS)["layup"].example["boat"] == "tern"


def test_no_example_names_a_record_of_machines() -> None:
    for name, place in places(DOCS).items():
        asks = stock.guide().get(name).asks.fields
        for field, value in place.example.items():
            if isinstance(asks.get(field), Record):
                assert value == "" or asks[field].kind in ("climate", "waters"), (name, field)


@pytest.mark.parametrize(
    "text",
    [
        "1. Pour in {= power.figure.nothing =}.",
        "Mind this: {= caution.mains =} {= power.figure.nothing =}",
    ],
)
def test_a_step_or_a_caution_is_never_left_out(text: str) -> None:
    with making.within(TERN, other_guide()), pytest.raises(PageError):
        prepare(text, Page("power.md"))


def test_what_an_edition_wrote_itself_must_be_there(tmp_path: Path) -> None:
    (tmp_path / "pages").mkdir()
    (tmp_path / "pages" / "power.md").write_text("It takes {= power.figure.nothing =}.")
    edition = Edition(folder=tmp_path, unit="quern", boats=("tern",))
    with making.within(edition, other_guide()), pytest.raises(PageError, match="line 1"):
        prepare("It takes {= power.figure.nothing =}.", Page("power.md"))


def test_a_link_fills_in_a_boat_in_a_role() -> None:
    block = '```example-link wiring\nwords = "Fill it in"\nboat = "second-example"\n```\n'
    page = Page("wiring.md")
    made = fill(prepare(block, page), page)
    boat = stock.guide().shelf("boat")[making.edition().boats[1]]
    assert f"#a1:wiring?unit={boat.unit.key}&amp;" in made
    with pytest.raises(PageError, match="line 1"):
        prepare(block.replace("second-example", "nobody"), page)
