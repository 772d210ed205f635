"""The built site as files, and read without JavaScript."""

from __future__ import annotations

import filecmp
import gzip
import json
import os
import re
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urljoin, urlsplit

import pytest
from playwright.sync_api import Browser, Page

from calc import stock
from site_build import build, engine, kit, machine, offline
from site_build.server import Site

from . import live


@pytest.fixture
def plain_page(chromium: Browser) -> Iterator[Page]:
    """A page in a browser whose JavaScript is off."""
    context = chromium.new_context(java_script_enabled=False)
    yield context.new_page()
    context.close()


def test_without_javascript_every_page_is_complete(
    plain_page: Page, site: Site, built_site: Path
) -> None:
    for name in live.pages_of(built_site):
        plain_page.goto(site.url + name)
        assert plain_page.locator("h1").is_visible()
        for section in plain_page.locator("section.calc").all():
            assert section.locator("form input, form select").first.is_visible()
            assert section.locator(".verdict").is_visible()
            assert section.locator("[data-figure]").count()  # folded, to be opened without it too


def test_the_engine_is_small_enough_and_named_by_what_is_in_it(built_site: Path) -> None:
    folder = built_site / "assets/engine"
    names = {path.name.split(".")[0] for path in folder.iterdir()}
    files = {"guide", "library", "packages", "snapshot", "wasm", "worker"}
    assert names == {"brinebook", "plainworker", *files}
    # Over a slow line each part comes within the time that the page waits for it.
    parts = [path for path in folder.iterdir() if path.name.split(".")[0] in files]
    assert max(path.stat().st_size for path in parts) < 600_000
    # What one takes along. Unpacked, the worker's script stands there twice, packed and
    # plain: a guard, not an aim.
    assert (built_site / offline.ZIP).stat().st_size <= 17e6
    kept = [p for p in built_site.rglob("*") if p.is_file() and p.name != offline.ZIP]
    assert sum(path.stat().st_size for path in kept) <= 24e6


# The theme's own words, none of which a browser asks: its home page in a comment, names of
# namespaces, and a diagram library for diagrams that this guide hasn't.
UNASKED = (
    "http://www.w3.org/",
    "https://squidfunk.github.io/",
    "https://mths.be/",
    "https://fb.me/",
    "https://github.com/",
)


def test_no_page_style_or_script_names_another_host(built_site: Path) -> None:
    """In HTML whatever a browser loads by itself, in CSS every address."""
    for file in sorted(built_site.rglob("*")):
        if file.suffix == ".html":
            html = file.read_text("utf-8")
            tags = re.findall(
                r"<(?!a\b)[a-z][^>]*?\s(?:src|href|srcset|action|poster|data)=[\"']?([^\"'\s>]+)",
                html,
            )
            named = [tag for tag in tags if re.match(r"(?:https?:)?//", tag)]
        elif file.suffix == ".css":
            named = re.findall(r"url\([\"']?((?:https?:)?//[^)\"']+)", file.read_text("utf-8"))
        else:
            continue
        assert [name for name in named if not name.startswith(UNASKED)] == [], file


def test_every_link_and_file_that_a_page_names_is_there(built_site: Path) -> None:
    for name in live.pages_of(built_site):
        html = (built_site / name).read_text("utf-8")
        for link in re.findall(r"<[a-z][^>]*?\s(?:src|href)=[\"']([^\"']+)", html):
            parts = urlsplit(urljoin(f"http://site/{name}", link))
            if parts.hostname == "site":
                path = built_site / (parts.path.lstrip("/") or "index.html")
                assert path.exists(), f"{name} names {link}"


