"""edition.toml: taken apart into one typed thing, or complained about by line and field."""

from __future__ import annotations

from pathlib import Path

import pytest

from calc import stock
from site_build import edition
from site_build.edition import EditionError

FINE = """name = "Quay Water"
base = "0.1.0"
currency = "EUR"
languages = ["en", "pt-BR"]
address = "https://example.org/water"
embed_on = ["https://example.org", "http://localhost:8080"]
hide = ["bulkhead.md"]

[contact]
name = "Nell Rowan"
email = "nell@example.org"
phone = "+00 12 34 56"
page = "https://example.org/ask?from=guide"

[brand]
logo = "mark.svg"
colour = "#0b4f6c"

[examples]
unit = "gale-70"
boats = ["gull"]

[doubts]
"unit.gale-70.mass" = "weighed with its base plate"
"""


def written(folder: Path, content: str | bytes) -> Path:
    (folder / "brand").mkdir(exist_ok=True)
    (folder / "brand" / "mark.svg").write_text("<svg/>", "utf-8")
    data = content if isinstance(content, bytes) else content.encode()
    (folder / "edition.toml").write_bytes(data)
    return folder


def test_all_of_it_is_read(tmp_path: Path) -> None:
    made = edition.read(written(tmp_path, FINE))
    assert (made.name, made.base, made.currency) == ("Quay Water", "0.1.0", "EUR")
    assert made.languages == ("en", "pt-BR")
    assert made.address == "https://example.org/water/"
    assert made.embed_on == ("https://example.org", "http://localhost:8080")
    assert made.contact.email == "nell@example.org"
    assert made.brand.logo == tmp_path / "brand" / "mark.svg"
    assert (made.unit, made.boats, made.hidden) == ("gale-70", ("gull",), ("bulkhead.md",))
    assert made.doubts == {"unit.gale-70.mass": "weighed with its base plate"}
    assert made.equipment is None and made.pages is None


def test_a_name_is_enough(tmp_path: Path) -> None:
    made = edition.read(written(tmp_path, 'name = "Quay Water"\n'))
    assert (made.unit, made.boats) == (edition.STOCK.unit, edition.STOCK.boats)


def test_the_stocks_own_roles_are_filled() -> None:
    assert edition.STOCK.unit in stock.guide().shelf("unit")
    assert set(edition.STOCK.boats) <= set(stock.guide().shelf("boat"))


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ('name = "Quay Water"', "", ("needed", 1, "name")),
        ('"Quay Water"', '"<b>Quay</b>"', ("value", 1, "name")),
        ('"Quay Water"', "7", ("value", 1, "name")),
        ('"Quay Water"', '"""Quay\nWater"""', ("value", 1, "name")),
        ('"0.1.0"', '"new"', ("value", 2, "base")),
        ('"EUR"', '"money"', ("value", 3, "currency")),
        ('"pt-BR"', '"Portuguese"', ("value", 4, "languages")),
        ('"pt-BR"', '"en"', ("twice", 4, "languages")),
        ('["en", "pt-BR"]', '"en"', ("value", 4, "languages")),
        ("https://example.org/water", "example.org", ("value", 5, "address")),
        ('["https://example.org",', '["https://example.org/a",', ("value", 6, "embed_on")),
        ('"bulkhead.md"', '"../x.md"', ("value", 7, "hide")),
        ("hide =", "hid =", ("unknown", 7, "hid")),
        ("nell@example.org", "nell at example", ("value", 11, "email")),
        ("+00 12 34 56", "by day", ("value", 12, "phone")),
        ("https://example.org/ask", "javascript:alert(1)", ("value", 13, "page")),
        ('"mark.svg"', '"../mark.svg"', ("value", 16, "logo")),
        ('"mark.svg"', '"mark.gif"', ("value", 16, "logo")),
        ('"mark.svg"', '"marc.svg"', ("missing", 16, "logo")),
        ('"#0b4f6c"', '"teal"', ("value", 17, "colour")),
        ("[brand]", "[brnd]", ("unknown", 15, "brnd")),
        ('"gale-70"', '"gale 70"', ("value", 20, "unit")),
        ('"weighed with its base plate"', '""', ("needed", 24, "unit.gale-70.mass")),
        ("[examples]", "[examples", ("toml", 19, "")),
    ],
)  # fmt: skip
def test_a_fault_has_its_line_and_field(
    tmp_path: Path, old: str, new: str, expected: tuple[str, int, str]
) -> None:
    assert old in FINE
    with pytest.raises(EditionError) as caught:
        edition.read(written(tmp_path, FINE.replace(old, new, 1)))
    assert [(f.key, f.line, f.field) for f in caught.value.faults] == [expected]
    assert str(caught.value).startswith(f"edition.toml, line {expected[1]}: ")


def test_all_faults_at_once_in_the_order_of_lines(tmp_path: Path) -> None:
    broken = FINE.replace("nell@example.org", "nell").replace('"EUR"', '"money"')
    with pytest.raises(EditionError) as caught:
        edition.read(written(tmp_path, broken))
    assert [f.field for f in caught.value.faults] == ["currency", "email"]


@pytest.mark.parametrize(
    ("content", "key"),
    [
        (b"\xef\xbb\xbf" + FINE.encode(), "mark"),
        (FINE.encode("utf-16"), "encoding"),
        (FINE.replace("Nell", "Néll").encode("latin-1"), "encoding"),
    ],
)
def test_another_encoding_is_named(tmp_path: Path, content: bytes, key: str) -> None:
    with pytest.raises(EditionError) as caught:
        edition.read(written(tmp_path, content))
    (fault,) = caught.value.faults
    assert (fault.key, fault.file) == (key, "edition.toml")


def test_a_folder_without_it(tmp_path: Path) -> None:
    with pytest.raises(EditionError) as caught:
        edition.read(tmp_path)
    assert [f.key for f in caught.value.faults] == ["missing"]
