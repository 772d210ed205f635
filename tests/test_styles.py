"""One style sheet for all pages: what of it is left out, and what never is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from site_build import styles

CSS = Path(__file__).resolve().parents[1] / "docs/assets/css"
KNOWN = styles.names(
    [
        '<main class="calc md-typeset" data-look="night" id=top><p dir="ltr" title="a > b" class="told">gone</p>'
    ],
    ['`state-${word}`; list.add("late"); `${one}--on`; css("--seen")'],
)


def kept(sheet: str, own: str = "") -> str:
    return styles.in_one([sheet], own, KNOWN).removeprefix('@charset "UTF-8";')


@pytest.mark.parametrize(
    ("selector", "is_kept"),
    [
        ("main", True),
        ("table", False),
        (".calc>p:hover", True),
        (".calc .gone", False),  # a word of the text, and no name
        (".told", True),  # behind a ">" in an attribute
        ("#top", True),
        ("#foot", False),
        (".late", True),
        (".state-fits", True),  # put together by a script, from either end
        (".tab--on", True),
        (".tab--off", False),
        ("[data-look=night]", True),
        ('[data-look="day"]', False),
        ("[data-look^=d]", True),  # a part of a word drops nothing
        ("[data-other]", False),
        ("p:not(.gone)", True),
        (":is(.gone, .late) p", True),
        (":is(.gone, .lost) p", False),
        ("main:has(> .gone)", False),
        ("p::before", True),
        ("::-webkit-scrollbar", True),
        ("*", True),
        (".gone, .late", True),
        (".gone, .lost", False),
        ("p:nth-child(2n + 1):lang(de)", True),
    ],
)
def test_a_rule_goes_only_where_a_name_that_it_needs_is_nowhere(
    selector: str, is_kept: bool
) -> None:
    assert ("red" in kept(f"{selector} {{ color: red }}")) == is_kept


def test_what_is_in_media_goes_too_and_media_without_rules() -> None:
    sheet = (
        "@media print { .gone { top: 0 } p { top: 1px } } @supports (top: 0) { .gone { top: 0 } }"
    )
    assert kept(sheet) == "@media print{p{top:1px}}"


def test_steps_fonts_and_paper_stay_as_they_are() -> None:
    for sheet in (
        "@keyframes turn{from{top:0}50%{top:1px}to{top:2px}}",
        '@font-face{font-family:"Brine";src:url("../a.woff2")}',
        "@page{margin:1cm}",
    ):
        assert kept(sheet) == sheet


def test_a_value_of_our_own_goes_where_nothing_reads_it() -> None:
    sheet = ":root{--icon:url('a.svg');--read:1px;--seen:2px;--only-for-lost:var(--of-that);--of-that:0}"
    sheet += "p{top:var(--read)}.lost{top:var(--only-for-lost)}"
    assert kept(sheet) == ":root{--read:1px;--seen:2px}p{top:var(--read)}"
    assert "--icon" in kept(sheet, own="p { background: var(--icon) }")


def test_an_editions_own_sheet_stays_as_it_is_and_comes_last() -> None:
    own = ".gone { color: red } /* ours */"
    made = kept("main { color: blue } .gone { color: blue }", own)
    assert made == f"main{{color:blue}}\n{own}"


def test_nothing_but_room_and_remarks_is_lost_of_what_is_kept() -> None:
    sheet = """/* one */ main > p ,
      .late { margin : 0  auto !important ; background: url("a b.svg") no-repeat; --seen: { }
      width: calc(1px + 2%) }"""
    assert kept(sheet) == (
        'main > p,.late{margin:0 auto!important;background:url("a b.svg") no-repeat;--seen:{ };'
        "width:calc(1px + 2%)}"
    )


def test_the_signs_encoding_stands_at_the_beginning_once() -> None:
    made = styles.in_one(['@charset "UTF-8";p{top:0}', '@charset "UTF-8";main{top:0}'], "", KNOWN)
    assert re.findall("@charset", made) == ["@charset"]
    assert made.startswith('@charset "UTF-8";p{top:0}')


def test_what_would_have_all_style_computed_anew_is_out() -> None:
    bare = ".md-typeset table:not([class]) > :first-child, main { top: 0 }"
    assert kept(bare) == ".md-typeset table[data-plain] > :first-child,main{top:0}"
    known = styles.names(["<body data-md-color-switching>"], ["`data-md-color-${name}`"])
    assert "data-md-color-scheme" in known
    assert styles.in_one(["[data-md-color-switching] * { transition: none }"], "", known) == (
        '@charset "UTF-8";'
    )


def test_what_looks_inside_is_asked_of_few_elements() -> None:
    """A browser asks each element that the rest of such a part of a selector fits, and at each
    change below it again."""
    few = re.compile(r"[.#][\w-]|\[|fieldset|table|body|html")
    parts = [
        (one, part)
        for sheet in sorted(CSS.glob("*.css"))
        for one in styles.selectors(sheet.read_text("utf-8"))
        for part in re.split(r"[\s>+~]+(?![^(]*\))", one)
        if ":has(" in part
    ]
    assert parts
    assert [(one, part) for one, part in parts if not few.match(part)] == []
