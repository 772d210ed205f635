"""Tables of many columns carry each column's name in their cells; others are left alone."""

from __future__ import annotations

import markdown

from site_build.tables import label_cells

MANY = """
| What | How it <b>shows</b> | "Why" | Then | Last |
| --- | ---: | --- | --- | --- |
| heat | 1 |  | fan | stop |
| frost | 2 | ice | drain | wait |
"""
FEW = """
| What | Then |
| --- | --- |
| heat | fan |
"""


def _html(text: str) -> str:
    return markdown.markdown(text, extensions=["tables"])


def test_each_cell_of_many_columns_names_its_column() -> None:
    made = label_cells(_html(MANY))
    assert made.count('data-column="What"') == 2
    assert made.count('data-column="How it shows"') == 2
    assert made.count('data-column="&quot;Why&quot;"') == 2
    assert made.count('role="row"') == 3
    assert made.count('role="columnheader"') == 5
    assert 'style="text-align: right;"' in made


def test_few_columns_are_marked_and_other_tables_stay_as_they_are() -> None:
    assert label_cells(_html(FEW)) == _html(FEW).replace("<table>", "<table data-plain>")
    for content in ('<table class="plain"><tr><td>1</td></tr></table>', "<p>no table</p>"):
        assert label_cells(content) == content


def test_two_tables_on_a_page_do_not_mix() -> None:
    made = label_cells(_html(MANY + "\ntext\n" + FEW))
    assert made.count("data-column") == 10
    assert made.count("<table data-plain>") == 1
