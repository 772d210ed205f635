"""The commands of `python3 -m site_build`.

Until `_enter` has returned, only the standard library may be imported: the packages of the virtual
environment may not be there yet.
"""

from __future__ import annotations

import argparse
import datetime
import difflib
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from site_build import machine
from site_build.steps import Trouble, duration, ended, say

Command = Callable[[argparse.Namespace, list[str]], int]

DEFAULT_PORT = 8000
DEFAULT_OUT = Path("site")


def main(argv: Sequence[str]) -> int:
    """Run one command; returns the exit code."""

    def command() -> int:
        options, rest = _parse(argv)
        chosen: Command = options.command
        return chosen(options, rest)

    return ended(command)


def _parse(argv: Sequence[str]) -> tuple[argparse.Namespace, list[str]]:
    """The options, and the arguments that are meant for pytest."""
    parser = _parser()
    if argv and not argv[0].startswith("-") and argv[0] not in COMMANDS:
        near = difflib.get_close_matches(argv[0], COMMANDS, 1, 0.5)
        hint = f" Did you mean “{near[0]}”?" if near else ""
        parser.exit(
            2, f"no command is called “{argv[0]}”; there are {', '.join(COMMANDS)}.{hint}\n"
        )
    if not argv or argv[0] != "test":
        return parser.parse_args(argv), []
    ours = [word for word in argv[1:] if word in TEST_FLAGS]
    return parser.parse_args(["test", *ours]), [word for word in argv[1:] if word not in ours]


COMMANDS = ("serve", "build", "test", "card", "clean", "bench", "wheel")
TEST_FLAGS = ("-h", "--help", "--quick", "--all-browsers")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python3 -m site_build",
        description="Build the guide, serve it, test it. Each command first sets up what it needs.",
    )
    commands = parser.add_subparsers(metavar="COMMAND", required=True)

    def add(name: str, about: str, command: Command) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=about, description=about)
        one.set_defaults(command=command)
        return one

    one = add("serve", "Build the guide and serve it on this machine.", serve)
    one.add_argument(
        "--port",
        type=int,
        default=DEFAULT_PORT,
        metavar="N",
        help="port to serve on; if it is taken, the next free one (default: %(default)s)",
    )
    one.add_argument("--watch", action="store_true", help="build again whenever a source changes")

    one = add("build", "Build the guide into a folder that can be hosted or opened.", build)
    one.add_argument(
        "--out", type=Path, default=DEFAULT_OUT, metavar="DIR", help="folder (default: %(default)s)"
    )

    one = add("test", "Check the code and run all tests, the browser ones included.", test)
    one.usage = "python3 -m site_build test [-h] [--quick] [--all-browsers] [pytest arguments …]"
    one.add_argument("--quick", action="store_true", help="leave the browser tests out")
    one.add_argument(
        "--all-browsers",
        action="store_true",
        help="demand Firefox and WebKit too; without it they are used where they are",
    )

    one = add("card", "Write a reference card for a boat, as PDF or HTML.", card)
    one.add_argument("calculator", nargs="*", help="which (see python3 -m calc)")
    one.add_argument("--all", action="store_true", help="all of them, with a contents page")
    one.add_argument("--boat", help="your boat's file, or a demo boat's name")
    one.add_argument("--paper", default="a5", help="a5, a6-folded or half-letter (a5)")
    one.add_argument("--units", default="metric", help="metric, us or both (metric)")
    one.add_argument("--day", metavar="YYYY-MM-DD", help="the day on the card (today)")
    one.add_argument("--address", default="", metavar="URL", help="where the guide is hosted")
    one.add_argument("-o", "--out", type=Path, metavar="FILE", help="where to: .pdf or .html")

    one = add("clean", "Remove what builds and tests left behind.", clean)
    one.add_argument(
        "--all", action="store_true", help="remove the installed packages too (.venv, node_modules)"
    )

    one = add("bench", "Measure the built guide and print one table.", bench)
    one.add_argument(
        "--runs", type=int, default=5, metavar="N", help="runs of each (default: %(default)s)"
    )
    one.add_argument(
        "--slow",
        action="store_true",
        help="measure a slow line (1.6 Mbit/s) and a slow phone (a quarter of one core; for this "
        "it takes Linux and root) instead: three to five minutes a run",
    )

    one = add("wheel", "Pack all that an edition is built with into one wheel.", wheel)
    one.add_argument("--out", type=Path, default=Path("dist"), metavar="DIR", help="folder (dist)")
    return parser


# --- Commands --------------------------------------------------------------------------------


def serve(options: argparse.Namespace, _: list[str]) -> int:
    """Build, then serve until Ctrl-C."""
    _enter("build")
    from site_build import server

    out = machine.ROOT / DEFAULT_OUT
    _build(out)
    with server.serve_near(out, options.port) as site:
        if site.port != options.port:
            say(f"Port {options.port} is taken.")
        say(f"The guide is at {site.url}   (Ctrl-C ends)")
        try:
            if options.watch:
                from site_build.watch import watch

                watch(machine.ROOT, lambda: _build_again(out))
            else:
                site.wait()
        except KeyboardInterrupt:
            say("\nStopped.")
    return 0


