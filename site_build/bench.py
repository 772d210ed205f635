"""Measures the built guide as a reader meets it, and prints one table.

Everything is measured in a real Chromium. The things that a ratio compares take turns within each
run and the ratio is taken within the run, so that a machine that is busy for a while slows both
sides; medians over the runs are shown. Below the table stands what each number is made of, measured
too.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Mapping
from datetime import date
from importlib.metadata import distribution
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page

from calc import stock
from site_build import bench_table, long_log, machine, server
from site_build.bench_table import Built, Marks
from site_build.bench_visits import SETTLED, chromium, marks, newcomer, opened, typed
from site_build.bench_watch import (
    BLOCKING,
    ROUND_TRIPS,
    STOCK_FILES,
    STOCK_PAGE,
    STOCK_WORKER,
    TURN,
)
from site_build.offline import SERVICE_WORKER
from site_build.steps import Trouble, say

SCREEN = (1280, 900)  # where somebody types

BUILD = """import sys
from pathlib import Path
from site_build import build, kit, steps
kit.CACHE = Path(sys.argv[1])
build.build_site(Path(sys.argv[2]), steps.say)
"""


def main(runs: int = 5) -> int:
    """Build, measure, print. Returns the exit code."""
    if runs < 1:
        raise Trouble("--runs must be 1 or more.")
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0
    with tempfile.TemporaryDirectory(prefix="brinebook-bench-") as name:
        workshop = Path(name)
        builds = [_build_twice(workshop, number, runs) for number in range(runs)]
        site, peers = workshop / "site", workshop / "peers"
        pages = {name: page_of(site, name) for name in stock.guide().names()}
        path = pages["power"]
        _make_peers(peers, site / path)
        with server.serve(site) as guide, server.serve(peers) as others, chromium() as browser:
            others.host.headers = {}  # the plain pages have their scripts in themselves
            offline = (site / SERVICE_WORKER).exists()
            sheet = guide.url + page_with(site, 'class="sheet"')
            typing = {name: guide.url + page for name, page in pages.items()}
            bench = _Bench(
                browser, typing["power"], sheet, site / path, others.url, typing, offline=offline
            )
            visits = [bench.run(number, runs) for number in range(runs)]
        rows, notes = bench_table.results(builds, visits, site)
    print()
    print(bench_table.table(rows))
    print(
        f"\nMedians of {runs} runs, with the least and the most.{bench_table.busy(load)} "
        "What limits each:"
    )
    print("\n".join(f"- {note}" for note in notes))
    return 0


# --- Builds ----------------------------------------------------------------------------------


def _build_twice(workshop: Path, number: int, runs: int) -> tuple[Built, Built]:
    """A build from nothing, and one more that finds everything done."""
    say(f"Run {number + 1} of {runs}: building from nothing, and again …")
    cache = workshop / f"cache-{number}"
    both = _build(cache, workshop / "site"), _build(cache, workshop / "site")
    shutil.rmtree(cache)
    return both


def _build(cache: Path, out: Path) -> Built:
    command = [sys.executable, "-c", BUILD, str(cache), str(out)]
    heard: list[tuple[float, str]] = []
    started = time.monotonic()
    with subprocess.Popen(
        command,
        cwd=machine.ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    ) as process:
        assert process.stdout is not None
        for line in process.stdout:
            heard.append((time.monotonic(), line.strip()))
    ended = time.monotonic()
    if process.returncode:
        raise Trouble("The build failed:\n" + "\n".join(line for _, line in heard[-20:]))
    times = [moment for moment, _ in heard] + [ended]
    steps: dict[str, float] = {}
    for (moment, line), until in zip(heard, times[1:], strict=True):
        step = line.partition(" …")[0]
        steps[step] = steps.get(step, 0.0) + until - moment
    return Built(ended - started, steps)


# --- What it is compared with ----------------------------------------------------------------


def page_of(site: Path, calculator: str) -> str:
    """The page that a calculator stands on, its own if there is one, as a path below the site."""
    mark = f'data-calculator="{calculator}"'
    own = site / f"{calculator}.html"
    return page_with(site, mark, own.name if own.exists() else "*.html")


def page_with(site: Path, mark: str, name: str = "*.html") -> str:
    for page in sorted(site.rglob(name)):
        if mark in page.read_text(encoding="utf-8"):
            return page.relative_to(site).as_posix()
    raise Trouble(f"No page {name} of the built site has {mark}: there is nothing to measure.")


def remembered_boat() -> str:
    """A script by which a browser remembers the first demo boat."""
    boat = next(iter(stock.guide().shelf("boat").values()))
    values = {f"brinebook:boat:1.{name}": json.dumps(text) for name, text in boat.texts.items()}
    return f"Object.entries({json.dumps(values)}).forEach((one) => localStorage.setItem(...one));"


def _make_peers(peers: Path, page: Path) -> None:
    """A folder with a plain page, and stock Pyodide with the packages that our engine has."""
    peers.mkdir()
    (peers / "plain.html").write_text(_plain(page.read_text(encoding="utf-8")), encoding="utf-8")
    (peers / "stock.html").write_text(STOCK_PAGE, encoding="utf-8")
    (peers / "worker.mjs").write_text(STOCK_WORKER, encoding="utf-8")
    for name in STOCK_FILES:
        shutil.copy(machine.NODE_MODULES / "pyodide" / name, peers)
    with zipfile.ZipFile(peers / "packages.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted((machine.ROOT / "calc").rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                archive.write(path, path.relative_to(machine.ROOT))
        for name in _browser_packages():
            _add_distribution(archive, name)


def _browser_packages() -> list[str]:
    """The names of the packages that the engine has beside calc."""
    lock = (machine.ROOT / "requirements" / "browser.txt").read_text(encoding="utf-8")
    names = re.findall(r"^([\w.-]+)==", lock, re.MULTILINE)
    return [name for name in names if name != "micropip"]  # which only the build needs


def _add_distribution(archive: zipfile.ZipFile, name: str) -> None:
    for file in distribution(name).files or []:
        if ".." not in file.parts and file.suffix != ".pyc":
            archive.write(str(file.locate()), file.as_posix())


def _plain(html: str) -> str:
    """The same markup without scripts, styles and links to them, brought to the same length."""
    kept = re.sub(r"<(script|style)\b.*?</\1>|<link\b[^>]*>", "", html, flags=re.DOTALL)
    # Without any style a drawing would fill the window and push the answer out of it.
    kept = kept.replace("</head>", "<style>svg{width:1em;height:1em}</style></head>", 1)
    missing = len(html.encode()) - len(kept.encode()) - len("<!---->")
    return kept.replace("</body>", f"<!--{'.' * max(0, missing)}--></body>", 1)


# --- Visits ----------------------------------------------------------------------------------


class _Bench:
    """Visits to the guide and to what it is compared with."""

    def __init__(
        self,
        browser: Browser,
        guide: str,
        sheet: str,
        file: Path,
        peers: str,
        typing: Mapping[str, str],
        *,
        offline: bool,
    ) -> None:
        """Addresses of a page of the guide, its boat sheet, the peers' folder; the page's file.

        `typing`: each calculator's page; `offline`: whether the guide puts itself aside for
        offline use.
        """
        self._browser = browser
        self._offline = offline
        self._guide = guide
        self._sheet = sheet
        self._typing = typing
        self._file = file.as_uri()
        self._plain = f"{peers}plain.html"
        self._stock = f"{peers}stock.html"

    def run(self, number: int, runs: int) -> dict[str, Any]:
        """One run: each visit once, in an order that changes from run to run."""
        say(f"Run {number + 1} of {runs}: visiting …")
        visits: list[Callable[[], dict[str, Any]]] = [
            self._visit_plain,
            self._visit_guide,
            self._visit_folder,
            self._visit_stock,
            self._visit_sheet,
            self._visit_next,
            self._visit_calculators,
            self._visit_log,
            self._weigh,
        ]
        turn = number % len(visits)
        found: dict[str, Any] = {}
        for visit in visits[turn:] + visits[:turn]:
            found |= visit()
        return found

    def _visit_plain(self) -> dict[str, Any]:
        with newcomer(self._browser) as reader:
            return {"plain": marks(opened(reader, self._plain), "answer")}

    def _visit_guide(self) -> dict[str, Any]:
        with newcomer(self._browser) as reader:
            page = opened(reader, self._guide)
            first = marks(page, "answer", "ready")
            blocking = page.evaluate(BLOCKING)
            kept = {"kept": _await_offline_copy(page)} if self._offline else {}
            page.close()
            return {
                "hosted": {**first, **kept},
                "hosted again": _later(reader, self._guide),
                "blocking": blocking,
            }

    def _visit_folder(self) -> dict[str, Any]:
        with newcomer(self._browser) as reader:
            first = marks(opened(reader, self._file), "ready")
            return {"folder": first, "folder again": _later(reader, self._file)}

    def _visit_stock(self) -> dict[str, Any]:
        with newcomer(self._browser) as reader:
            first = marks(opened(reader, self._stock), "ready")
            return {"stock": first, "stock again": _later(reader, self._stock)}

    def _visit_sheet(self) -> dict[str, Any]:
        """The boat sheet of a demo boat: from the ready engine to the first of its verdicts and to
        all of them in one list."""
        with newcomer(self._browser) as reader:
            reader.add_init_script(remembered_boat())
            named = "ready", "verdict", "verdicts", "sheet"
            return {"sheet": marks(opened(reader, self._sheet), *named)}

    def _visit_next(self) -> dict[str, Any]:
        """From one page to the next, the boat described: from the click until it is shown, and
        until its calculator answers for her [ms]."""
        with newcomer(self._browser) as reader:
            reader.add_init_script(remembered_boat())
            page = opened(reader, self._guide)
            page.set_viewport_size({"width": SCREEN[0], "height": SCREEN[1]})
            marks(page, "ready")
            time.sleep(SETTLED)
            return {"turn": page.evaluate(TURN, self._typing["wiring"])}

    def _visit_calculators(self) -> dict[str, Any]:
        """Typing on each calculator's page."""
        strokes = {}
        with newcomer(self._browser) as reader:
            reader.add_init_script(ROUND_TRIPS)
            for name, address in self._typing.items():
                page = opened(reader, address)
                page.set_viewport_size({"width": SCREEN[0], "height": SCREEN[1]})
                marks(page, "ready")
                time.sleep(SETTLED)
                before = page.evaluate("brinebookTrips.length")
                painted = typed(page)
                trips = page.evaluate("brinebookTrips")[before:]
                strokes[name] = [
                    {**stroke, "engine": trip} for stroke, trip in zip(painted, trips, strict=False)
                ]
                page.close()
        return {"strokes": strokes}

    def _visit_log(self) -> dict[str, Any]:
        """The plan of a boat with ten years of log: each request to the engine and back [ms]."""
        with newcomer(self._browser) as reader:
            reader.add_init_script(long_log.remembered(date.today()) + ROUND_TRIPS)
            page = opened(reader, self._typing["upkeep"])
            page.wait_for_function("() => brinebookTrips.length > 0")
            typed(page)  # an engine that is warm: its start has rows of its own
            trips = page.evaluate("brinebookTrips.slice(1)")
            at_first = page.evaluate(long_log.OPEN, long_log.text(date.today()) + "\n")
            return {"log": {"opened": at_first, "again": trips}}

    def _weigh(self) -> dict[str, Any]:
        """Memory [bytes] of the guide's page without scripts, with the engine ready, and with the
        copy for offline use just made beside it, by a worker that soon ends."""
        ways = (("without", False, False), ("engine", True, False), ("copy", True, True))
        found = {name: self._memory(java_script=run, keeps=copy) for name, run, copy in ways}
        return {"memory": found if all(found.values()) else None}

    def _memory(self, *, java_script: bool, keeps: bool) -> float | None:
        """What the browser's page processes have in RAM [bytes]; some of it is theirs always."""
        with newcomer(self._browser, java_script=java_script, keeps=keeps) as reader:
            page = opened(reader, self._guide)
            if java_script:
                marks(page, "ready")
            if keeps and self._offline:
                _await_offline_copy(page)
            time.sleep(SETTLED)
            session = self._browser.new_browser_cdp_session()
            processes = session.send("SystemInfo.getProcessInfo")["processInfo"]
            sizes = [_resident(one["id"]) for one in processes if one["type"] == "renderer"]
            return sum(size for size in sizes if size) or None


def _later(reader: BrowserContext, address: str) -> Marks:
    """A visit by somebody who was there before, once the browser has put away what it keeps."""
    time.sleep(SETTLED)
    return marks(opened(reader, address), "ready")


def _await_offline_copy(page: Page) -> float:
    """The moment when the whole site has been put aside [ms]."""
    page.wait_for_function(
        "async () => (await navigator.serviceWorker.getRegistration())?.active?.state"
        ' === "activated"',
        polling=100,
    )
    moment: float = page.evaluate("performance.now()")
    return moment


def _resident(process: int) -> float | None:
    """The memory of a process that is in RAM [bytes], where the machine tells."""
    status = Path(f"/proc/{process}/status")
    try:
        if status.exists():
            found = re.search(r"VmRSS:\s*(\d+) kB", status.read_text())
            return float(found[1]) * 1024 if found else None
        answer = subprocess.run(
            ["ps", "-o", "rss=", "-p", str(process)], capture_output=True, text=True, timeout=30
        )
        return float(answer.stdout) * 1024
    except (OSError, ValueError, subprocess.TimeoutExpired):
        return None


# --- Results ---------------------------------------------------------------------------------
