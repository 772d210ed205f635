"""What whoever sells a thing says of it: shown as it was written, and only where it was said."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from calc import equipment, stock
from calc.frame import offers
from calc.frame.render import card, html, text

LAYER = """
[change.unit.skerry-45]
price = "4\N{NO-BREAK SPACE}900 €"
part_number = "SK-45/<b>"
link = "https://quay.example/skerry?a=1&b=2"

[change.unit.skerry-70]
link = "https://quay.example/holm"
"""


def guide(text: str = LAYER) -> Any:
    return stock.with_layers({"own.toml": text.encode()})


def shown(made: Any, typed: dict[str, Any], sheet: Any = None, own: bool = False) -> str:
    outcome = made.run(made.get("mount"), typed, sheet, {"boat": "ketch"}, own_boat=own)
    return html.answer(outcome)


def offer(answer: str) -> str:
    found = re.search(r'data-key="fold-offers".*?</details>', answer, re.DOTALL)
    return found[0] if found else ""


def test_the_stock_sells_nothing() -> None:
    made = stock.guide()
    for shelf in made.shelves.values():
        assert not [one for one in shelf.values() if isinstance(one, offers.Sold) and one.offered]
    assert not offer(shown(made, {}))


def test_an_answer_tells_what_its_records_cost_and_where_they_are_told_of() -> None:
    told = offer(shown(guide(), {"unit": "skerry-45"}))
    assert (
        "4\N{NARROW NO-BREAK SPACE}900" in told
        or "4\N{NO-BREAK SPACE}900" in told
        or "4 900" in told
    )
    assert "€" in told and "SK-45/&lt;b&gt;" in told
    assert 'href="https://quay.example/skerry?a=1&amp;b=2" rel="external noreferrer"' in told


def in_words(markup: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", markup)).split())


def test_page_card_and_terminal_tell_it_alike() -> None:
    made = guide()
    calculator = made.get("mount")
    outcome = made.run(calculator, {"unit": "skerry-45"}, example={"boat": "ketch"})
    (sold,) = offers.offers(outcome.bound)
    line = " ".join(offers.with_its_link(sold).split())
    for word in (sold.name, "4 900 €", "SK-45/<b>", "https://quay.example/skerry?a=1&b=2"):
        assert word in line
    on_card = card.answer_card(calculator, outcome, card.Imprint(house="Quay"))
    terminal = text.report(outcome.report, bound=outcome.bound, house="Quay")
    for told in (offer(html.answer(outcome)), on_card, terminal):
        assert line in in_words(told) or line in " ".join(told.split())
    whose = offers.WHOSE.format(house="Quay")
    for told in (in_words(on_card), terminal, text.brief(outcome.report, house="Quay")):
        assert whose in " ".join(told.split())
    assert text.brief(outcome.report, house="Quay").count("\n") <= text.LINES


def test_a_card_names_so_many_and_counts_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    made = guide(
        '[change.unit.skerry-45]\nprice = "1 €"\n[change.generator.hob-4]\nprice = "2 €"\n'
    )
    calculator = made.get("power")
    typed = {"unit": "skerry-45", "has_generator": "yes", "generator": "hob-4"}
    outcome = made.run(calculator, typed, example={"boat": "ketch"})
    assert len(offers.offers(outcome.bound)) == 2
    monkeypatch.setattr(card, "MOST_OFFERS", 1)
    told = in_words(card.answer_card(calculator, outcome, card.Imprint()))
    assert "1 €" in told and "2 €" not in told and "and 1 more" in told


@pytest.mark.parametrize(
    ("sheet", "named"), [({}, []), ({"unit": "skerry-45"}, ["skerry-45"]), ({"unit": "none"}, [])]
)
def test_of_her_boat_only_what_she_named_is_told(sheet: dict[str, str], named: list[str]) -> None:
    made = guide()
    outcome = made.run(made.get("mount"), {}, sheet, {"boat": "ketch"}, own_boat=True)
    assert [one.key for one in offers.offers(outcome.bound)] == named


def test_what_a_guide_sells_travels_with_its_records() -> None:
    again = stock.from_data(stock.data(guide()))
    assert again.shelf("unit")["skerry-45"].link.startswith("https://quay.example/")
    assert offer(shown(again, {"unit": "skerry-45"})) == offer(
        shown(guide(), {"unit": "skerry-45"})
    )


@pytest.mark.parametrize(
    "price", ["1490 €", "€1,490", "AUD 2 400", "12500 kr", "US$ 99.50", "1’490 CHF"]
)
def test_a_price_is_kept_as_it_was_written(price: str) -> None:
    made = guide(f'[change.motor.wick-110-50]\nprice = "{price}"\n')
    assert made.shelf("motor")["wick-110-50"].price == price
    assert offers.currency(price) in ("€", "AUD", "kr", "US$", "CHF")


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("price", "1490"),  # of which money?
        ("price", "1490 ¤"),
        ("price", "on request"),
        ("price", "€"),
        ("price", "-20 €"),
        ("link", "http://quay.example/"),
        ("link", "quay.example"),
        ("link", "javascript:alert(1)"),
        ("link", 'https://quay.example/" onclick="x'),
        ("link", "https://quay.example/<b>"),
        ("link", "https:///nowhere"),
    ],
)
def test_what_is_no_price_or_no_address_is_told_at_its_line(field: str, text: str) -> None:
    layer = f"[change.unit.skerry-45]\nmass = \"25 kg\"\n{field} = '{text}'\n"
    with pytest.raises(equipment.EquipmentError) as refused:
        guide(layer)
    (fault,) = refused.value.faults
    assert (fault.file, fault.line, fault.field) == ("own.toml", 3, field)
    assert text.partition('"')[0] in fault.sentence
