"""What an edition stood on when it was made: to tell later what a newer Brinebook changes for it.

`base.json` in the edition's directory keeps, as data, a hash of each stock page and the verdicts of
its boats with what decided them.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from calc import __version__
from calc.frame.guide import Guide

from . import language_sites, making
from .check import check
from .edition import FILE, Edition
from .steps import Trouble, called

BASE = "base.json"


def state(guide: Guide) -> dict[str, Any]:
    """What is kept: {"version", "pages": {name: hash}, "verdicts": {boat: {calculator: …}}}."""
    return {"version": __version__, "pages": _pages(), "verdicts": _verdicts(guide)}


def accept(folder: Path) -> None:
    """From now on the edition stands on this version. Raises Trouble with its faults."""
    found = check(folder)
    if found.faults or found.guide is None:
        raise Trouble("\n".join(map(str, found.faults)))
    kept = json.dumps(state(found.guide), ensure_ascii=False, indent=1, sort_keys=True)
    (folder / BASE).write_text(kept + "\n", "utf-8", newline="\n")
    path = folder / FILE
    source = path.read_text("utf-8")
    said = f'base = "{__version__}"'
    now, count = re.subn(r"(?m)^base\s*=\s*.*$", said, source, count=1)
    path.write_text(now if count else f"{said}\n{source}", "utf-8", newline="\n")


def changes(made: Edition, guide: Guide) -> list[str]:
    """What differs from what the edition stood on, a sentence each."""
    assert made.folder is not None
    path = made.folder / BASE
    try:
        kept = json.loads(path.read_text("utf-8"))
        before, pages = kept["verdicts"], kept["pages"]
        lines = [*_changed_pages(made, pages), *_changed_verdicts(before, guide)]
        lines += language_sites.moved_on(made)
    except OSError:
        raise Trouble(f"{BASE}: is not there; “{called()} update --accept” makes it") from None
    except (ValueError, KeyError, TypeError, AttributeError):
        raise Trouble(
            f"{BASE}: can't be read; “{called()} update --accept” makes it anew"
        ) from None
    return lines


def _pages() -> dict[str, str]:
    folder = making.STOCK_PAGES
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()[:12]
        for path in sorted(folder.rglob("*.md"))
    }


def _verdicts(guide: Guide) -> dict[str, dict[str, dict[str, Any]]]:
    return {
        boat: {name: _answer(guide, name, boat) for name in guide.names()}
        for boat in guide.shelf("boat")
    }


def _answer(guide: Guide, name: str, boat: str) -> dict[str, Any]:
    """The verdict, the figure that decides with its limit, and those that one comes for."""
    outcome = guide.run(guide.get(name), example={"boat": boat})
    report = outcome.report
    if report is None:
        return {"verdict": "no answer", "decided_by": "", "reason": "", "figures": {}}
    figures = {figure.key: figure for figure in report.figures}
    decided_by, best = report.decided_by, report.best_option()
    if best is not None:  # the same key may name another quantity of the report, or of another way
        figures |= {f"{best.key}.{figure.key}": figure for figure in best.figures}
        if report.decider is best:
            decided_by = f"{best.key}.{decided_by}"
    wanted = {decided_by, *report.wanted}
    told = {
        key: " of ".join(
            amount.text("metric") for amount in (figure.value, figure.limit) if amount is not None
        )
        for key, figure in figures.items()
        if key in wanted or figure.key in wanted
    }
    reason = report.reason().text()
    return {"verdict": report.verdict, "decided_by": decided_by, "reason": reason, "figures": told}


def _changed_pages(made: Edition, before: Mapping[str, str]) -> Iterator[str]:
    now = _pages()
    for name in sorted({*before, *now}):
        own = made.pages is not None and (made.pages / name).is_file()
        if name not in now:
            told = "the stock has no such page any more"
            yield f"pages/{name}: {told}; yours stays" if own else f"{name}: {told}"
        elif name not in before:
            yield f"{name}: a new page of the stock" + (
                ", in whose place yours stands" if own else ""
            )
        elif before[name] != now[name] and own:
            yield f"pages/{name}: stands in place of a stock page that has changed; compare the two"


def _changed_verdicts(before: Mapping[str, Any], guide: Guide) -> Iterator[str]:
    now = _verdicts(guide)
    for boat, answers in now.items():
        if boat not in before:
            continue
        for name, answer in answers.items():
            title, old = guide.get(name).title, before[boat].get(name)
            if old is None:
                yield f"{boat}, {title}: new; {answer['verdict']}"
            elif old["verdict"] != answer["verdict"]:
                why = _why(old, answer)
                yield f"{boat}, {title}: {old['verdict']} is {answer['verdict']} now{why}"


def _why(old: Mapping[str, Any], new: Mapping[str, Any]) -> str:
    """What decides now, and what it was before."""
    key = new["decided_by"]
    was, now = old["figures"].get(key), new["figures"].get(key)
    told = f"; {key}: {was} before, {now} now" if was and now else ""
    return f"{told}; before: {old['reason']}; now: {new['reason']}"
