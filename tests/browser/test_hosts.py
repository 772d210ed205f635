"""Hosts and browsers that refuse something: the calculator works, or says why not, and in good time."""

from __future__ import annotations

import gzip
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page

from site_build import hosts, server

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


def without_plain_worker(host: server.Site) -> None:
    """The worker's script that a quick line brings is gone: it comes in parts, as on any other line."""
    live.engine_file(host.host.folder, "plainworker").unlink()


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
    page.locator(".verdict-stale a:visible").first.click()
    page.wait_for_function("document.activeElement.matches('[data-engine-status]')")


def strict(worker: str = "'self' blob:", *, wasm: bool = True) -> dict[str, str]:
    """The policy that `build` prints, with other workers, or without WebAssembly."""
    made = hosts.policy().replace("worker-src 'self' blob:", f"worker-src {worker}")
    assert f"worker-src {worker};" in made
    return {"Content-Security-Policy": made if wasm else made.replace(" 'wasm-unsafe-eval'", "")}


INLINE = re.compile(
    r"""<script(?![^>]*\bsrc=)(?![^>]*type="?application/json)|<style|<[^<>]*\s(?:style|on\w+)=["']?\w"""
)


def test_no_page_has_a_script_or_a_style_in_itself(built_site: Path) -> None:
    """Those that a strict policy refuses; the data blocks of JSON are none."""
    for page in sorted(built_site.rglob("*.html")):
        assert INLINE.findall(page.read_text("utf-8")) == [], page.name


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
    host.host.headers = {}
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    answers(rough_page)


def test_a_strict_policy_that_allows_blob_workers(page: Page, host: server.Site) -> None:
    host.host.headers = strict()
    page.goto(address(host))
    live.await_ready(page)
    answers(page)


def test_a_strict_policy_that_allows_only_worker_files(rough_page: Page, host: server.Site) -> None:
    host.host.headers = strict("'self'")
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    answers(rough_page)


def test_a_policy_that_forbids_webassembly(rough_page: Page, host: server.Site) -> None:
    host.host.headers = strict(wasm=False)
    rough_page.goto(address(host))
    refuses(rough_page, "WebAssembly")


def test_a_policy_that_forbids_workers(rough_page: Page, host: server.Site) -> None:
    host.host.headers = strict("'none'")
    rough_page.goto(address(host))
    refuses(rough_page, "worker")


def test_a_policy_that_shuts_the_page_off(rough_page: Page, host: server.Site) -> None:
    """As hosts do that show what anybody has put there. It is no bad line, and no try will help."""
    host.host.headers = {"Content-Security-Policy": "sandbox allow-scripts"}
    rough_page.goto(address(host))
    assert "sandbox" in live.await_failed(rough_page)
    assert rough_page.locator(".bb-engine-retry").count() == 0


@pytest.mark.parametrize("name", ["wasm", "worker"])
def test_a_missing_file_is_named_and_a_retry_finds_it(
    rough_page: Page, host: server.Site, name: str
) -> None:
    file = live.engine_file(host.host.folder, name)
    host.host.missing = [file.relative_to(host.host.folder).as_posix()]
    name == "worker" and without_plain_worker(host)
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


@pytest.mark.parametrize("damage", ["cut", "gone"])
def test_without_its_plain_file_the_worker_comes_in_parts(
    rough_page: Page, host: server.Site, damage: str
) -> None:
    file = live.engine_file(host.host.folder, "plainworker")
    file.unlink() if damage == "gone" else file.write_bytes(file.read_bytes()[:100_000])
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    answers(rough_page)
    assert any(path.startswith("/assets/engine/worker.") for path in host.host.asked)


def test_a_host_that_answers_everything_with_its_front_page(
    rough_page: Page, host: server.Site
) -> None:
    file = live.engine_file(host.host.folder, "wasm")
    file.write_bytes((host.host.folder / "index.html").read_bytes())
    rough_page.goto(address(host))
    refuses(rough_page, file.name)


def test_a_file_of_another_edition_is_refused(rough_page: Page, host: server.Site) -> None:
    file = live.engine_file(host.host.folder, "wasm")
    named = re.compile(rb'"wasm\.\w+\.')
    file.write_bytes(named.sub(b'"wasm.0123456789ab.', file.read_bytes(), count=1))
    rough_page.goto(address(host))
    refuses(rough_page, file.name)


