"""The slow phone and the slow line of the bench, without a browser and without a control group.

A folder stands for the machine's control groups; its removal is refused as Linux refuses it, while
a process that is written down in it lives.
"""

from __future__ import annotations

import errno
import gzip
import json
import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from site_build import bench_slow, server
from site_build.bench_slow import NotHere

needs_sh = pytest.mark.skipif(os.name == "nt", reason="a launcher of a shell")
OLDER = "proc /proc proc rw 0 0\ncgroup {}/cpu cgroup rw,nosuid,cpuacct,cpu 0 0\n"
NEWER = "cgroup2 {}/all cgroup2 rw,nosuid 0 0\n"
SETTINGS = {
    "cpu": {"cpu.cfs_period_us": "4000", "cpu.cfs_quota_us": "1000"},
    "all": {"cpu.max": "1000 4000"},
}
TELLS = f"""#!{sys.executable}
import json, os, sys
cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 0
print(json.dumps([os.getpid(), sys.argv[1:], cores]))
"""


def lives(process: str) -> bool:
    try:
        os.kill(int(process), 0)
    except ProcessLookupError:
        return False
    return True


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Both kinds of control groups, and a program that tells who it is."""
    for name in ("cpu", "all"):
        (tmp_path / name).mkdir()
    (tmp_path / "all" / "cgroup.controllers").write_text("cpuset cpu io\n")
    (tmp_path / "all" / "cgroup.subtree_control").write_text("io\n")
    tells = tmp_path / "tells it"
    tells.write_text(TELLS)
    tells.chmod(0o700)

    def remove(folder: Path) -> None:
        if not folder.exists():
            raise FileNotFoundError
        inside = folder / "cgroup.procs"
        if inside.exists() and any(map(lives, inside.read_text().split())):
            raise OSError(errno.EBUSY, "busy")
        shutil.rmtree(folder)

    monkeypatch.setattr(Path, "rmdir", remove)
    return tmp_path


def mounts(machine: Path, *lines: str) -> Path:
    told = machine / "mounts"
    told.write_text("".join(lines).format(machine, machine))
    return told


@needs_sh
@pytest.mark.parametrize(
    ("lines", "kind"), [([OLDER], "cpu"), ([NEWER], "all"), ([NEWER, OLDER], "cpu")]
)
def test_a_program_is_started_in_a_group_that_is_gone_afterwards(
    machine: Path, lines: list[str], kind: str
) -> None:
    parent = machine / kind
    before = sorted(path.name for path in parent.iterdir())
    with bench_slow.slowed(machine / "tells it", mounts(machine, *lines)) as slow:
        launcher = slow.launcher
        (group,) = parent.glob(f"{bench_slow.NAME}*")
        for name, value in SETTINGS[kind].items():
            assert (group / name).read_text() == value
        if kind == "all":
            assert (parent / "cgroup.subtree_control").read_text() == "+cpu"
        told = subprocess.check_output([launcher, "--two words", "$x"], timeout=20)
        process, words, cores = json.loads(told)
        assert (group / "cgroup.procs").read_text() == f"{process}\n"
        assert words == ["--two words", "$x"]
        if shutil.which("taskset"):
            assert cores == 1
    assert sorted(path.name for path in parent.iterdir()) == before
    assert not launcher.exists()
    if kind == "all":
        assert (parent / "cgroup.subtree_control").read_text() == "-cpu"


@needs_sh
def test_a_fault_leaves_no_group_and_nobody_in_it(
    machine: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bench_slow, "GRACE", 0.1)
    slow = bench_slow.slowed(machine / "tells it", mounts(machine, OLDER))
    with subprocess.Popen([sys.executable, "-c", "import time; time.sleep(60)"]) as stays:
        real = os.kill

        def kill(process: int, sign: int) -> None:
            real(process, sign)
            if sign:  # whom nobody waits for is still there, by his number
                stays.wait(20)

        monkeypatch.setattr(os, "kill", kill)
        try:
            with pytest.raises(ZeroDivisionError), slow:
                (group,) = (machine / "cpu").iterdir()
                (group / "cgroup.procs").write_text(f"{stays.pid}\n")
                raise ZeroDivisionError
            assert stays.returncode == -signal.SIGKILL
        finally:
            stays.kill()
    assert not list((machine / "cpu").iterdir())


@pytest.mark.parametrize("told", [None, "", "nr_periods 50\nnr_throttled 0\n"])
def test_a_group_that_lets_its_program_run_on_is_no_slow_phone(
    tmp_path: Path, told: str | None
) -> None:
    slow = bench_slow.Slowed(tmp_path, tmp_path)
    if told is not None:
        (tmp_path / "cpu.stat").write_text(told)
    with pytest.raises(NotHere):
        slow.make_sure()
    (tmp_path / "cpu.stat").write_text("nr_periods 50\nnr_throttled 1\n")
    slow.make_sure()


def test_groups_of_benches_that_were_killed_are_swept(machine: Path) -> None:
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait(20)
    for number in (gone.pid, os.getpid()):
        (machine / "cpu" / f"{bench_slow.NAME}{number}").mkdir()
    bench_slow._sweep(machine / "cpu")
    names = [path.name for path in (machine / "cpu").iterdir()]
    assert names == [f"{bench_slow.NAME}{os.getpid()}"]


def no_control(machine: Path) -> Path:
    return mounts(machine, OLDER.replace("cpuacct,cpu", "memory"))


def nowhere(machine: Path) -> Path:
    return machine / "no such file"


def not_handed_on(machine: Path) -> Path:
    (machine / "all" / "cgroup.controllers").write_text("io\n")
    return mounts(machine, NEWER)


def no_folder(machine: Path) -> Path:
    shutil.rmtree(machine / "cpu")
    return mounts(machine, OLDER)


def no_program(machine: Path) -> Path:
    (machine / "tells it").unlink()
    return mounts(machine, OLDER)


@needs_sh
@pytest.mark.parametrize("lacks", [no_control, nowhere, not_handed_on, no_folder, no_program])
def test_where_nothing_can_be_slowed_that_is_told_and_nothing_stays(
    machine: Path, lacks: Callable[[Path], Path]
) -> None:
    told = lacks(machine)
    with pytest.raises(NotHere), bench_slow.slowed(machine / "tells it", told):
        pass
    assert not list(machine.glob(f"*/{bench_slow.NAME}*"))


# --- A slow line -----------------------------------------------------------------------------


def test_all_that_travels_on_a_slow_line_shares_it(tmp_path: Path) -> None:
    """Two files at a time take as long as both together; texts travel packed, and their size."""
    rate, size = 400e3, 60_000
    for name in ("one.wasm", "two.wasm"):
        (tmp_path / name).write_bytes(os.urandom(size))
    (tmp_path / "text.html").write_text("words " * size)

    def fetch(name: str) -> bytes:
        request = urllib.request.Request(site.url + name, headers={"Accept-Encoding": "gzip"})
        with urllib.request.urlopen(request, timeout=20) as reply:
            assert reply.headers["Content-Encoding"] == ("gzip" if "html" in name else None)
            came: bytes = reply.read()
            assert int(reply.headers["Content-Length"]) == len(came)
        return came

    with server.serve(tmp_path) as site, ThreadPoolExecutor() as both:
        site.host.line = line = server.Line(rate)
        begun = time.monotonic()
        came = list(both.map(fetch, ("one.wasm", "two.wasm")))
        assert time.monotonic() - begun >= 2 * size / rate - server.LATE
        assert came == [(tmp_path / name).read_bytes() for name in ("one.wasm", "two.wasm")]
        text = fetch("text.html")
        assert gzip.decompress(text) == (tmp_path / "text.html").read_bytes()
        assert line.carried == 2 * size + len(text)


# --- Results ---------------------------------------------------------------------------------

OVER = {"carried": 5e6, "start": "snapshot", "retry": False, "said": "fine"}
LINE = [{**OVER, "marks": {"answer": 2000.0 + n, "ready": 30_000.0 + n}} for n in range(3)]
NEAR = [
    {
        "first": {"answer": 1000.0, "fetching": 3000.0, "starting": 5000.0, "ready": 14_000.0 + n},
        "strokes": [{"engine": 50.0, "changed": 60.0, "painted": 250.0 + n, "whole": 400.0}] * 10,
        "turn": {"shown": 900.0, "answer": 1600.0},
    }
    for n in range(3)
]
PHONE = {"loop": (2000.0, 2400.0), "near": NEAR, "far": LINE}
QUICK = (500.0, 490.0)


def test_medians_stand_against_their_aims() -> None:
    rows, notes = bench_slow.results(LINE, PHONE, QUICK)
    told = [(row.value, row.spread, row.aim, row.met) for row in rows]
    assert told[:2] == [
        ("1000 ms", "1000–1000", "≤ 2000 ms", "yes"),
        ("14001 ms", "14000–14002", "≤ 15000 ms", "yes"),
    ]
    assert told[2] == ("251 ms", "250–252", "", "")
    assert told[3][0] == "252 ms" and told[3][3] == "yes"
    assert [row[3] for row in told[4:10]] == ["", "yes", "NO", "yes", "yes", "yes"]
    assert [row[2:] for row in told[10:12]] == [("", "")] * 2
    yardstick = notes[0]
    assert all(
        f"{time:.0f} ms" in yardstick or f"{time:.0f} and" in yardstick
        for time in (2000, 2400, *QUICK)
    )


def test_without_a_slow_phone_its_rows_say_why() -> None:
    rows, _ = bench_slow.results(LINE, "no root here", QUICK)
    told = [row for row in rows if row.value == "not measured: no root here"]
    assert len(told) == 4 and len(rows) == 7
    assert not any(row.met for row in told)


def test_a_reader_who_must_try_again_meets_no_aim() -> None:
    failed = {
        **OVER,
        "start": "none",
        "retry": True,
        "said": "why",
        "marks": {"answer": 2000.0, "failed": 9e4},
    }
    rows, notes = bench_slow.results([*LINE, failed], "no root", QUICK)
    answer, ready, again = rows[-3:]
    assert (answer.value, answer.met) == ("2000 ms", "yes")
    assert ready.value.endswith("3 of 4") and ready.met == "NO"
    assert again.value.startswith("1 of 4") and again.met == "NO"
    assert notes[-1].endswith("why")
