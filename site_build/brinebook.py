"""`brinebook`: a dealer's own edition from the terminal.

brinebook new DIR        a directory to begin with
brinebook check          all that is wrong with it, in seconds
brinebook words          the files for translators, brought up to this version's words
brinebook serve          the guide on this machine, built again as you write
brinebook build          the site as a folder, to be hosted or opened
brinebook answer DIR     its calculators at a terminal, with its own records
brinebook card           a reference card for a boat
brinebook update         what a newer version of Brinebook changes for it
"""

from __future__ import annotations

import argparse
import datetime
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from calc import __version__

from .steps import Trouble, called, duration, ended, quoted, say

if TYPE_CHECKING:  # a command's help comes sooner without
    from calc.frame.guide import Guide

    from .edition import Edition

HERE = Path()
SOURCES = ("edition.toml", "equipment", "pages", "brand", "languages", "calculators")
SITE = "site"  # below the edition's directory, unless told otherwise

Command = Callable[[argparse.Namespace], int]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code: 1 where something is wrong with the edition."""

    def command() -> int:
        options = _parser().parse_args(arguments)
        chosen: Command = options.command
        return chosen(options)

    return ended(command)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog=called(), description="A guide for owners of watermakers, in your own edition."
    )
    parser.add_argument("--version", action="version", version=f"brinebook {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", required=True)

    def add(name: str, about: str, command: Command, first: str = "") -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=about, description=about)
        one.set_defaults(command=command)
        if first:
            one.add_argument(first, help=f"which {first}")
        told = "the edition's directory (default: where you are)"
        one.add_argument("folder", metavar="DIR", type=Path, nargs="?", default=HERE, help=told)
        return one

    add("words", "Bring the edition's files for translators up to this version's words.", words)

    about = "Make a directory to begin an edition with."
    one = commands.add_parser("new", help=about, description=about)
    one.set_defaults(command=new)
    one.add_argument("folder", metavar="DIR", type=Path, help="a directory that isn't there yet")
    one.add_argument("--name", default="Our watermakers", help="whose guide it is (%(default)s)")

    add("check", "Tell all that is wrong or doubtful, in seconds.", check)

    one = add("serve", "Build the guide and serve it on this machine.", serve)
    one.add_argument("--port", type=int, default=8000, metavar="N", help="port (%(default)s)")
    one.add_argument("--watch", action="store_true", help="build again whenever a file changes")

    one = add("build", "Build the site into a folder that can be hosted or opened.", build)
    one.add_argument("--out", type=Path, metavar="SITE", help="folder (default: site in DIR)")

    about = "Answer at the terminal: a calculator's name, then its inputs as name=value."
    one = commands.add_parser("answer", help=about, description=about)
    one.set_defaults(command=answer)
    one.add_argument("folder", metavar="DIR", type=Path, help="the edition's directory")
    told = "a calculator's name and inputs; --help among them tells more"
    one.add_argument("asked", nargs=argparse.REMAINDER, help=told)

    one = add("card", "Write a reference card for a boat, as PDF or HTML.", card, "calculator")
    one.add_argument("--boat", help="a boat's file, or an example boat's name")
    one.add_argument("--paper", default="a5", help="a5, a6-folded or half-letter (a5)")
    one.add_argument("--units", default="metric", help="metric, us or both (metric)")
    one.add_argument("--day", metavar="YYYY-MM-DD", help="the day on the card (today)")
    one.add_argument("-o", "--out", type=Path, required=True, help="where to: .pdf or .html")

    one = add("update", "Tell what this version of Brinebook changes for the edition.", update)
    one.add_argument(
        "--accept", action="store_true", help="from now on this version is what it stands on"
    )
    return parser


# --- Commands --------------------------------------------------------------------------------


def new(options: argparse.Namespace) -> int:
    """Write the files that one begins with."""
    from . import edition_base, edition_new

    edition_new.write(options.folder, options.name)
    edition_base.accept(options.folder)
    say(f"{options.folder}: edit edition.toml, then “{called()} serve {quoted(options.folder)}”")
    return 0


def check(options: argparse.Namespace) -> int:
    """Faults, then doubts, then what is done for the host; 1 where there is a fault."""
    from .check import check as checked

    started = time.monotonic()
    found = checked(options.folder)
    for fault in found.faults:
        print(fault)
    for doubt in found.doubts:
        print(f"Doubt: {doubt}")
    for note in found.notes:
        print(f"Note: {note}")
    counts = f"{_counted(found.faults, 'fault')}, {_counted(found.doubts, 'doubt')}"
    say(f"{counts}, checked in {duration(time.monotonic() - started)}")
    return 1 if found.faults else 0


def words(options: argparse.Namespace) -> int:
    """Write what is to be translated, each language's file in its folder."""
    from . import edition, language_sites

    changed = language_sites.write_words(edition.read(options.folder))
    for path in changed:
        say(f"{path}: the source's words of today")
    if not changed:
        say("Every file has the source's words of today.")
    return 0


