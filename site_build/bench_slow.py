"""Measures the guide on a slow phone and over a slow line, and prints one table.

A slow phone is Chromium, all its processes, in a control group of Linux that has a quarter of one
core: what browsers have for this slows pages and not the workers in which calculators run. A slow
line is made in the server, whose files share it: a browser gives each page and worker its own.
"""

from __future__ import annotations

import os
import shlex
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser

from site_build import bench_table, browser_finder, build, server
from site_build.bench import page_of, remembered_boat
from site_build.bench_table import Row
from site_build.bench_visits import SETTLED, chromium, marks, newcomer, opened, typed, until
from site_build.bench_watch import LOOP, LOOP_IN_WORKER, RETRY_WATCH, ROUND_TRIPS, TURN
from site_build.steps import Trouble, say

PERIOD, QUOTA = 4000, 1000  # µs: how often the group may run, and for how long
RATE = 200e3  # bytes a second: 1.6 Mbit/s
SLOWER = PERIOD / QUOTA
WINDOW = (390, 844)
WAIT = 400_000  # ms for anything awaited in a page
KEYSTROKES = 10  # in each run
MOUNTS = Path("/proc/mounts")
NAME = "brinebook-bench-"  # of the group, the bench's process after it
GRACE = 3.0  # s until what is still in a group that is done with is ended
PATIENCE = 10.0  # s until such a group is left where it is
STARTS = 120.0  # s for a slowed program to tell its version

Visit = Mapping[str, Any]


def main(runs: int) -> int:
    """Build, measure, print. Returns the exit code."""
    if runs < 1:
        raise Trouble("--runs must be 1 or more.")
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0
    # A bench that is told to end leaves no group behind either.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    with tempfile.TemporaryDirectory(prefix=NAME) as name:
        site = Path(name) / "site"
        build.build_site(site, say)
        with server.serve(site) as near, server.serve(site) as far:
            far.host.line = server.Line(RATE)
            page, other = page_of(site, "power"), page_of(site, "wiring")
            say("The slow line:")
            with chromium() as browser:
                quick = _yardstick(browser)
                line = _runs(runs, lambda: _visit_over(far, page, browser))
            phone = _on_phone(runs, near, far, page, other)
    rows, notes = results(line, phone, quick)
    print(f"\n{bench_table.table(rows)}")
    print(
        f"\nMedians of {runs} runs, with the least and the most.{bench_table.busy(load)} "
        "What limits each:"
    )
    print("\n".join(f"- {note}" for note in notes))
    return 0


# --- A slow processor ------------------------------------------------------------------------


class NotHere(Exception):
    """Why no program can be slowed on this machine, in plain words."""


@dataclass(frozen=True)
class Slowed:
    """A program that runs on a quarter of one core."""

    launcher: Path  # starts it, with the arguments given
    group: Path

    def make_sure(self) -> None:
        """Once it has worked: raises NotHere where its group has never made it wait."""
        try:
            told = dict(map(str.split, (self.group / "cpu.stat").read_text().splitlines()))
        except OSError:
            told = {}
        if not int(told.get("nr_throttled", 0)):
            raise NotHere("its control group holds back nothing")


@contextmanager
def slowed(program: Path, mounts: Path = MOUNTS) -> Iterator[Slowed]:
    """The program on a quarter of one core, until the block ends.

    Whatever happens, its group is gone at the end, and all that still runs in it. Raises NotHere.
    """
    with tempfile.TemporaryDirectory(prefix=NAME) as folder, _group(mounts) as group:
        launcher = Path(folder) / "slow"
        launcher.write_text(_script(program, group), "utf-8")
        launcher.chmod(0o700)
        try:
            subprocess.run([launcher, "--version"], check=True, capture_output=True, timeout=STARTS)
        except (OSError, subprocess.SubprocessError) as error:
            raise NotHere("a program can't be started in its control group") from error
        yield Slowed(launcher, group)


def _script(program: Path, group: Path) -> str:
    """Enters the group, keeps to one core where taskset is there, and becomes the program."""
    words = [str(program)]
    if hasattr(os, "sched_getaffinity") and (taskset := shutil.which("taskset")):
        words = [taskset, "-c", str(max(os.sched_getaffinity(0))), *words]
    enter = f"echo $$ > {shlex.quote(str(group / 'cgroup.procs'))}"
    return f'#!/bin/sh\nset -e\n{enter}\nexec {shlex.join(words)} "$@"\n'


