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
import statistics
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from importlib.metadata import distribution
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from playwright.sync_api import Error as BrowserError
from playwright.sync_api import TimeoutError as BrowserTimeout

from calc import browser, stock
from site_build import browser_finder, long_log, machine, server
from site_build.offline import SERVICE_WORKER
from site_build.steps import Trouble, say

CHROMIUM_OPTIONS = ("--no-sandbox", "--disable-gpu", "--disable-background-networking")
# A tall window: the answer is on screen without scrolling, on our page and on the plain one.
WINDOW = {"width": 1280, "height": 6000}
SCREEN = (1280, 900)  # where somebody types
LIMIT = 120_000  # ms for anything awaited in a page
KEYSTROKES = 40  # in each run
ANSWER_AIM = 30.0  # ms for a whole answer of the engine, 95 % of them
PAINTED_AIM = 16.0  # ms from a keystroke to the painted answer, 95 % of them
SETTLED = 2.0  # s given to a browser before its memory is read, somebody types or comes again
MB = 1e6

# Marks moments of a page's life in ms from the start of its navigation: the first paint of the
# answer, each stage of the engine, a boat's verdicts, and its sheet.
STOPWATCH = """
const marks = (self.brinebookMarks = {});
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) marks.answer ??= entry.renderTime;
}).observe({ type: "element", buffered: true });
const ofVerdicts = ({ target }) =>
  (target.closest ? target : target.parentElement)?.closest('[data-slot="dashboard"]');
new MutationObserver((changes) => {
  const sentences = marks.answer ? [] : document.querySelectorAll('[data-slot="answer"] p');
  for (const sentence of [...sentences].slice(0, 2)) {
    for (const part of [sentence, ...sentence.children]) {
      part.setAttribute("elementtiming", "answer");
    }
  }
  const stage = document.querySelector("[data-engine]")?.dataset.engine;
  if (stage) marks[stage] ??= performance.now();
  if (stage === "ready" && changes.some(ofVerdicts)) marks.verdicts ??= performance.now();
  if (document.querySelector('.sheet[data-answer="current"]')) marks.sheet ??= performance.now();
}).observe(document, {
  subtree: true, childList: true, characterData: true,
  attributes: true, attributeFilter: ["data-engine", "data-answer"],
});
"""

# Times each input event: until the answer in the page has changed, and until that is painted.
KEYSTROKE_WATCH = """
self.brinebookStrokes = [];
let from = null;
addEventListener("input", (event) => { from ??= event.timeStamp; }, true);
new MutationObserver(() => {
  if (from === null) return;
  const start = from;
  from = null;
  const changed = performance.now() - start;
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel(); // its message comes once the frame is painted
    port1.onmessage = () => {
      self.brinebookStrokes.push({ changed, painted: performance.now() - start });
    };
    port2.postMessage(null);
  });
}).observe(document.querySelector('[data-slot="answer"]'), {
  subtree: true, childList: true, characterData: true,
});
"""

# Times each request that goes to the engine until its response, in ms.
ROUND_TRIPS = """
self.brinebookTrips = [];
const Native = self.Worker;
self.Worker = class extends Native {
  #sent = new Map();
  constructor(...given) {
    super(...given);
    this.addEventListener("message", ({ data }) => {
      if (data.answer) self.brinebookTrips.push(performance.now() - this.#sent.get(data.answer));
    });
  }
  postMessage(message, ...more) {
    if (message.ask) this.#sent.set(message.ask, performance.now());
    super.postMessage(message, ...more);
  }
};
"""

# What holds up the first paint, as the browser itself says.
BLOCKING = """() => performance.getEntriesByType("resource")
  .filter((entry) => entry.renderBlockingStatus === "blocking")
  .map((entry) => [new URL(entry.name).pathname, entry.decodedBodySize])"""

