"""An edition's brand: legible in every look or refused with the figure; who answers is told."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import stock
from calc.frame.render import card
from site_build import brand, cards, making
from site_build.edition import Brand, Contact, Edition

HOUSE = Contact("Tern Water", "water@tern.example", "+41 44 000 00 00", "")
COLOURS = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)


def edition(colour: str = "", accent: str = "", contact: Contact = HOUSE) -> Edition:
    look = Brand(colour=colour, accent=accent)
    return Edition(Path("nowhere"), "Tern", brand=look, contact=contact)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),  # the definition's own limits
        ("#777777", "#ffffff", 4.48),  # the grey that just fails
        ("#767676", "#ffffff", 4.54),  # and the one that just passes
        ("#8c1a60", "#8c1a60", 1.0),
    ],
)
def test_the_contrast_is_wcags(one: str, other: str, ratio: float) -> None:
    found = brand.contrast(brand.colour(one), brand.colour(other))
    assert found == pytest.approx(ratio, abs=0.01)
    assert found == brand.contrast(brand.colour(other), brand.colour(one))


def test_all_four_looks_are_known_and_the_stocks_own_accent_is_legible() -> None:
    assert set(brand.looks()) == {"paper", "slate", "night", "sun"}
    for name, look in brand.looks().items():
        for ground in brand.GROUNDS[:2]:
            found = brand.contrast(brand.colour(look["touch"]), brand.colour(look[ground]))
            assert found >= brand.LEGIBLE, (name, ground)
    assert list(brand.faults(edition(accent=brand.looks()["paper"]["touch"]))) == []


@pytest.mark.parametrize("field", ["accent", "colour"])
def test_a_colour_that_cannot_be_read_is_refused_with_the_figure(field: str) -> None:
    (fault,) = brand.faults(edition(**{field: "#f0e8c0"}))
    assert (fault.key, fault.record, fault.field) == ("contrast", "brand", field)
    assert re.search(r"\b1\.\d to 1\b", fault.sentence)


@given(COLOURS, COLOURS)
def test_what_is_not_refused_is_legible_in_every_look(colour: str, accent: str) -> None:
    made = edition(colour, accent)
    refused = {fault.field for fault in brand.faults(made)}
    rules = brand.sheet(made)
    told = re.findall(r'scheme="(\w+)"\]\{(.*?)\}', rules)
    assert [look for look, _ in told] == ["paper", "slate"], "the others keep their own"
    for look, said in told:
        names = dict(re.findall(r"--([\w-]+):(#[0-9a-f]{6})", said))
        grounds = [brand.colour(brand.looks()[look][name]) for name in brand.GROUNDS]
        for name, field, least in (("touch", "accent", 4.5), ("brand", "colour", 3.0)):
            worst = min(brand.contrast(brand.colour(names[name]), one) for one in grounds)
            assert worst >= least or field in refused, (look, name)


def test_a_style_sheet_may_not_fetch_from_elsewhere(tmp_path: Path) -> None:
    own = tmp_path / "own.css"
    made = replace(edition(), brand=Brand(style=own))
    own.write_text(".bb-head { background: url(tern.svg) }")
    assert list(brand.faults(made)) == []
    for said in ("@import 'x.css';", "a { background: url( 'https://x.example/a.png' ) }"):
        own.write_text(said)
        (fault,) = brand.faults(made)
        assert fault.key == "elsewhere" and fault.file == "brand/own.css"


def test_a_card_tells_whose_values_these_are(tmp_path: Path) -> None:
    out = tmp_path / "card.html"
    cards.write(["power"], None, "a5", out)
    assert HOUSE.name not in out.read_text("utf-8")
    with making.within(edition(), stock.guide()):
        cards.write(["power"], None, "a5", out)
    footer = out.read_text("utf-8").partition("<footer>")[2]
    for said in (HOUSE.name, HOUSE.phone, HOUSE.email):
        assert said in footer
    hostile = card.Imprint(house="<script>x</script>")
    assert "<script>" not in card.text_card("t", "b", hostile)


def test_a_question_goes_by_mail_or_to_a_page_or_nowhere() -> None:
    assert brand.ask(edition()) == "mailto:water@tern.example"
    assert brand.ask(edition(contact=Contact(page="https://tern.example/ask"))).endswith("/ask")
    assert brand.ask(edition(contact=Contact())) == ""
    assert brand.house(Edition()) == "", "the stock names nobody"


def test_a_guides_name_stands_beside_whoever_is_to_be_asked() -> None:
    alone = edition(contact=Contact(name="Ida Marsh", phone="1"))
    assert brand.house(alone) == f"{alone.name}, Ida Marsh, 1"
    assert brand.house(edition(contact=Contact(phone="1"))) == f"{alone.name}, 1"
    both = f"{alone.name}, Orchard Quay"
    assert brand.house(edition(contact=Contact(name=both))) == both, "not twice"
