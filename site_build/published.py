"""Check values as data: tests run them, and the guide's "Checked against" page shows them."""

from __future__ import annotations

import importlib
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

from calc.frame import units
from calc.frame.language import spoken, spoken_count
from calc.frame.render.spaces import in_english, worded

from . import machine

FOLDER = machine.ROOT / "tests" / "published"
STANDINGS = ("published", "computed", "from memory", "common practice")
_KEYS = {
    "id",
    "about",
    "call",
    "inputs",
    "pick",
    "value",
    "tolerance",
    "source",
    "standing",
    "note",
}


class CheckError(ValueError):
    """A check that cannot be read or run; names the file and the check."""


@dataclass(frozen=True)
class Check:
    """One value from outside, how to compute ours, and how near they must be."""

    area: str
    file: str
    id: str
    about: str
    call: str
    inputs: Mapping[str, Any]
    pick: str
    value: str | float
    tolerance: str | float
    source: str
    standing: str
    note: str


@dataclass(frozen=True)
class Outcome:
    """Our value, theirs and the allowed difference, all in SI; and whether ours is near enough."""

    ours: float
    theirs: float
    allowed: float

    @property
    def holds(self) -> bool:
        return abs(self.ours - self.theirs) <= self.allowed * (1 + 1e-9)


@cache
def load(folder: Path = FOLDER) -> tuple[Check, ...]:
    """All checks of all files, in order. Raises CheckError for a malformed or repeated one."""
    checks: list[Check] = []
    seen: set[str] = set()
    for path in sorted(folder.glob("*.toml")):
        content = tomllib.loads(path.read_text("utf-8"))
        for raw in content["check"]:
            made = _check(content["area"], path.name, raw)
            if made.id in seen:
                raise CheckError(f"{path.name}: the check {made.id} exists already")
            seen.add(made.id)
            checks.append(made)
    return tuple(checks)


def _check(area: str, file: str, raw: Mapping[str, Any]) -> Check:
    name = raw.get("id", "a check without id")
    wrong = set(raw) - _KEYS
    missing = _KEYS - {"pick", "note"} - set(raw)
    if wrong or missing:
        raise CheckError(f"{file}: {name}: unknown {sorted(wrong)}, missing {sorted(missing)}")
    if raw["standing"] not in STANDINGS:
        raise CheckError(f"{file}: {name}: standing must be one of {', '.join(STANDINGS)}")
    return Check(
        area,
        file,
        pick=str(raw.get("pick", "")),
        note=raw.get("note", ""),
        **{key: raw[key] for key in _KEYS - {"pick", "note"}},
    )


def si(value: Any) -> Any:
    """Texts with a unit become SI floats, lists their elements; all else stays as it is."""
    if isinstance(value, str):
        try:
            return units.parse_any(value)
        except units.UnitError:
            return value
    if isinstance(value, list):
        return [si(item) for item in value]
    if isinstance(value, dict):
        return {key: si(item) for key, item in value.items()}
    return value


def run(check: Check) -> Outcome:
    """Computes our value. Raises CheckError if the function or part of its result is missing."""
    result = _picked(_function(check)(**si(dict(check.inputs))), check)
    theirs = float(si(check.value))
    ours = float(result)
    if not math.isfinite(ours):
        raise CheckError(f"{check.file}: {check.id}: our value is {ours}")
    return Outcome(ours, theirs, _allowed(check, theirs))


def _function(check: Check) -> Any:
    module, _, name = check.call.rpartition(".")
    try:
        return getattr(importlib.import_module(f"calc.physics.{module}"), name)
    except (ImportError, AttributeError) as error:
        raise CheckError(f"{check.file}: {check.id}: {error}") from None


def _picked(result: Any, check: Check) -> Any:
    for part in filter(None, check.pick.split(".")):
        if part.lstrip("-").isdigit():
            result = result[int(part)]
        elif isinstance(result, Mapping):
            result = result[part]
        else:
            result = getattr(result, part)
    return result


def _allowed(check: Check, theirs: float) -> float:
    tolerance = check.tolerance
    if isinstance(tolerance, str) and tolerance.strip().endswith("%"):
        return abs(theirs) * units.parse(tolerance, "%")
    if isinstance(tolerance, str) and isinstance(check.value, str):
        symbol = units.split_number(check.value)[1]
        if units.find_unit(symbol, units.kind_of(symbol)).offset:  # "0.1 °C" is a difference
            number, unit = units.split_number(tolerance)
            return number * units.find_unit(unit, units.kind_of(unit)).factor
    return abs(float(si(tolerance)))


# ---- as the page shows them ----


def as_html() -> str:
    """Every published check with our value beside theirs, grouped by area."""
    areas: dict[str, list[Check]] = {}
    for check in load():
        areas.setdefault(check.area, []).append(check)
    total = sum(map(len, areas.values()))
    counts = {s: sum(c.standing == s for c in load()) for s in STANDINGS}
    told = ", ".join(f"{n} {spoken(s)}" for s, n in counts.items() if n)
    count = spoken_count(total, "{n} check", "{n} checks")
    head = f'<p class="checks-total"><strong>{escape(count)}</strong>: {told}.</p>'
    return head + "".join(_area(name, checks) for name, checks in areas.items())


def _area(name: str, checks: list[Check]) -> str:
    rows = "".join(_check_row(c) for c in checks)
    count = spoken_count(len(checks), "{n} check", "{n} checks")
    return (
        f'<details class="checks" data-key="checks-{escape(name, quote=True)}" data-search-exclude>'
        f'<summary>{escape(spoken(name))} <span class="count">{escape(count)}</span></summary>'
        f'<div class="table-scroll"><table class="plain"><thead><tr>'
        f'<th scope="col">{worded("What")}</th>'
        f'<th scope="col" class="num">{worded("Theirs")}</th>'
        f'<th scope="col" class="num">{worded("Ours")}</th>'
        f'<th scope="col" class="num">{worded("Allowed")}</th>'
        f'<th scope="col">{worded("Source")}</th></tr></thead>'
        f"<tbody{in_english()}>{rows}</tbody></table></div></details>"
    )


def _check_row(check: Check) -> str:
    outcome = run(check)
    if isinstance(check.value, str):
        symbol = units.split_number(check.value)[1]
        kind = units.kind_of(symbol)
        theirs, ours = (
            units.join(units.number_text(units.from_si(v, symbol, kind), 5), symbol)
            for v in (outcome.theirs, outcome.ours)
        )
    else:
        theirs, ours = units.number_text(outcome.theirs, 5), units.number_text(outcome.ours, 5)
    note = f'<span class="note">{escape(check.note)}</span>' if check.note else ""
    return (
        f'<tr><th scope="row">{escape(check.about)}{note}</th><td class="num">{escape(theirs)}</td>'
        f'<td class="num">{escape(ours)}</td><td class="num">±{escape(str(check.tolerance))}</td>'
        f"<td>{escape(check.source)} <em>({escape(check.standing)})</em></td></tr>"
    )
