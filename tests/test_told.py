"""Long sections are folded as far as their first caution; steps never."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from site_build.told import with_folds

DOCS = Path(__file__).resolve().parents[1] / "docs"
HEAD = '<h2 told="What is inside" id="why">Why</h2>\n'
PLAIN = '<h2 id="more">More</h2><p>Stays.</p>'


def test_a_section_is_folded_under_its_heading_as_far_as_its_first_caution() -> None:
    made = with_folds(f'{HEAD}<p>Long.</p>\n<div class="caution">Hot</div><p>After.</p>{PLAIN}')
    assert made.startswith('<h2 data-told id="why">Why</h2>'), (
        "the heading is outside, for links and search"
    )
    inside = re.findall(
        r'<details class="told"><summary>(.*?)</summary>(.*?)</details>', made, re.S
    )
    assert [(line, body.strip()) for line, body in inside] == [("What is inside", "<p>Long.</p>")]
    assert made.endswith(f'<div class="caution">Hot</div><p>After.</p>{PLAIN}')


def test_all_of_a_section_without_caution_is_folded_and_no_other() -> None:
    made = with_folds(f"{PLAIN}{HEAD}<p>Long.</p>{PLAIN}")
    assert made.startswith(PLAIN) and made.endswith(f"</details>\n{PLAIN}")


@pytest.mark.parametrize(
    "body", ["<ol><li>Stop it.</li></ol>", '<section class="calc"></section>', "\n"]
)
def test_steps_a_calculator_and_nothing_are_not_folded(body: str) -> None:
    with pytest.raises(ValueError, match="“Why”"):
        with_folds(HEAD + body)


def test_pages_fold_no_steps_and_no_caution() -> None:
    """In the Markdown: the build would stop, and much later."""
    folded = 0
    for path in sorted(DOCS.glob("*.md")):
        for section in re.split(r"^## ", path.read_text("utf-8"), flags=re.M)[1:]:
            heading, _, body = section.partition("\n")
            if "{: told=" not in heading:
                continue
            inside = body.partition('<div class="caution"')[0]
            assert not re.search(r"^\d+\. |^```|\{= caution\.", inside, re.M), (path.name, heading)
            folded += 1
    assert folded
