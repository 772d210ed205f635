"""What the bench measured as one table, and below it what limits each number."""

from __future__ import annotations

import json
import os
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from calc import browser, stock
from site_build import long_log

ANSWER_AIM = 30.0  # ms for a whole answer of the engine, 95 % of them
FIRST_AIM = 33.0  # ms from a keystroke to verdict, what to do and figures painted, 95 % of them
WHOLE_AIM = 66.0  # the same to the whole answer painted
READY_AIM = 0.4  # of the time that a bare Python takes in the browser
MB = 1e6
BUSY = 0.5  # of a core, for each there is

Marks = Mapping[str, float]


@dataclass(frozen=True)
class Built:
    """One build: its time [s], and the time of each step by what the builder said."""

    time: float
    steps: Mapping[str, float]


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


def results(
    builds: Sequence[tuple[Built, Built]], visits: Sequence[Mapping[str, Any]], site: Path
) -> tuple[list[Row], list[str]]:
    strokes = {
        name: [stroke for visit in visits for stroke in visit["strokes"][name]]
        for name in visits[0]["strokes"]
    }
    rows = [
        compared(
            visits, "Answer on screen", ("hosted", "answer"), ("plain", "answer"), "plain page", 1.3
        ),
        compared(
            visits,
            "Engine ready, first visit",
            ("hosted", "ready"),
            ("stock", "python"),
            "stock, nothing imported",
            READY_AIM,
        ),
        compared(
            visits,
            "Engine ready, second visit",
            ("hosted again", "ready"),
            ("stock again", "python"),
            "stock, nothing imported",
            READY_AIM,
        ),
        compared(
            visits,
            "Engine ready, first visit",
            ("hosted", "ready"),
            ("stock", "ready"),
            "stock, same packages",
        ),
        compared(
            visits,
            "Engine ready, second visit",
            ("hosted again", "ready"),
            ("stock again", "ready"),
            "stock, same packages",
        ),
        compared(
            visits,
            "Engine ready, file://, first",
            ("folder", "ready"),
            ("stock", "python"),
            "stock hosted, nothing imported",
            READY_AIM,
        ),
        compared(
            visits,
            "Engine ready, file://, second",
            ("folder again", "ready"),
            ("stock again", "python"),
            "stock hosted, nothing imported",
            READY_AIM,
        ),
        *_offline_rows(visits),
        *_turn_rows([visit["turn"] for visit in visits]),
        *_typing_rows(strokes),
        *_sheet_rows([visit["sheet"] for visit in visits]),
        *_log_rows([visit["log"] for visit in visits]),
        _card_row(),
        *_size_rows(site),
        *_memory_rows([visit["memory"] for visit in visits]),
        _time_row("Build from nothing", [first.time for first, _ in builds], 60),
        _time_row("Build again, nothing changed", [second.time for _, second in builds], 5),
    ]
    notes = [
        _answer_note(visits),
        *(engine_note(visits, name) for name in ("hosted", "hosted again", "folder")),
        *(typing_note(name, some) for name, some in strokes.items()),
        _size_note(site),
        _build_note("from nothing", [first for first, _ in builds]),
        _build_note("again", [second for _, second in builds]),
    ]
    return rows, notes