# The ordinary way to run the same packages: Pyodide as it comes, in a module worker.
STOCK_PAGE = """<!doctype html><html data-engine="loading"><meta charset="utf-8">
<title>Stock</title>
<script type="module">
  const worker = new Worker("worker.mjs", { type: "module" });
  worker.onmessage = ({ data }) => { document.documentElement.dataset.engine = data; };
</script></html>
"""
STOCK_WORKER = """import { loadPyodide } from "./pyodide.mjs";
const python = await loadPyodide({ indexURL: new URL(".", import.meta.url).href });
postMessage("python");
const packages = await (await fetch("packages.zip")).arrayBuffer();
const target = python.runPython("import sysconfig; sysconfig.get_path('purelib')");
python.unpackArchive(packages, "zip", { extractDir: target });
python.runPython("import importlib; importlib.invalidate_caches(); import calc.frame.service");
postMessage("ready");
"""
STOCK_FILES = (
    "pyodide.mjs",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)

BUILD = """import sys
from pathlib import Path
from site_build import build, steps
build.CACHE = Path(sys.argv[1])
build.build_site(Path(sys.argv[2]), steps.say)
"""

Marks = Mapping[str, float]


def main(runs: int = 5) -> int:
    """Build, measure, print. Returns the exit code."""
    if runs < 1:
        raise Trouble("--runs must be 1 or more.")
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0
    with tempfile.TemporaryDirectory(prefix="brinebook-bench-") as name:
        workshop = Path(name)
        builds = [_build_twice(workshop, number, runs) for number in range(runs)]
        site, peers = workshop / "site", workshop / "peers"
        pages = {name: _page_of(site, name) for name in stock.guide().names()}
        path = pages["power"]
        _make_peers(peers, site / path)
        with server.serve(site) as guide, server.serve(peers) as others, _chromium() as browser:
            offline = (site / SERVICE_WORKER).exists()
            sheet = guide.url + _page_with(site, 'class="sheet"')
            typing = {name: guide.url + page for name, page in pages.items()}
            bench = _Bench(
                browser, typing["power"], sheet, site / path, others.url, typing, offline=offline
            )
            visits = [bench.run(number, runs) for number in range(runs)]
        rows, notes = _results(builds, visits, site)
    print()
    print(_table(rows))
    print(f"\nMedians of {runs} runs, with the least and the most.{_busy(load)} What limits each:")
    print("\n".join(f"- {note}" for note in notes))
    return 0


# --- Builds ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Built:
    """One build: its time [s], and the time of each step by what the builder said."""

    time: float
    steps: Mapping[str, float]


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


def _page_of(site: Path, calculator: str) -> str:
    """The page that a calculator stands on, its own if there is one, as a path below the site."""
    mark = f'data-calculator="{calculator}"'
    own = site / f"{calculator}.html"
    return _page_with(site, mark, own.name if own.exists() else "*.html")


def _page_with(site: Path, mark: str, name: str = "*.html") -> str:
    for page in sorted(site.rglob(name)):
        if mark in page.read_text(encoding="utf-8"):
            return page.relative_to(site).as_posix()
    raise Trouble(f"No page {name} of the built site has {mark}: there is nothing to measure.")


def _remembered_boat() -> str:
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


