"""What `check` tells of an edition's languages: what stays English, and what is wrong in their pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from english import english
from pseudo import as_file
from test_own_calculators import written

from calc import stock, terminal
from calc.frame import language as spoken
from site_build import brinebook, edition, language, language_sites, making, page_check, pages
from site_build.edition import Edition
from site_build.language_sites import Spoken

SETTINGS = 'name = "Quay Water"\nlanguages = ["en", "fr", "ga"]\n'
POWER = '# Power\n\n```calculator power\nboat = "example"\n```\n\nSee [home](index.md).\n'
PO = "languages/{}/messages.po"


@pytest.fixture
def made(tmp_path: Path) -> Iterator[Edition]:
    """An edition of two pages, in two languages of which nothing is translated."""
    few = written(tmp_path / "docs", {"index.md": "# Water\n", "power.md": POWER})
    folder = written(tmp_path / "edition", {"edition.toml": SETTINGS})
    for code in ("fr", "ga"):
        written(folder, {PO.format(code): language.update(b"", code).decode()})
    found = edition.read(folder)
    with making.within(found, stock.guide(), few):
        yield found


def notes(made: Edition) -> dict[str, str]:
    """What is told of its languages, by what it is about."""
    faults, _, wanted = page_check.pages(made)
    assert faults == []
    return {note.partition(":")[0]: note for note in language_sites.lacking(made, wanted)}


def test_what_stays_english_is_counted_by_language_and_page(made: Edition) -> None:
    assert made.folder
    path = made.folder / PO.format("fr")
    content = path.read_bytes().replace(b'msgid "fits"\nmsgstr ""', b'msgid "fits"\nmsgstr "va"')
    path.write_bytes(content)
    written(made.folder, {"languages/fr/pages/index.md": "# L'eau\n"})
    read = language.read(content, "fr")
    assert len(read.missing) == read.asked - 1
    with Spoken(read.catalogue).speaking(), spoken.noting_lacking() as lacking:
        pages.prepare(POWER, pages.Page("power.md"))
    count = len(lacking & set(read.missing))
    assert count > 100
    told = notes(made)
    assert f"{len(read.missing)} of {read.asked} " in told[PO.format("fr")]
    assert told[PO.format("fr")].endswith(f"power.md {count}")
    assert "1 of 2 " in told["languages/fr/pages"] and "index" not in told["languages/fr/pages"]
    assert "2 of 2 " in told["languages/ga/pages"]
    assert "fr" not in told and "ga" in told, "neither search nor the theme has Irish"
    path.write_bytes(as_file("fr"))
    assert PO.format("fr") not in notes(made), "of a whole catalogue there is nothing to tell"


@pytest.mark.parametrize(
    ("name", "text", "key", "line"),
    [
        ("power.md", POWER.replace("index.md", "nowhere.md"), "link", 7),
        ("quai.md", "# Quai\n\n{= boat.nobody.name =}\n", "number", 3),
        ("quai.md", "# Quai\n\n<script>alert(1)</script>\n", "barred", 3),
    ],
)
def test_what_is_wrong_in_a_languages_pages_is_told(
    made: Edition, name: str, text: str, key: str, line: int
) -> None:
    assert made.folder
    where = f"languages/fr/pages/{name}"
    written(made.folder, {where: text})
    found = page_check.of_language(made, "fr")
    assert [(f.key, f.file, f.line) for f in found] == [(key, where, line)]
    assert page_check.of_language(made, "ga") == []


def test_its_terminal_speaks_the_first_language(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = {
        "edition.toml": SETTINGS.replace('"en", ', ""),
        PO.format("fr"): as_file("fr").decode(),
    }
    files[PO.format("ga")] = language.update(b"", "ga").decode()
    made = edition.read(written(tmp_path, files))
    with brinebook.within(made, stock.guide()):
        assert terminal.main(["power", "--boat", "ketch", "--full"]) == 0
        told = capsys.readouterr().out
    assert re.search(r"\d,\d", told) and english(told, stock.guide()) == []
    assert spoken.code() == "en"
