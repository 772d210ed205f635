"""Cautions: what can hurt someone, and the rules by which an answer shows them.

A calculator declares its rules (`CAUTIONS`); the frame applies them and shows what holds, never
folded. What a rule hangs on and only the figures find out is told by `show.fact`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True)
class Caution:
    """A hazard: what it is, and what to do about it."""

    key: str
    title: str
    text: str

    def as_data(self) -> dict[str, str]:
        return asdict(self)


Facts = Mapping[str, Any]


def always(_: Facts) -> bool:
    """No condition."""
    return True


@dataclass(frozen=True)
class Rule:
    """That a caution is shown where `when` holds.

    `when` is given the form's values by name, and the facts found, each as True.
    """

    key: str
    when: Callable[[Facts], bool] = always

    @property
    def free(self) -> bool:
        """Whether it stands on no condition."""
        return self.when is always


def rules(*rows: str | Rule) -> tuple[Rule, ...]:
    """A table of rules; of those without a condition the key is enough."""
    return tuple(Rule(row) if isinstance(row, str) else row for row in rows)


def shown(
    known: Mapping[str, Caution], table: Sequence[Rule], values: Facts, facts: set[str]
) -> list[Caution]:
    """The cautions of an answer, in the order of those that are known."""
    found = {**values, **dict.fromkeys(facts, True)}
    keys = {rule.key for rule in table if rule.when(found)}
    return [caution for key, caution in known.items() if key in keys]