@contextmanager
def _chromium() -> Iterator[Browser]:
    os.environ.update(browser_finder.playwright_env())
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=browser_finder.chromium(), args=CHROMIUM_OPTIONS
        )
        try:
            yield browser
        except BrowserError as error:
            raise Trouble(f"The browser does not go on: {error.message}") from error
        finally:
            browser.close()


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
        with self._newcomer() as reader:
            return {"plain": _marks(_open(reader, self._plain), "answer")}

    def _visit_guide(self) -> dict[str, Any]:
        with self._newcomer() as reader:
            page = _open(reader, self._guide)
            first = _marks(page, "answer", "ready")
            blocking = page.evaluate(BLOCKING)
            kept = {"kept": _await_offline_copy(page)} if self._offline else {}
            page.close()
            return {
                "hosted": {**first, **kept},
                "hosted again": _later(reader, self._guide),
                "blocking": blocking,
            }

    def _visit_folder(self) -> dict[str, Any]:
        with self._newcomer() as reader:
            first = _marks(_open(reader, self._file), "ready")
            return {"folder": first, "folder again": _later(reader, self._file)}

    def _visit_stock(self) -> dict[str, Any]:
        with self._newcomer() as reader:
            first = _marks(_open(reader, self._stock), "ready")
            return {"stock": first, "stock again": _later(reader, self._stock)}

    def _visit_sheet(self) -> dict[str, Any]:
        """The boat sheet of a demo boat: from the ready engine to all its verdicts in one list."""
        with self._newcomer() as reader:
            reader.add_init_script(_remembered_boat())
            return {"sheet": _marks(_open(reader, self._sheet), "ready", "verdicts", "sheet")}

    def _visit_calculators(self) -> dict[str, Any]:
        """Typing on each calculator's page."""
        strokes = {}
        with self._newcomer() as reader:
            reader.add_init_script(ROUND_TRIPS)
            for name, address in self._typing.items():
                page = _open(reader, address)
                page.set_viewport_size({"width": SCREEN[0], "height": SCREEN[1]})
                _marks(page, "ready")
                time.sleep(SETTLED)
                before = page.evaluate("brinebookTrips.length")
                painted = _type(page)
                trips = page.evaluate("brinebookTrips")[before:]
                strokes[name] = [
                    {**stroke, "engine": trip} for stroke, trip in zip(painted, trips, strict=False)
                ]
                page.close()
        return {"strokes": strokes}

    def _visit_log(self) -> dict[str, Any]:
        """The plan of a boat with ten years of log: each request to the engine and back [ms]."""
        with self._newcomer() as reader:
            reader.add_init_script(long_log.remembered(date.today()) + ROUND_TRIPS)
            page = _open(reader, self._typing["upkeep"])
            page.wait_for_function("brinebookTrips.length > 0")
            _type(page)  # an engine that is warm: its start has rows of its own
            typed = page.evaluate("brinebookTrips.slice(1)")
            opened = page.evaluate(long_log.OPEN, long_log.text(date.today()) + "\n")
            return {"log": {"opened": opened, "again": typed}}

    def _weigh(self) -> dict[str, Any]:
        """Memory [bytes] of the guide's page without scripts, and with the engine ready."""
        without, with_engine = (self._memory(java_script=on) for on in (False, True))
        return {"memory": (without, with_engine) if without and with_engine else None}

    @contextmanager
    def _newcomer(self, *, java_script: bool = True) -> Iterator[BrowserContext]:
        """A reader who has never been here: nothing cached, nothing stored."""
        context = self._browser.new_context(
            viewport={"width": WINDOW["width"], "height": WINDOW["height"]},
            java_script_enabled=java_script,
        )
        context.set_default_timeout(LIMIT)
        try:
            yield context
        finally:
            context.close()

    def _memory(self, *, java_script: bool) -> float | None:
        """What the browser's page processes have in RAM [bytes]; some of it is theirs always."""
        with self._newcomer(java_script=java_script) as reader:
            page = _open(reader, self._guide)
            if java_script:
                _marks(page, "ready")
            time.sleep(SETTLED)
            session = self._browser.new_browser_cdp_session()
            processes = session.send("SystemInfo.getProcessInfo")["processInfo"]
            sizes = [_resident(one["id"]) for one in processes if one["type"] == "renderer"]
            return sum(size for size in sizes if size) or None


def _open(reader: BrowserContext, address: str) -> Page:
    page = reader.new_page()
    page.add_init_script(STOPWATCH)
    page.goto(address, wait_until="commit")
    return page


def _marks(page: Page, *awaited: str) -> Marks:
    """The page's marks once the awaited ones are there."""
    try:
        page.wait_for_function(
            "(awaited) => [['failed'], awaited].some("
            "(names) => names.every((name) => name in brinebookMarks))",
            arg=awaited,
            polling=100,
        )
    except BrowserTimeout as error:
        seen = page.evaluate("Object.keys(brinebookMarks)")
        raise Trouble(f"{page.url} has come to {seen} and not to {list(awaited)}") from error
    marks: Marks = page.evaluate("brinebookMarks")
    if "failed" in marks:
        told = " ".join(page.locator("[data-engine-status]").all_inner_texts())
        raise Trouble(f"The engine failed at {page.url}: {told}")
    return marks