@contextmanager
def _group(mounts: Path) -> Iterator[Path]:
    """A control group that has a quarter of one core, until the block ends. Raises NotHere."""
    with ExitStack() as undo:
        try:
            parent, settings = _control(mounts)
            _sweep(parent)
            _give(parent, undo)
            group = parent / f"{NAME}{os.getpid()}"
            group.mkdir()
            undo.callback(_remove, group)
            for name, value in settings.items():
                (group / name).write_text(value)
        except OSError as error:
            why = "only root may" if isinstance(error, PermissionError) else error.strerror
            raise NotHere(f"no control group can be made ({why})") from error
        yield group


def _control(mounts: Path) -> tuple[Path, Mapping[str, str]]:
    """Where groups are made that hold back a processor, and what is written into one's files.

    Of both kinds that Linux has the older one is taken, where it has the processor.
    """
    told = (
        [line.split() for line in mounts.read_text("utf-8").splitlines()] if mounts.exists() else []
    )
    for _, folder, kind, options, *_ in told:
        if kind == "cgroup" and "cpu" in options.split(","):
            return Path(folder), {"cpu.cfs_period_us": str(PERIOD), "cpu.cfs_quota_us": str(QUOTA)}
    for _, folder, kind, *_ in told:
        if kind == "cgroup2" and "cpu" in (Path(folder) / "cgroup.controllers").read_text().split():
            return Path(folder), {"cpu.max": f"{QUOTA} {PERIOD}"}
    raise NotHere("it takes Linux's control groups for the processor, which aren't here")


def _sweep(parent: Path) -> None:
    """Remove the groups of benches that could not do it themselves; one that is in use stays."""
    for group in parent.glob(f"{NAME}*"):
        if not Path("/proc", group.name.removeprefix(NAME)).exists():
            with suppress(OSError):
                group.rmdir()


def _give(parent: Path, undo: ExitStack) -> None:
    """In the newer kind a folder has to hand the processor on to the groups below it."""
    control = parent / "cgroup.subtree_control"
    if control.exists() and "cpu" not in control.read_text().split():
        control.write_text("+cpu")
        undo.callback(control.write_text, "-cpu")


def _remove(group: Path) -> None:
    """Remove it when the last program has left; who stays is ended."""
    begun = time.monotonic()
    while (waited := time.monotonic() - begun) < PATIENCE:
        try:
            group.rmdir()
            return
        except FileNotFoundError:
            return
        except OSError:  # somebody is in it
            if waited > GRACE:
                _end_all(group)
            time.sleep(0.05)
    say(f"{group} could not be removed.")


def _end_all(group: Path) -> None:
    with suppress(OSError):
        for process in (group / "cgroup.procs").read_text().split():
            with suppress(ProcessLookupError):
                os.kill(int(process), signal.SIGKILL)


# --- Visits ----------------------------------------------------------------------------------


def _runs(runs: int, visit: Callable[[], Visit]) -> list[Visit]:
    found = []
    for number in range(runs):
        say(f"  run {number + 1} of {runs} …")
        found.append(visit())
    return found


def _on_phone(
    runs: int, near: server.Site, far: server.Site, page: str, other: str
) -> Mapping[str, Any] | str:
    """What the slowed browser found, or why there is none."""
    try:
        with slowed(browser_finder.chromium()) as phone, chromium(phone.launcher) as browser:
            say("The slow phone:")
            loop = _yardstick(browser)
            phone.make_sure()
            return {
                "loop": loop,
                "near": _runs(runs, lambda: _visit_phone(near.url, page, other, browser)),
                "far": _runs(runs, lambda: _visit_over(far, page, browser)),
            }
    except NotHere as reason:
        return str(reason)


def _visit_phone(site: str, page: str, other: str, browser: Browser) -> Visit:
    """A first visit and typing there; then, the boat described, a turn to another page."""
    with newcomer(browser, window=WINDOW, limit=WAIT) as reader:
        reader.add_init_script(ROUND_TRIPS)
        tab = opened(reader, site + page)
        first = marks(tab, "answer", "ready")
        time.sleep(SETTLED * SLOWER)
        before = tab.evaluate("brinebookTrips.length")
        painted = typed(tab, KEYSTROKES)
        trips = tab.evaluate("brinebookTrips")[before:]
    with newcomer(browser, window=WINDOW, limit=WAIT) as reader:
        reader.add_init_script(remembered_boat())
        tab = opened(reader, site + page)
        marks(tab, "ready")
        time.sleep(SETTLED * SLOWER)
        turn = tab.evaluate(TURN, site + other)
    strokes = [{**one, "engine": trip} for one, trip in zip(painted, trips, strict=False)]
    return {"first": first, "strokes": strokes, "turn": turn}