def build(options: argparse.Namespace) -> int:
    """Build into a folder."""
    from . import edition, embedding, hosts

    _build(options.folder, options.out or options.folder / SITE)
    made = edition.read(options.folder)
    say("\n" + hosts.advice(made.address, made.embed_on))
    if made.embed_on:
        where = made.address or "https://where.the.guide.is/"
        say("A calculator in another page:\n" + embedding.snippet("power", "Power", where))
    return 0


def serve(options: argparse.Namespace) -> int:
    """Build into a scratch folder, then serve until Ctrl-C."""
    from . import server

    with tempfile.TemporaryDirectory(prefix="brinebook-") as scratch:
        out = Path(scratch) / SITE
        _build(options.folder, out)
        with server.serve_near(out, options.port) as site:
            say(f"The guide is at {site.url}   (Ctrl-C ends)")
            try:
                if options.watch:
                    from .watch import watch

                    watch(options.folder, lambda: _build_again(options.folder, out), SOURCES)
                else:
                    site.wait()
            except KeyboardInterrupt:
                say("\nStopped.")
    return 0


def answer(options: argparse.Namespace) -> int:
    """What `python3 -m calc` does, with the edition's own records and calculators."""
    from calc import terminal

    from . import brand

    edition, guide = _sound(options.folder)
    with within(edition, guide):
        house, command = brand.house(edition), f"{called()} answer {quoted(options.folder)}"
        return terminal.main(options.asked, command, house)


def card(options: argparse.Namespace) -> int:
    """Write a card."""
    from . import cards, offline

    edition, guide = _sound(options.folder)
    try:
        day = datetime.date.fromisoformat(options.day) if options.day else None
    except ValueError:
        raise Trouble(f"“{options.day}” is not a day; write it as 2026-05-31") from None
    with within(edition, guide):
        cards.write(
            [options.calculator],
            options.boat,
            options.paper,
            options.out,
            edition.address,
            options.units,
            day,
            offline.edition(),
        )
        say(f"{options.out}: a card {cards.whose(options.boat)}")
    return 0


def update(options: argparse.Namespace) -> int:
    """Tell what changes; 0 whatever it is."""
    from . import edition_base

    edition, guide = _sound(options.folder)
    try:
        told = edition_base.changes(edition, guide)
        for line in told:
            print(line)
        if not told:
            say(f"Nothing changes for this edition with {__version__}.")
    except Trouble:  # there is nothing to compare with: --accept makes it
        if not options.accept:
            raise
    if options.accept:
        edition_base.accept(options.folder)
        say(f"From now on it stands on {__version__}.")
    return 0


# --- Helpers ---------------------------------------------------------------------------------


def _sound(folder: Path) -> tuple[Edition, Guide]:
    """The edition and its guide. Raises Trouble with all its faults."""
    from .check import check as checked

    found = checked(folder)
    if found.faults or found.guide is None:
        raise Trouble("\n".join(map(str, found.faults)))
    return found.edition, found.guide


@contextmanager
def within(edition: Edition, guide: Guide) -> Iterator[None]:
    """Within it an edition is made, and speaks the first of its languages."""
    from . import language_sites, making

    site = language_sites.spoken(edition)[0][0]
    with site.speaking(), making.within(edition, language_sites.guide_in(guide, site)):
        yield


def _counted(found: Sequence[object], what: str) -> str:
    return f"{len(found)} {what}" if len(found) == 1 else f"{len(found)} {what}s"


def _build(folder: Path, out: Path) -> None:
    from calc import calculators
    from calc.frame import units

    from .build import build_edition

    started = time.monotonic()
    calculators.found()  # the kinds of quantity that the stock's define are there for good
    with units.as_before():  # the next time a calculator of theirs may say otherwise what it asks
        build_edition(folder, out, say)
    say(f"Built {out} in {duration(time.monotonic() - started)}")


def _build_again(folder: Path, out: Path) -> None:
    try:
        _build(folder, out)
    except Trouble as trouble:
        say(f"{trouble}\nThe last good pages are still served.")


if __name__ == "__main__":
    sys.exit(main())