def _later(reader: BrowserContext, address: str) -> Marks:
    """A visit by somebody who was there before, once the browser has put away what it keeps."""
    time.sleep(SETTLED)
    return _marks(_open(reader, address), "ready")


def _await_offline_copy(page: Page) -> float:
    """The moment when the whole site has been put aside [ms]."""
    page.wait_for_function(
        "async () => (await navigator.serviceWorker.getRegistration())?.active?.state"
        ' === "activated"',
        polling=100,
    )
    moment: float = page.evaluate("performance.now()")
    return moment


def _type(page: Page) -> list[dict[str, float]]:
    """Type a digit and take it away, many times, each time waiting for the answer [ms]."""
    page.evaluate(KEYSTROKE_WATCH)
    boxes = '[data-calculator] input[inputmode="decimal"]:not([data-log-cell]):visible'
    if not page.locator(boxes).count():  # all its numbers are folded away
        page.evaluate(
            "document.querySelectorAll('[data-calculator] form details').forEach("
            "(one) => { one.open = true; })"
        )
    page.locator(boxes).first.focus()
    page.keyboard.press("End")
    for number in range(KEYSTROKES):
        page.keyboard.press("Backspace" if number % 2 else "1")
        page.wait_for_function(f"brinebookStrokes.length > {number}", polling=20)
    strokes: list[dict[str, float]] = page.evaluate("brinebookStrokes")
    return strokes


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


@dataclass(frozen=True)
class Row:
    """A line of the table, in words."""

    what: str
    value: str
    spread: str = ""
    against: str = ""
    ratio: str = ""
    aim: str = ""
    met: str = ""


def _results(
    builds: Sequence[tuple[Built, Built]], visits: Sequence[Mapping[str, Any]], site: Path
) -> tuple[list[Row], list[str]]:
    strokes = {
        name: [stroke for visit in visits for stroke in visit["strokes"][name]]
        for name in visits[0]["strokes"]
    }
    rows = [
        _compared(
            visits, "Answer on screen", ("hosted", "answer"), ("plain", "answer"), "plain page", 1.3
        ),
        _compared(
            visits,
            "Engine ready, first visit",
            ("hosted", "ready"),
            ("stock", "python"),
            "stock, nothing imported",
            0.35,
        ),
        _compared(
            visits,
            "Engine ready, second visit",
            ("hosted again", "ready"),
            ("stock again", "python"),
            "stock, nothing imported",
            0.35,
        ),
        _compared(
            visits,
            "Engine ready, first visit",
            ("hosted", "ready"),
            ("stock", "ready"),
            "stock, same packages",
        ),
        _compared(
            visits,
            "Engine ready, second visit",
            ("hosted again", "ready"),
            ("stock again", "ready"),
            "stock, same packages",
        ),
        _compared(
            visits,
            "Engine ready, file://, first",
            ("folder", "ready"),
            ("stock", "python"),
            "stock hosted, nothing imported",
            0.35,
        ),
        _compared(
            visits,
            "Engine ready, file://, second",
            ("folder again", "ready"),
            ("stock again", "python"),
            "stock hosted, nothing imported",
            0.35,
        ),
        *_offline_rows(visits),
        *_typing_rows(strokes),
        *_sheet_rows([visit["sheet"] for visit in visits]),
        *_log_rows([visit["log"] for visit in visits]),
        _card_row(),
        *_size_rows(site),
        _memory_row([visit["memory"] for visit in visits]),
        _time_row("Build from nothing", [first.time for first, _ in builds]),
        _time_row("Build again, nothing changed", [second.time for _, second in builds]),
    ]
    notes = [
        _answer_note(visits),
        *(_engine_note(visits, name) for name in ("hosted", "hosted again", "folder")),
        *(_typing_note(name, some) for name, some in strokes.items()),
        _size_note(site),
        _build_note("from nothing", [first for first, _ in builds]),
        _build_note("again", [second for _, second in builds]),
    ]
    return rows, notes