def _visit_over(far: server.Site, page: str, browser: Browser) -> Visit:
    """A first visit over the slow line."""
    line = far.host.line = server.Line(RATE)  # what an earlier visit has asked for is off it
    with newcomer(browser, window=WINDOW, limit=WAIT) as reader:
        reader.add_init_script(RETRY_WATCH)
        tab = opened(reader, far.url + page)
        found = until(tab, "answer", "ready")
        start = tab.locator("[data-engine-start]")
        return {
            "marks": found,
            "carried": line.carried,
            "retry": bool(tab.evaluate("brinebookRetry")),
            "start": start.first.get_attribute("data-engine-start") if "ready" in found else "none",
            "said": tab.locator("[data-engine-status]").first.inner_text(),
        }


def _yardstick(browser: Browser) -> tuple[float, float]:
    """The least time of a long loop [ms], in a page and in a worker."""
    with newcomer(browser, limit=WAIT) as reader:
        page = reader.new_page()
        in_page = min(page.evaluate(LOOP) for _ in range(3))
        in_worker = min(page.evaluate(LOOP_IN_WORKER, LOOP) for _ in range(3))
        return in_page, in_worker


# --- Results ---------------------------------------------------------------------------------


def results(
    line: Sequence[Visit], phone: Mapping[str, Any] | str, quick: tuple[float, float]
) -> tuple[list[Row], list[str]]:
    """The table's rows, and what each is made of. `quick`: the loop's times unslowed."""
    rows, notes = _line_rows("1.6 Mbit/s, first visit", line, 2500, 40_000)
    if isinstance(phone, str):
        return [*_phone_unmeasured(phone), *rows], notes
    first, turns = [one["first"] for one in phone["near"]], [one["turn"] for one in phone["near"]]
    strokes = [stroke for one in phone["near"] for stroke in one["strokes"]]
    painted, whole = ([stroke[part] for stroke in strokes] for part in ("painted", "whole"))
    both, told = _line_rows("Slow phone at 1.6 Mbit/s, first visit", phone["far"])
    return [
        bench_table.timed("Slow phone, answer on screen", [one["answer"] for one in first], 2000),
        bench_table.timed("Slow phone, engine ready", [one["ready"] for one in first], 15_000),
        bench_table.timed("Slow phone, keystroke to verdict painted", painted),
        bench_table.slowest("Slow phone, keystroke to verdict painted", painted, 300),
        bench_table.slowest("Slow phone, keystroke to whole answer painted", whole),
        bench_table.timed("Slow phone, page turn, shown", [one["shown"] for one in turns], 1500),
        bench_table.timed(
            "Slow phone, page turn, first answer for a boat", [one["answer"] for one in turns], 1500
        ),
        *rows,
        *both,
    ], [
        _loop_note(phone["loop"], quick),
        bench_table.engine_note([{"slow phone": one} for one in first], "slow phone"),
        bench_table.typing_note("slow phone", strokes),
        *notes,
        *told,
    ]


def _phone_unmeasured(why: str) -> list[Row]:
    return [
        Row(f"Slow phone, {what}", f"not measured: {why}")
        for what in ("answer on screen", "engine ready", "keystroke", "page turn")
    ]


def _line_rows(
    what: str, visits: Sequence[Visit], answer: float | None = None, ready: float | None = None
) -> tuple[list[Row], list[str]]:
    """Of a slow line: both moments, and how often the reader was told to try again."""
    rows = []
    for name, mark, aim in (
        ("answer on screen", "answer", answer),
        ("engine ready", "ready", ready),
    ):
        times = [one["marks"][mark] for one in visits if mark in one["marks"]]
        if len(times) == len(visits):
            rows.append(bench_table.timed(f"{what}, {name}", times, aim))
        else:
            came = f"came in {len(times)} of {len(visits)}"
            rows.append(Row(f"{what}, {name}", came, met="NO" if aim else ""))
    told = sum(one["retry"] for one in visits)
    met = "NO" if told else "yes"
    rows.append(Row(f"{what}, “Try again” said", f"{told} of {len(visits)}", aim="never", met=met))
    carried = statistics.median(one["carried"] for one in visits) / 1e6
    starts = ", ".join(sorted({one["start"] for one in visits}))
    note = f"{what}: {carried:.1f} MB had come by then; how the engine started: {starts}."
    said = sorted({one["said"] for one in visits if one["retry"]})
    return rows, [note, *(f"{what}, said: {words}" for words in said)]


def _loop_note(slow: tuple[float, float], quick: tuple[float, float]) -> str:
    """The yardstick by which two machines' figures are compared."""
    return (
        f"Slow phone: a loop of 60 million steps takes {slow[0]:.0f} ms in its page and "
        f"{slow[1]:.0f} ms in a worker, {quick[0]:.0f} and {quick[1]:.0f} ms in a browser that "
        "isn't slowed."
    )
