"""What is kept between builds is what a build from nothing would make."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from site_build import kit, machine, styles
from site_build.workshop import Workshop

PAGE = '<p class="told">x</p>'
SHEET = "p{top:0}.zzqx{top:1px}"  # a name that no code has


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop(tmp_path, lambda _: None)


def test_a_text_is_made_again_once_an_ingredient_has_changed(workshop: Workshop) -> None:
    made: list[str] = []

    def make() -> str:
        made.append("")
        return f"é\n{len(made)}"

    def text(*ingredients: bytes) -> str:
        return workshop.text("t", ingredients, make)

    told = [text(b"a", b"b"), text(b"a", b"b"), text(b"ab"), text(b"a", b"b")]
    assert told == ["é\n1", "é\n1", "é\n2", "é\n1"]


def test_the_newest_few_are_kept(workshop: Workshop, tmp_path: Path) -> None:
    for number in range(5):
        workshop.text("t", [bytes([number])], lambda: "x", newest=2)
        for age, path in enumerate(
            sorted(tmp_path.iterdir(), key=lambda path: path.stat().st_mtime)
        ):
            os.utime(path, (age, age))
    assert len(list(tmp_path.iterdir())) == 2


def test_a_name_that_comes_brings_its_rules(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sheet is kept by the names in pages, not by what stands between their tags."""
    monkeypatch.setattr(kit, "CACHE", tmp_path / "cache")
    worked = []

    def in_one(sheets: Iterable[str], own: str, known: styles.Names) -> str:
        worked.append(known)
        return real(list(sheets), own, known)

    real: Callable[[list[str], str, styles.Names], str] = styles.in_one
    monkeypatch.setattr(styles, "in_one", in_one)

    def sheet(page: str) -> str:
        (tmp_path / "site").mkdir(exist_ok=True)
        (tmp_path / "site/index.html").write_text(page)
        return (
            tmp_path / "site" / styles.write(tmp_path / "site", "a.css", [SHEET], "")
        ).read_text()

    first = sheet(PAGE)
    assert sheet(PAGE.replace("x", "y")) == first
    assert len(worked) == 1
    assert "zzqx" not in first and "zzqx" in sheet(PAGE.replace("told", "zzqx"))
    assert len(worked) == 2
    monkeypatch.setattr(machine, "PACKED", tmp_path)  # a wheel keeps nothing
    assert sheet(PAGE) == first
    assert len(worked) == 3
