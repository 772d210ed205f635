"""Hosts and browsers that refuse something: the calculator works, or says why not, and in good time."""

from __future__ import annotations

import base64
import gzip
import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from site_build import server

from . import live


@pytest.fixture
def host(own_site: Path) -> Iterator[server.Site]:
    """The site on a host that the test makes misbehave."""
    with server.serve(own_site) as served:
        yield served


def address(host: server.Site) -> str:
    """Of the first page with a calculator."""
    return host.url + live.pages_with_calculators(host.host.folder)[0]


def answers(page: Page) -> None:
    """What is typed is answered."""
    box = live.number_box(page)
    box.fill("3.6")
    live.await_current(page)
    assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "3.6"))


def refuses(page: Page, *words: str) -> None:
    """The page says what is the matter, offers a retry, and keeps the answer that was built in."""
    said = live.await_failed(page)
    for word in words:
        assert word in said
    assert "example" in said
    assert page.locator(".bb-engine-retry").first.is_visible()
    assert page.locator("[data-slot=answer] .verdict-word").first.is_visible()
    assert page.locator(".verdict-stale").first.is_hidden()
    box = live.number_box(page)
    box.fill("3.6")
    page.wait_for_timeout(100)
    assert box.input_value() == "3.6"
    # The built verdict is not for that value: it goes, and the way to the reason comes.
    assert page.locator("[data-slot=answer] .verdict-word").first.is_hidden()
    assert page.locator(".verdict-stale").first.is_visible()
    page.locator(".verdict-stale a").first.click()
    page.wait_for_function("document.activeElement.matches('[data-engine-status]')")


def policy(site: Path, worker: str) -> str:
    """A strict policy: our own files, the theme's inline scripts by hash, and WebAssembly."""
    scripts = {
        script
        for name in live.pages_of(site)
        for script in live.inline_scripts((site / name).read_text("utf-8"))
    }
    digests = [hashlib.sha256(script.encode()).digest() for script in sorted(scripts)]
    hashes = " ".join(f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests)
    return (
        f"default-src 'self'; script-src 'self' 'wasm-unsafe-eval' {hashes}; "
        f"worker-src {worker}; style-src 'self' 'unsafe-inline'; img-src 'self' data:"
    )


def test_types_that_mean_nothing(page: Page, host: server.Site) -> None:
    host.host.types = {
        ".wasm": "application/octet-stream",
        ".mjs": "text/plain",
        ".zip": "text/html",
    }
    page.goto(address(host))
    live.await_ready(page)
    answers(page)


def test_scripts_served_as_plain_text(rough_page: Page, host: server.Site) -> None:
    """As some Windows servers do."""
    host.host.types = {".js": "text/plain"}
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    answers(rough_page)


def test_a_strict_policy_that_allows_blob_workers(page: Page, host: server.Site) -> None:
    host.host.headers = {"Content-Security-Policy": policy(host.host.folder, "'self' blob:")}
    page.goto(address(host))
    live.await_ready(page)
    answers(page)


def test_a_strict_policy_that_allows_only_worker_files(rough_page: Page, host: server.Site) -> None:
    host.host.headers = {"Content-Security-Policy": policy(host.host.folder, "'self'")}
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    answers(rough_page)


def test_a_policy_that_forbids_webassembly(rough_page: Page, host: server.Site) -> None:
    strict = policy(host.host.folder, "'self' blob:").replace(" 'wasm-unsafe-eval'", "")
    host.host.headers = {"Content-Security-Policy": strict}
    rough_page.goto(address(host))
    refuses(rough_page, "WebAssembly")


def test_a_policy_that_forbids_workers(rough_page: Page, host: server.Site) -> None:
    host.host.headers = {"Content-Security-Policy": policy(host.host.folder, "'none'")}
    rough_page.goto(address(host))
    refuses(rough_page, "worker")


@pytest.mark.parametrize("name", ["wasm", "library", "packages", "worker"])
def test_a_missing_file_is_named_and_a_retry_finds_it(
    rough_page: Page, host: server.Site, name: str
) -> None:
    file = live.engine_file(host.host.folder, name)
    host.host.missing = [file.relative_to(host.host.folder).as_posix()]
    rough_page.goto(address(host))
    refuses(rough_page, file.name)
    host.host.missing = []
    rough_page.locator(".bb-engine-retry").first.click()
    live.await_ready(rough_page)
    live.await_current(rough_page)
    box = live.number_box(rough_page)
    assert live.answer(rough_page) == live.expected_answer(
        rough_page, live.typed_field(box, box.input_value())
    )