@pytest.mark.parametrize(
    ("name", "damage", "told"),
    [
        ("wasm", "cut", "cut short"),
        ("library", "flipped", "damaged"),
        ("worker", "cut", "cut short"),
        ("worker", "flipped", "damaged"),
    ],
)
def test_a_damaged_file_is_found_out_and_a_retry_fetches_it_anew(
    rough_page: Page, host: server.Site, name: str, damage: str, told: str
) -> None:
    file = live.engine_file(host.host.folder, name)
    sound = file.read_bytes()
    spoil(file, damage)
    if name == "library":  # which a start from the snapshot does without
        live.engine_file(host.host.folder, "snapshot").unlink()
    elif name == "worker":
        without_plain_worker(host)
    rough_page.goto(address(host))
    refuses(rough_page, told)
    file.write_bytes(sound)
    rough_page.locator(".bb-engine-retry").first.click()
    live.await_ready(rough_page)


def test_a_file_that_ends_early_is_told_as_that(rough_page: Page, host: server.Site) -> None:
    """As a copy onto the host that stopped half-way leaves it: no script any more."""
    file = live.engine_file(host.host.folder, "wasm")
    file.write_bytes(file.read_bytes()[:100_000])
    rough_page.goto(address(host))
    refuses(rough_page, "cut short", file.name)


def test_an_edition_that_was_replaced_under_an_open_page_is_told_and_loaded(
    rough_page: Page, host: server.Site
) -> None:
    """The files that this page needs are gone, and the page itself names others now."""
    site = host.host.folder
    gone = [path.relative_to(site).as_posix() for path in live.engine_parts(site, "wasm")]
    host.host.missing = gone
    rough_page.goto(address(host))
    old = loader(host)
    new = old.with_name("brinebook.0123456789ab.js")
    old.rename(new)
    for name in live.pages_of(site):
        (site / name).write_text(
            (site / name).read_text("utf-8").replace(old.name, new.name), "utf-8"
        )
    live.await_failed(rough_page)
    host.host.missing = []
    live.number_box(rough_page).fill("3.6")
    assert rough_page.locator(".bb-engine-retry").count() == 0
    rough_page.locator(".bb-engine-reload").first.click()
    rough_page.wait_for_function(f"document.querySelector('script[src$=\"{new.name}\"]')")
    live.await_ready(rough_page)
    live.await_current(rough_page)
    assert live.number_box(rough_page).input_value() == "3.6"


@pytest.mark.parametrize("fault", ["missing", "portal", "broken"])
def test_a_page_without_its_own_script_says_so(
    rough_page: Page, host: server.Site, fault: str
) -> None:
    file = loader(host)
    match fault:
        case "missing":
            file.unlink()
        case "portal":
            file.write_bytes((host.host.folder / "index.html").read_bytes())
        case "broken":
            file.write_text("throw new Error('an old browser')")
    rough_page.goto(address(host))
    assert "script" in live.await_failed(rough_page)
    assert rough_page.locator(".engine-asleep").first.is_visible()
    assert rough_page.locator("[data-slot=answer] .verdict-word").first.is_visible()
    live.number_box(rough_page).fill("3.6")
    assert rough_page.locator("[data-slot=answer] .verdict-word").first.is_hidden()
    assert rough_page.locator(".verdict-stale").first.is_visible()


def test_scripts_that_the_browser_refuses_for_their_type(
    rough_page: Page, host: server.Site
) -> None:
    """Plain text and "nosniff": no script runs, not even ours that would say so."""
    host.host.types = {".js": "text/plain"}
    rough_page.goto(address(host))
    assert "text/javascript" in rough_page.locator(".engine-asleep").first.inner_text()
    assert rough_page.locator("html[data-scripts]").count() == 0
    word = rough_page.locator("[data-slot=answer] .verdict-word").first
    assert word.is_visible() and rough_page.locator(".verdict-stale").first.is_hidden()
    box = live.number_box(rough_page)
    box.fill("3.6")
    box.blur()
    assert word.is_hidden(), "the built verdict is not for that value"
    assert rough_page.locator(".stale-failed").first.is_visible()


