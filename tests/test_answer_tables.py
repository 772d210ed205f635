"""How an answer's tables are marked, so that a phone can set each as it reads best."""

from __future__ import annotations

from calc.frame.render import html
from calc.frame.report import Report


def rendered(columns: tuple[str, ...], rows: list[list[object]]) -> str:
    show = Report("Test", "")
    show.table("t", "Title", columns, rows)  # type: ignore[arg-type]
    return html.report(show)


HEADS = ("Octave (Hz)", "63", "125", "250", "dB(A)")


def test_numbers_without_units_stay_under_their_heads() -> None:
    made = rendered(HEADS, [["at the seat", "62", "−2", "–", "51"]])
    assert 'class="plain grid"' in made


def test_a_table_of_many_columns_stays_a_table() -> None:
    for cell in ("fits", (62.0, "dB")):
        made = rendered(HEADS, [["at the seat", "62", "66", "51", cell]])
        assert 'class="plain wide"' in made


def test_few_columns_stand_side_by_side() -> None:
    made = rendered(HEADS[:3], [["at the seat", "62", "66"]])
    assert 'class="plain"' in made


def test_a_column_of_long_texts_gets_the_whole_width() -> None:
    heads = ("Part", "Carry", "Why", "Mass", "Last used")
    why = "2 for failures: with 1 the chance of running out is 1.7 %"
    made = rendered(heads, [["Cartridge", "4", why, "0.8 kg", ""], ["Oil", "1", "due", "1 kg", ""]])
    assert made.count('class="long" data-column="Why"') == 2, "every cell of the column alike"
    assert made.count('class="long"') == 2