def test_a_host_that_answers_everything_with_its_front_page(
    rough_page: Page, host: server.Site
) -> None:
    file = live.engine_file(host.host.folder, "wasm")
    file.write_bytes((host.host.folder / "index.html").read_bytes())
    rough_page.goto(address(host))
    refuses(rough_page, file.name)


def test_a_file_of_another_edition_is_refused(rough_page: Page, host: server.Site) -> None:
    file = live.engine_file(host.host.folder, "packages")
    file.write_text(re.sub(r'"packages\.\w+"', '"packages.0123456789ab"', file.read_text()))
    rough_page.goto(address(host))
    refuses(rough_page, file.name)


@pytest.mark.parametrize("name", ["wasm", "library", "packages"])
@pytest.mark.parametrize("damage", ["cut", "flipped"])
def test_a_damaged_file_is_found_out(
    rough_page: Page, host: server.Site, name: str, damage: str
) -> None:
    spoil(live.engine_file(host.host.folder, name), damage)
    rough_page.goto(address(host))
    refuses(rough_page, "damaged")


@pytest.mark.parametrize("damage", ["cut", "flipped", "empty", "gone"])
def test_without_a_sound_snapshot_the_engine_starts_all_the_same(
    rough_page: Page, host: server.Site, damage: str
) -> None:
    spoil(live.engine_file(host.host.folder, "snapshot"), damage)
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    assert rough_page.locator("section.calc").first.get_attribute("data-engine-start") == "ordinary"
    answers(rough_page)


def test_a_snapshot_of_other_calculators_is_refused(rough_page: Page, host: server.Site) -> None:
    """Sound, of the same engine, but made with other packages: its numbers would be others."""
    file = live.engine_file(host.host.folder, "snapshot")
    memory = unpacked(file)
    edition = re.search(rb'edition:"([0-9a-f]{12})"', loader(host).read_bytes())
    assert edition
    assert edition[1] in memory
    pack(file, memory.replace(edition[1], b"0123456789ab"))
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    assert rough_page.locator("section.calc").first.get_attribute("data-engine-start") == "ordinary"
    answers(rough_page)


def test_a_snapshot_of_another_engine_is_refused(rough_page: Page, host: server.Site) -> None:
    """Pyodide writes the hash of its build into the snapshot's head, from byte 16 on."""
    file = live.engine_file(host.host.folder, "snapshot")
    memory = unpacked(file)
    pack(file, memory[:16] + bytes(255 - byte for byte in memory[16:48]) + memory[48:])
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    assert rough_page.locator("section.calc").first.get_attribute("data-engine-start") == "ordinary"
    answers(rough_page)


def loader(host: server.Site) -> Path:
    return live.engine_file(host.host.folder, "brinebook")


def unpacked(file: Path) -> bytes:
    """The binary that an engine file carries."""
    return gzip.decompress(base64.b64decode(carried(file)))


def pack(file: Path, binary: bytes) -> None:
    """Put another binary into an engine file, under the same name."""
    carry(file, base64.b64encode(gzip.compress(binary, 1)).decode())


def spoil(file: Path, damage: str) -> None:
    """Damage what an engine file carries, as a bad line or disc would."""
    text = carried(file)
    middle = len(text) // 8 * 4
    match damage:
        case "cut":
            carry(file, text[:middle])
        case "flipped":
            other = "AAAA" if text[middle : middle + 4] != "AAAA" else "BBBB"
            carry(file, text[:middle] + other + text[middle + 4 :])
        case "empty":
            carry(file, "")
        case "gone":
            file.unlink()


def carried(file: Path) -> str:
    """The text of a binary in an engine file."""
    return file.read_text().split('"]="')[1].split('"')[0]


def carry(file: Path, text: str) -> None:
    head, old = file.read_text().split('"]="')
    file.write_text(f'{head}"]="{text}"' + old.split('"', 1)[1])