def build(options: argparse.Namespace, _: list[str]) -> int:
    """Build into a folder."""
    _enter("build")
    _build(options.out)
    from site_build import hosts

    say("\n" + hosts.advice())
    return 0


def test(options: argparse.Namespace, pytest_arguments: list[str]) -> int:
    """Linter, type checks, then pytest, whose lines come last. Fails if any of them does."""
    _enter("build", "test")
    from site_build import browser_finder, server_finder

    env = dict(os.environ)
    if options.quick:
        pytest_arguments = ["-m", "not browser", *pytest_arguments]
    else:
        machine.node_modules()  # before two processes of pytest would both begin it
        env |= browser_finder.for_tests(demand_all=options.all_browsers)
        server_finder.for_tests()
    checks = {
        "linter": ["ruff", "check", "."],
        "format": ["ruff", "format", "--check", "."],
        "type checks": ["mypy"],
    }
    failed = [name for name, arguments in checks.items() if _module(name, arguments, env)]
    for name in failed:
        say(f"The {name} failed: see above.")
    code = _module("tests", ["pytest", *pytest_arguments], env)
    return code or len(failed)


def card(options: argparse.Namespace, _: list[str]) -> int:
    """Write a card, or all of them in one file."""
    _enter("build")
    from site_build import cards, offline, pages

    names = pages.in_order(machine.ROOT / "docs") if options.all else options.calculator
    if not names:
        raise Trouble("name a calculator, or --all")
    if options.out is None:
        raise Trouble("say where to write it, such as -o card.pdf")
    try:
        day = datetime.date.fromisoformat(options.day) if options.day else None
    except ValueError:
        raise Trouble(f"“{options.day}” is not a day; write it as 2026-05-31") from None
    count = cards.write(
        names,
        options.boat,
        options.paper,
        options.out,
        options.address,
        options.units,
        day,
        offline.edition(),
    )
    cards_made = f"{count} card{'s' if count > 1 else ''}"
    say(f"{options.out.resolve()}: {cards_made}, {cards.whose(options.boat)}")
    return 0


def clean(options: argparse.Namespace, _: list[str]) -> int:
    """Remove what can be made again."""
    names = ["site", ".cache", ".pytest_cache", ".mypy_cache", ".ruff_cache", ".hypothesis"]
    if options.all:
        names += [".venv", "node_modules"]
        if machine.inside() and machine.WINDOWS:
            raise Trouble(
                "Run this with a Python outside .venv: Windows can't remove a running one."
            )
    present = [name for name in names if (machine.ROOT / name).exists()]
    for name in present:
        shutil.rmtree(machine.ROOT / name)
        say(f"Removed {name}")
    if not present:
        say("Nothing to remove.")
    return 0


def bench(options: argparse.Namespace, _: list[str]) -> int:
    """Measure."""
    _enter("build", "test")
    from site_build import bench as measuring
    from site_build import bench_slow

    return bench_slow.main(options.runs) if options.slow else measuring.main(options.runs)


def wheel(options: argparse.Namespace, _: list[str]) -> int:
    """Pack the wheel."""
    _enter("build")
    from site_build import wheel as packing

    made = packing.build(options.out, say)
    say(f"{made}: {made.stat().st_size / 1e6:.1f} MB; pip install it, then “brinebook new DIR”")
    return 0


# --- Helpers ---------------------------------------------------------------------------------


def _enter(*requirements: str) -> None:
    """Set up the virtual environment and go on in it. Outside of it, this does not return."""
    machine.install(*requirements)
    if machine.inside():
        return
    command = [str(machine.python()), "-m", "site_build", *sys.argv[1:]]
    sys.stdout.flush()
    if not machine.WINDOWS:
        os.execv(command[0], command)
    # Windows has no exec: wait for the child, and leave Ctrl-C to it.
    child = subprocess.Popen(command)
    while True:
        try:
            sys.exit(child.wait())
        except KeyboardInterrupt:
            continue


def _build(out: Path) -> None:
    from site_build.build import build_site

    started = time.monotonic()
    build_site(out, say)
    say(f"Built {out.name} in {duration(time.monotonic() - started)}")


def _build_again(out: Path) -> None:
    """Build in a new process, which sees changed code."""
    command = [sys.executable, "-m", "site_build", "build", "--out", str(out)]
    if subprocess.run(command, cwd=machine.ROOT).returncode:
        say("The build failed; the last good pages are still served.")


def _module(name: str, arguments: list[str], env: dict[str, str]) -> int:
    """Run a Python module from the project's root; returns its exit code."""
    say(f"Running the {name}: {' '.join(arguments)}")
    return subprocess.run([sys.executable, "-m", *arguments], cwd=machine.ROOT, env=env).returncode