@pytest.mark.parametrize("name", ["wasm", "worker", "snapshot"])
def test_a_dropped_file_comes_by_itself_and_nothing_twice(
    rough_page: Page, host: server.Site, name: str
) -> None:
    """The line drops in the midst of a part, and for a while after."""
    below = host.host.prefix
    part = live.engine_parts(host.host.folder, name)[-1].relative_to(host.host.folder).as_posix()
    dropped = []
    is_down = name == "wasm"

    def drop(path: str) -> bool:
        if path == below + part and (is_down or len(dropped) < 3):
            dropped.append(path)
            return True
        return False

    host.host.drops = drop
    name == "worker" and without_plain_worker(host)
    rough_page.goto(address(host))
    if is_down:
        live.number_box(rough_page).fill("3.6")
        rough_page.locator(".verdict-stale .stale-cut").first.wait_for()
        assert rough_page.locator(".stale-waiting").first.is_hidden()
        is_down = False
    live.await_ready(rough_page)
    answers(rough_page)
    assert rough_page.locator(".stale-cut").first.is_hidden()
    assert len(dropped) >= 2
    asked = Counter(path for path in host.host.asked if "/assets/engine/" in path)
    without = "/assets/engine/library.", "/assets/engine/packages."
    if name != "snapshot":  # for which it doesn't wait as long as this takes
        assert not any(path.startswith(without) for path in asked)
    del asked[below + part]
    # With a worker in parts all begins once more: what was on its way then is asked for again.
    assert set(asked.values()) <= ({1, 2} if name == "worker" else {1})


def test_a_slow_line_starts_the_calculator_without_waiting_for_the_snapshot(
    rough_page: Page, host: server.Site
) -> None:
    """Of the snapshot nothing ever arrives: it does without. The page may never be loaded."""
    held = [path.name for path in live.engine_parts(host.host.folder, "snapshot")]
    host.host.stalls = lambda path: path.rsplit("/", 1)[1] in held
    asked: list[str] = []  # by the page: on the line they may overtake each other
    rough_page.on("request", lambda request: asked.append(urlsplit(request.url).path))
    rough_page.goto(address(host), wait_until="domcontentloaded")
    live.await_ready(rough_page)
    assert rough_page.locator("section.calc").first.get_attribute("data-engine-start") == "ordinary"
    answers(rough_page)
    engine = [path.rsplit("/", 1)[1] for path in asked if "/assets/engine/" in path]
    kinds = [name.split(".")[0] for name in engine if not name.startswith(("brinebook", "plain"))]
    order = ["guide", "wasm", "snapshot", "library", "packages"]
    first = sorted(set(kinds), key=kinds.index)
    assert first == order


@pytest.mark.parametrize("damage", ["flipped", "gone"])
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
    parts = live.engine_parts(host.host.folder, "snapshot")
    memory = unpacked(parts)
    edition = re.search(rb'edition:"([0-9a-f]{12})"', loader(host).read_bytes())
    assert edition
    assert edition[1] in memory
    pack(host, parts, memory.replace(edition[1], b"0123456789ab"))
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    assert rough_page.locator("section.calc").first.get_attribute("data-engine-start") == "ordinary"
    answers(rough_page)


def test_a_snapshot_of_another_engine_is_refused(rough_page: Page, host: server.Site) -> None:
    """Pyodide writes the hash of its build into the snapshot's head, from byte 16 on."""
    parts = live.engine_parts(host.host.folder, "snapshot")
    memory = unpacked(parts)
    pack(host, parts, memory[:16] + bytes(255 - byte for byte in memory[16:48]) + memory[48:])
    rough_page.goto(address(host))
    live.await_ready(rough_page)
    assert rough_page.locator("section.calc").first.get_attribute("data-engine-start") == "ordinary"
    answers(rough_page)


def loader(host: server.Site) -> Path:
    return live.engine_file(host.host.folder, "brinebook")


def unpacked(parts: list[Path]) -> bytes:
    """The binary that an engine file's parts carry."""
    return gzip.decompress(b"".join(map(live.carried, parts)))


def pack(host: server.Site, parts: list[Path], binary: bytes) -> None:
    """Put another binary into an engine file, under the same name and in as many parts as before."""
    packed = gzip.compress(binary, 9, mtime=0)
    sizes = [len(live.carried(part)) for part in parts]
    size = sizes[0]
    cut = [packed[size * n : size * (n + 1)] for n in range(len(parts))]
    cut[-1] = packed[size * (len(parts) - 1) :]
    script = loader(host)
    old, new = ",".join(map(str, sizes)), ",".join(str(len(one)) for one in cut)
    assert script.read_text().count(old) == 1
    script.write_text(script.read_text().replace(old, new))
    for part, piece in zip(parts, cut, strict=True):
        live.carry(part, piece)


def spoil(file: Path, damage: str) -> None:
    """Damage what an engine file carries, as a bad line or disc would."""
    data = live.carried(file)
    middle = len(data) // 2
    match damage:
        case "cut":
            live.carry(file, data[:middle])
        case "flipped":
            live.carry(file, data[:middle] + bytes([data[middle] ^ 0xFF]) + data[middle + 1 :])
        case "gone":
            file.unlink()