def _compared(
    visits: Sequence[Mapping[str, Any]],
    what: str,
    ours: tuple[str, str],
    theirs: tuple[str, str],
    peer: str,
    aim: float | None = None,
) -> Row:
    """Two marks of the same runs, the ratio taken run by run."""
    our_times = [visit[ours[0]][ours[1]] for visit in visits]
    their_times = [visit[theirs[0]][theirs[1]] for visit in visits]
    ratio = statistics.median(a / b for a, b in zip(our_times, their_times, strict=True))
    return Row(
        what,
        _ms(statistics.median(our_times)),
        _spread(our_times),
        f"{peer} {_ms(statistics.median(their_times))}",
        f"{ratio:.2f}",
        f"≤ {aim}" if aim else "",
        _met(ratio, aim),
    )


def _offline_rows(visits: Sequence[Mapping[str, Any]]) -> list[Row]:
    times = [visit["hosted"]["kept"] for visit in visits if "kept" in visit["hosted"]]
    if not times:
        return []
    return [Row("Ready for offline use", _ms(statistics.median(times)), _spread(times))]


def _typing_rows(strokes: Mapping[str, Sequence[Mapping[str, float]]]) -> list[Row]:
    rows = []
    for what, part, aim in (
        ("Answer of the engine, {}, 95 %", "engine", ANSWER_AIM),
        ("Keystroke to answer painted, {}, 95 %", "painted", PAINTED_AIM),
    ):
        for name, some in strokes.items():
            times = [stroke[part] for stroke in some]
            aimed, met = f"≤ {aim:.0f} ms", _met(_p95(times), aim)
            rows.append(
                Row(what.format(name), _ms(_p95(times)), _spread(times), aim=aimed, met=met)
            )
    return rows


def _sheet_rows(visits: Sequence[Marks]) -> list[Row]:
    """From the ready engine to what the boat sheet's page shows of a boat."""
    rows = []
    for what, mark, aim in (
        ("All verdicts for a boat", "verdicts", 150.0),
        ("Its sheet filled in too", "sheet", None),
    ):
        times = [visit[mark] - visit["ready"] for visit in visits]
        middle = statistics.median(times)
        aimed = f"≤ {aim:.0f} ms" if aim else ""
        met = _met(middle, aim)
        rows.append(Row(f"{what}, engine ready", _ms(middle), _spread(times), aim=aimed, met=met))
    return rows


def _log_rows(visits: Sequence[Mapping[str, Any]]) -> list[Row]:
    """An answer with ten years of log: when it is opened, and while one types."""
    opened = [visit["opened"] for visit in visits]
    again = [trip for visit in visits for trip in visit["again"]]
    what = f"Answer of the engine, {long_log.LINES} lines of log"
    return [
        Row(
            f"{what}, {when}",
            _ms(statistics.median(times)),
            _spread(times),
            aim="≤ 100 ms",
            met=_met(statistics.median(times), 100),
        )
        for when, times in (("opened", opened), ("again", again))
    ]


def _card_row() -> Row:
    """The largest of all cards for the demo boats, as a file."""
    about = {
        "do": "card",
        "day": "2026-05-31",
        "edition": "31 May 2026",
        "address": "https://a.example/",
    }
    sizes = []
    for name in stock.guide().names():
        for boat in stock.guide().shelf("boat"):
            request = {**about, "calculator": name, "example": {"boat": boat}, "boat": boat}
            sizes.append(len(json.loads(browser.handle(json.dumps(request)))["html"].encode()))
    largest = max(sizes)
    met = _met(largest, 250e3)
    return Row("Largest card", f"{largest / 1e3:.0f} kB", aim="≤ 250 kB", met=met)


def _size_rows(site: Path) -> list[Row]:
    size = sum(path.stat().st_size for path in site.rglob("*") if path.is_file())
    rows = [Row("Site", _mb(size), aim="≤ 20 MB", met=_met(size, 20 * MB))]
    for archive in sorted(site.rglob("*.zip")):
        zipped = archive.stat().st_size
        rows.append(Row(archive.name, _mb(zipped), aim="≤ 20 MB", met=_met(zipped, 20 * MB)))
        rows[0] = Row(
            "Site without its zip",
            _mb(size - zipped),
            aim="≤ 20 MB",
            met=_met(size - zipped, 20 * MB),
        )
    return rows


