"""What pages hold of the answers that they show, so that only what differs goes to them.

A page names each answer that it asks for, and says which one it shows. What it holds under that
name, when all that was sent of it is put together, stands here too; of one that is not known any
more, as after a start, all is sent.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

Kinds = Mapping[str, Mapping[str, Any]]  # names and what stands under them, by kind

_MOST = 12  # answers: those of a page with several calculators, and of the frames of one engine
_held: dict[str, Kinds] = {}
_later: dict[str, Callable[[str], dict[str, Any]]] = {}


def holds(name: str) -> Kinds:
    """What a page holds of an answer; nothing where it is not known."""
    return _held.get(name, {})


def difference(name: str, over: str, made: Kinds) -> dict[str, Any]:
    """What turns one answer that a page holds into another, which has this name from now on.

    `over` is the name of the former, None where all is sent; `gone` are names that go, by kind.
    """
    known = over in _held
    before = _held[over] if known else {}
    changed: dict[str, Any] = {"over": over if known else None}
    gone: dict[str, list[str]] = {}
    for kind, named in made.items():
        old = before.get(kind, {})
        changed[kind] = {
            key: value for key, value in named.items() if key not in old or old[key] != value
        }
        if left := [key for key in old if key not in named]:
            gone[kind] = left
    _keep(_held, name, made)
    return {**changed, "gone": gone}


def leave(name: str, rest: Callable[[str], dict[str, Any]]) -> None:
    """Of an answer the rest is to be asked for: what makes it, under a name that it is told."""
    _keep(_later, name, rest)


def take(name: str) -> Callable[[str], dict[str, Any]] | None:
    """What makes the rest of an answer, once; nothing where that is not known any more."""
    return _later.pop(name, None)


def _keep(where: dict[str, Any], name: str, what: Any) -> None:
    where.pop(name, None)
    while len(where) >= _MOST:
        del where[next(iter(where))]
    where[name] = what