def compared(
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


def timed(what: str, times: Sequence[float], aim: float | None = None) -> Row:
    """Times [ms] against an aim."""
    middle = statistics.median(times)
    aimed = f"≤ {aim:.0f} ms" if aim else ""
    return Row(what, _ms(middle), _spread(times), aim=aimed, met=_met(middle, aim))


def slowest(what: str, times: Sequence[float], aim: float | None = None) -> Row:
    """The time [ms] that 95 % of them keep to, against an aim."""
    most = p95(times)
    aimed = f"≤ {aim:.0f} ms" if aim else ""
    return Row(f"{what}, 95 %", _ms(most), _spread(times), aim=aimed, met=_met(most, aim))


def _offline_rows(visits: Sequence[Mapping[str, Any]]) -> list[Row]:
    times = [visit["hosted"]["kept"] for visit in visits if "kept" in visit["hosted"]]
    if not times:
        return []
    return [Row("Ready for offline use", _ms(statistics.median(times)), _spread(times))]


def _typing_rows(strokes: Mapping[str, Sequence[Mapping[str, float]]]) -> list[Row]:
    return [
        slowest(what.format(name), [stroke[part] for stroke in some], aim)
        for what, part, aim in (
            ("Answer of the engine, {}", "engine", ANSWER_AIM),
            ("Keystroke to verdict and figures painted, {}", "painted", FIRST_AIM),
            ("Keystroke to whole answer painted, {}", "whole", WHOLE_AIM),
        )
        for name, some in strokes.items()
    ]


def _turn_rows(turns: Sequence[Mapping[str, float]]) -> list[Row]:
    """To another page, the engine living on."""
    return [
        timed("Page turn, shown", [turn["shown"] for turn in turns], 100),
        timed("Page turn, first answer for a boat", [turn["answer"] for turn in turns], 250),
    ]


def _sheet_rows(visits: Sequence[Marks]) -> list[Row]:
    """From the ready engine to what the boat sheet's page shows of a boat."""
    first, verdicts, sheet = (
        [visit[mark] - visit["ready"] for visit in visits]
        for mark in ("verdict", "verdicts", "sheet")
    )
    return [
        timed("First verdict for a boat, engine ready", first, 50),
        timed("All verdicts for a boat, engine ready", verdicts, 150),
        timed("Its sheet filled in too, engine ready", sheet),
    ]


def _log_rows(visits: Sequence[Mapping[str, Any]]) -> list[Row]:
    """An answer with ten years of log: when it is opened, and while one types."""
    opened = [visit["opened"] for visit in visits]
    again = [trip for visit in visits for trip in visit["again"]]
    what = f"Answer of the engine, {long_log.LINES} lines of log"
    return [timed(f"{what}, opened", opened, 100), timed(f"{what}, again", again, 100)]


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
    rows = [Row("Site", _mb(size))]
    for archive in sorted(site.rglob("*.zip")):
        zipped = archive.stat().st_size
        rows.append(Row(archive.name, _mb(zipped), aim="≤ 17 MB", met=_met(zipped, 17 * MB)))
        rows[0] = Row(
            "Site without its zip",
            _mb(size - zipped),
            aim="≤ 22 MB",
            met=_met(size - zipped, 22 * MB),
        )
    return rows


def _memory_rows(weighed: Sequence[Mapping[str, float] | None]) -> list[Row]:
    known = [one for one in weighed if one]
    if not known:
        return [Row("Memory that the engine adds", "not told by this machine")]
    against = f"same page without scripts {_mb(_median(known, 'without'))}"
    rows = []
    for what, name, aim in (
        ("Memory that the engine adds", "engine", 220 * MB),
        ("The same, the offline copy just made", "copy", None),
    ):
        added = [one[name] - one["without"] for one in known]
        middle = statistics.median(added)
        spread, aimed = (
            _spread([size / MB for size in added]),
            f"≤ {aim / MB:.0f} MB" if aim else "",
        )
        rows.append(Row(what, _mb(middle), spread, against, aim=aimed, met=_met(middle, aim)))
    return rows


def _median(some: Sequence[Mapping[str, float]], name: str) -> float:
    return statistics.median(one[name] for one in some)


def _time_row(what: str, times: Sequence[float], aim: float) -> Row:
    spread, middle = f"{min(times):.1f}–{max(times):.1f}", statistics.median(times)
    return Row(what, f"{middle:.1f} s", spread, aim=f"≤ {aim:.0f} s", met=_met(middle, aim))


def _answer_note(visits: Sequence[Mapping[str, Any]]) -> str:
    blocking: list[tuple[str, int]] = visits[-1]["blocking"]
    files = ", ".join(
        f"{Path(name).name} {size / 1000:.0f} kB"
        for name, size in sorted(blocking, key=lambda one: -one[1])
    )
    return f"Answer on screen: the first paint waits for {len(blocking)} files ({files})."


def engine_note(visits: Sequence[Mapping[str, Any]], name: str) -> str:
    begun, there, ready = (
        statistics.median([visit[name].get(stage, 0.0) for visit in visits])
        for stage in ("fetching", "starting", "ready")
    )
    return (
        f"Engine ready ({name}): {begun:.0f} ms until it is begun, {there - begun:.0f} ms for its "
        f"files, {ready - there:.0f} ms for unpacking and starting Python."
    )


def typing_note(name: str, strokes: Sequence[Mapping[str, float]]) -> str:
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


def busy(load: float, cores: int | None = None) -> str:
    """A warning where other work took half of the machine, or more, when the bench began."""
    cores = cores or os.cpu_count() or 1
    if load < BUSY * cores:
        return ""
    return f" This machine was busy (load {load:.1f}, {cores} cores): measure again."


def table(rows: Sequence[Row]) -> str:
    head = Row("What", "Median", "Spread", "Against", "Ratio", "Aim", "Met")
    cells = [list(vars(row).values()) for row in (head, *rows)]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in cells
    ]
    return "\n".join([lines[0], "-" * max(map(len, lines)), *lines[1:]])


def p95(values: Sequence[float]) -> float:
    return statistics.quantiles(values, n=20, method="inclusive")[-1]


def _met(value: float, aim: float | None) -> str:
    return "" if aim is None else "yes" if value <= aim else "NO"


def _ms(value: float) -> str:
    return f"{value:.1f} ms" if value < 100 else f"{value:.0f} ms"


def _mb(value: float) -> str:
    return f"{value / MB:.1f} MB"


def _spread(values: Sequence[float]) -> str:
    return f"{min(values):.0f}–{max(values):.0f}"
