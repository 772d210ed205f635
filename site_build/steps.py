"""Saying what is done, and running programs that may take long. The standard library alone."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

Say = Callable[[str], None]
SPEAK_EVERY = 3.0  # s between two words of progress


class Trouble(Exception):
    """Something the user has to know or do; its text is all that is shown, without a traceback."""


def say(text: str) -> None:
    """Print a line of progress at once, even into a pipe."""
    print(text, flush=True)


def called() -> str:
    """How `brinebook` was called, to tell a next command that works from the same place."""
    said = sys.argv[0]
    if Path(said).stem != "brinebook":  # from Python
        return "brinebook"
    if Path(said).suffix == ".py":
        return f"{_as_typed(sys.executable)} -m site_build.brinebook"
    return _as_typed(said)


def _as_typed(program: str) -> str:
    """A program by its name where that is what runs, else by its path from here."""
    # Links are not followed: an environment's Python is one to Python's own.
    name, path = Path(program).name.removesuffix(".exe"), Path(program).absolute()
    found = shutil.which(name)
    if found and Path(found).absolute() == path:
        return name
    here = path.relative_to(Path.cwd()) if path.is_relative_to(Path.cwd()) else path
    return quoted(here)


def quoted(path: str | Path) -> str:
    """A path as one word of a command."""
    return subprocess.list2cmdline([str(path)]) if os.name == "nt" else shlex.quote(str(path))


def ended(command: Callable[[], int]) -> int:
    """A command's exit code; 1 for a trouble, which is told, and 130 where it is stopped.

    A console that lacks a sign of ours shows another in its place.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        return command()
    except Trouble as trouble:
        print(trouble, file=sys.stderr, flush=True)
        return 1
    except KeyboardInterrupt:
        say("\nStopped.")
        return 130


def duration(seconds: float) -> str:
    """A time [s] in words: "8 s", "2 min 5 s"."""
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


def run(
    title: str,
    command: Sequence[str | Path],
    *,
    cwd: Path,
    env: Mapping[str, str] | None = None,
    note: Callable[[str], str | None] = lambda line: None,
    patience: float | None = None,
) -> None:
    """Run a step that may take long: say what it is, then how far it is, then how long it took.

    `env` is added to this process's environment. `note` turns a line of the program's output into
    a word of progress, or None to pass over it. `patience` is the longest silence [s] before the
    program is taken for stuck and ended. Raises Trouble with the end of the output when the
    program fails, can't be started or is stuck.
    """
    say(f"{title} …")
    started = told = time.monotonic()
    try:
        process = subprocess.Popen(
            command,
            cwd=cwd,
            env={**os.environ, **(env or {})},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    except OSError as error:
        raise Trouble(f"{title}: can't start {command[0]}: {error.strerror}") from error
    output: list[str] = []
    with process, _Watchdog(process, patience) as watchdog:
        assert process.stdout is not None
        for line in process.stdout:
            watchdog.heard()
            output.append(line)
            word = note(line.strip())
            if word and time.monotonic() - told > SPEAK_EVERY:
                told = time.monotonic()
                say(f"  {word}")
    if watchdog.barked:
        raise Trouble(f"{title}: gave up after {duration(patience or 0)} without a sign of life")
    if process.returncode:
        raise Trouble(f"{title}: failed\n{''.join(output[-30:]).rstrip()}")
    if time.monotonic() - started > SPEAK_EVERY:
        say(f"  done in {duration(time.monotonic() - started)}")


class _Watchdog:
    """Ends a program that has been silent for too long."""

    def __init__(self, process: subprocess.Popen[str], patience: float | None) -> None:
        self.barked = False
        self._process = process
        self._patience = patience
        self._last = time.monotonic()
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._watch, daemon=True)

    def __enter__(self) -> _Watchdog:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()

    def heard(self) -> None:
        self._last = time.monotonic()

    def _watch(self) -> None:
        while self._patience is not None and not self._over.wait(0.2):
            if time.monotonic() - self._last > self._patience:
                self.barked = True
                self._process.kill()
                return