def _memory_row(weighed: Sequence[tuple[float, float] | None]) -> Row:
    known = [both for both in weighed if both]
    if not known:
        return Row("Memory that the engine adds", "not told by this machine")
    added = [with_engine - without for without, with_engine in known]
    without = statistics.median(both[0] for both in known)
    return Row(
        "Memory that the engine adds",
        _mb(statistics.median(added)),
        _spread([size / MB for size in added]),
        f"same page without scripts {_mb(without)}",
    )


def _time_row(what: str, times: Sequence[float]) -> Row:
    spread = f"{min(times):.1f}–{max(times):.1f}"
    return Row(what, f"{statistics.median(times):.1f} s", spread)


def _answer_note(visits: Sequence[Mapping[str, Any]]) -> str:
    blocking: list[tuple[str, int]] = visits[-1]["blocking"]
    files = ", ".join(
        f"{Path(name).name} {size / 1000:.0f} kB"
        for name, size in sorted(blocking, key=lambda one: -one[1])
    )
    return f"Answer on screen: the first paint waits for {len(blocking)} files ({files})."


def _engine_note(visits: Sequence[Mapping[str, Any]], name: str) -> str:
    begun, there, ready = (
        statistics.median([visit[name].get(stage, 0.0) for visit in visits])
        for stage in ("fetching", "starting", "ready")
    )
    return (
        f"Engine ready ({name}): {begun:.0f} ms until it is begun, {there - begun:.0f} ms for its "
        f"files, {ready - there:.0f} ms for unpacking and starting Python."
    )


def _typing_note(name: str, strokes: Sequence[Mapping[str, float]]) -> str:
    engine, page, painting = (
        statistics.median(stroke[until] - stroke.get(begun, 0.0) for stroke in strokes)
        for begun, until in (("", "engine"), ("engine", "changed"), ("changed", "painted"))
    )
    return (
        f"Keystroke, {name}: {engine:.1f} ms for Python, {page:.1f} ms for the page, then "
        f"{painting:.1f} ms for the next frame and its painting (medians; a frame lasts 16.7 ms)."
    )


def _size_note(site: Path) -> str:
    files = sorted((p for p in site.rglob("*") if p.is_file()), key=lambda p: -p.stat().st_size)
    largest = ", ".join(
        f"{p.relative_to(site).as_posix()} {_mb(p.stat().st_size)}" for p in files[:5]
    )
    return f"Site: the largest of its {len(files)} files are {largest}."


def _build_note(what: str, builds: Sequence[Built]) -> str:
    steps = sorted(builds[-1].steps.items(), key=lambda step: -step[1])
    longest = ", ".join(f"{name} {seconds:.1f} s" for name, seconds in steps[:4])
    return f"Build {what}: {longest}."


def _busy(load: float) -> str:
    """A warning where other work ran when the bench began."""
    return f" This machine was busy (load {load:.1f}): measure again." if load > 0.5 else ""


def _table(rows: Sequence[Row]) -> str:
    head = Row("What", "Median", "Spread", "Against", "Ratio", "Aim", "Met")
    cells = [list(vars(row).values()) for row in (head, *rows)]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in cells
    ]
    return "\n".join([lines[0], "-" * max(map(len, lines)), *lines[1:]])


def _p95(values: Sequence[float]) -> float:
    return statistics.quantiles(values, n=20, method="inclusive")[-1]


def _met(value: float, aim: float | None) -> str:
    return "" if aim is None else "yes" if value <= aim else "NO"


def _ms(value: float) -> str:
    return f"{value:.1f} ms" if value < 100 else f"{value:.0f} ms"


def _mb(value: float) -> str:
    return f"{value / MB:.1f} MB"


def _spread(values: Sequence[float]) -> str:
    return f"{min(values):.0f}–{max(values):.0f}"