def test_two_builds_are_the_same_byte_for_byte(
    built_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second one has no cache to copy from, but for the engine's files that the next test makes anew."""
    cache, empty, engine_of = kit.CACHE, tmp_path / "cache", engine.build
    snapshot, taken = engine._snapshot, []

    def anew(work: engine._Workshop, *given: Any) -> Path:
        taken.append(snapshot(engine._Workshop(empty, work.executable, lambda _: None), *given))
        return taken[-1]

    monkeypatch.setattr(engine, "_snapshot", anew)
    monkeypatch.setattr(engine, "build", lambda _, *given: engine_of(cache, *given))
    monkeypatch.setattr(kit, "CACHE", empty)
    again = tmp_path / "again"
    build.build_site(again, lambda _: None)
    assert [one.is_relative_to(empty) for one in taken] == [True]
    names = [path.relative_to(again).as_posix() for path in again.rglob("*") if path.is_file()]
    first = [p.relative_to(built_site).as_posix() for p in built_site.rglob("*") if p.is_file()]
    assert sorted(names) == sorted(first)
    different = filecmp.cmpfiles(built_site, again, names, shallow=False)[1:]
    assert different == ([], [])


def test_a_change_of_the_calculators_leaves_python_itself_as_it_was(
    tmp_path: Path, built_site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A reader who comes back after it fetches the packages and the snapshot again, not the rest; and of
    the packages only what was changed is another. There is no cache: all that is the same was made twice.

    What is in the snapshot doesn't matter here: it holds the packages, so it is another one.
    """
    packed: list[Path] = []

    def snapshot(_: object, library: Path, packages: Path, edition: str) -> Path:
        packed.append(packages)
        (tmp_path / "snapshot.bin").write_bytes(edition.encode() * 1000)
        return tmp_path / "snapshot.bin"

    monkeypatch.setattr(engine, "_snapshot", snapshot)
    project = tmp_path / "project"
    project.mkdir()
    for name in ("pyproject.toml", "LICENSE"):
        (project / name).write_bytes((machine.ROOT / name).read_bytes())
    _copy(machine.ROOT / "calc", project / "calc")
    service = project / "calc" / "frame" / "service.py"
    service.write_text(service.read_text("utf-8") + "\nCHANGED = True\n", "utf-8")
    made = engine.build(
        tmp_path / "cache", project / "calc", machine.node(), Path(sys.executable), lambda _: None
    )
    folder = built_site / "assets/engine"
    before = {path.name for path in folder.iterdir()}
    same = before & set(made.names)
    assert filecmp.cmpfiles(made.folder, folder, same, shallow=False)[1:] == ([], [])
    new = {name.split(".")[0] for name in set(made.names) - before}
    assert new == {"packages", "snapshot", "brinebook"}
    parts = live.engine_parts(built_site, "packages")
    old_files = _unpacked(gzip.decompress(b"".join(map(live.carried, parts))))
    new_files = _unpacked(packed[0].read_bytes())
    assert old_files.keys() == new_files.keys()
    changed = {name for name, data in old_files.items() if data != new_files[name]}
    assert {name.rsplit("/", 1)[1] for name in changed} == {"service.pyc"}


def _unpacked(archive: bytes) -> dict[str, bytes]:
    """The files of an archive of the engine's."""
    start = 4 + int.from_bytes(archive[:4], "little")
    places = json.loads(archive[4:start])
    return {name: archive[start + at : start + at + n] for name, (at, n) in places.items()}


def test_a_changed_record_leaves_the_engine_as_it_was(tmp_path: Path, built_site: Path) -> None:
    """Nothing of it is made again: a price costs pages alone, here and on a reader's line."""
    project = tmp_path / "project"
    project.mkdir()
    for name in ("pyproject.toml", "LICENSE"):
        (project / name).write_bytes((machine.ROOT / name).read_bytes())
    _copy(machine.ROOT / "calc", project / "calc")
    records = project / engine.RECORDS / "power.toml"
    records.write_text(records.read_text("utf-8").replace("440 Ah", "460 Ah"), "utf-8")
    told: list[str] = []
    made = engine.build(
        kit.CACHE, project / "calc", machine.node(), Path(sys.executable), told.append
    )
    assert told == []
    folder = built_site / "assets/engine"
    assert {path.name for path in folder.iterdir() if not path.name.startswith("guide.")} == set(
        made.names
    )


def test_the_engine_holds_no_record(built_site: Path) -> None:
    guide = stock.guide()
    names = {
        str(record.name).encode()
        for kind in ("motor", "unit", "inverter", "boat")
        for record in guide.shelf(kind).values()
    }
    for file in ("snapshot", "packages", "guide"):
        parts = live.engine_parts(built_site, file)
        data = gzip.decompress(b"".join(map(live.carried, parts)))
        held = {name for name in names if name in data}
        assert held == (names if file == "guide" else set()), file
        assert b" to rehearse with" not in data, file  # what answers left behind when it was made


def _copy(source: Path, target: Path) -> None:
    for file in source.rglob("*"):
        if file.is_file() and "__pycache__" not in file.parts:
            place = target / file.relative_to(source)
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(file.read_bytes())


def test_the_search_index_holds_the_guides_words_and_no_run_together_cells(
    built_site: Path,
) -> None:
    index = json.loads((built_site / "search/search_index.json").read_text("utf-8"))
    texts = {one["location"]: re.sub(r"<[^>]*>", " ", one["text"]) for one in index["docs"]}
    told = " ".join(texts.values())
    assert "rattle, gauge that trembles, no flow packing burns" in " ".join(told.split())
    # Computed answers would be those of the examples.
    for words in ("Before you touch it", "still the page's example"):
        assert words not in told
    mashed = re.findall(r"\w*[a-z)%][A-Z][a-z]+\w*", told)
    assert set(mashed) <= {"LiFePO4", "iCalendar", "kHz", "kWh", "hPa", "NaCl"}, set(mashed)


def test_the_zip_is_plain(built_site: Path) -> None:
    with zipfile.ZipFile(built_site / offline.ZIP) as packed:
        assert packed.testzip() is None
        for name in packed.namelist():
            assert name.startswith(offline.ZIP_FOLDER + "/")
            assert os.path.normpath(name) == name
        assert f"{offline.ZIP_FOLDER}/{offline.SERVICE_WORKER}" not in packed.namelist()


# What is asked of the theme's search, which has a worker of its own.
HEAR_QUERIES = """
self.queries = [];
const post = Worker.prototype.postMessage;
Worker.prototype.postMessage = function (message, ...more) {
  message?.type === 2 && queries.push(message.data);
  return post.call(this, message, ...more);
};
"""


def test_what_comes_into_the_search_without_a_key_is_searched_once(page: Page, site: Site) -> None:
    """As what is pasted or dictated, and what is taken back."""
    page.add_init_script(HEAR_QUERIES + live.NO_ENGINE)
    page.goto(site.url)
    page.keyboard.press("/")
    found = page.locator(".md-search-result__item")
    page.keyboard.type("p")
    found.first.wait_for()  # from here on it is ready, and asks for nothing by itself
    page.keyboard.insert_text("ump")
    page.wait_for_function("self.queries.at(-1) === 'pump'")
    page.keyboard.type("s")
    page.wait_for_function("self.queries.at(-1) === 'pumps'")
    page.locator(".md-search__form").evaluate("form => form.reset()")
    page.wait_for_function("!document.querySelector('.md-search-result__item')")
    assert page.evaluate("self.queries.filter(Boolean)") == ["p", "pump", "pumps"]
