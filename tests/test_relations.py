"""Each public relation of the physics is used by an answer and checked, or says why not."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import sys
from functools import cache
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

from calc import physics
from site_build import published

CALC = Path(__file__).parents[1] / "calc"
PHYSICS = CALC / "physics"
MODULES = [m.name for m in pkgutil.iter_modules(physics.__path__) if m.name[0] != "_"]

# Relations that no answer uses, each with its reason: doors through which published tables reach
# what the answers do use.
ONLY_CHECKED = {
    "membranes.worked_series": "of worked examples, to `element`",
    "plates.frequency_parameter": "of tables of plates, to `mode_frequency`",
    "plates.plate_frequency": "of tables of plates, to `mode_frequency`",
    "vibration.isolator_effectiveness": "of tables of mounts, to `effectiveness`",
    "rigid_body.rigid_body_frequencies": "of worked examples, to `rigid_body_modes`",
}
# Relations that neither a published value nor a test of their own reaches, each with its reason.
UNCHECKED: dict[str, str] = {}


@cache
def public() -> dict[CodeType, str]:
    """Every public function of the physics by its code."""
    found = {}
    for name in MODULES:
        module = importlib.import_module(f"calc.physics.{name}")
        for word, made in vars(module).items():
            function: Any = inspect.unwrap(made) if callable(made) else None
            own = getattr(function, "__module__", "") == module.__name__
            if own and inspect.isfunction(function) and word[0] != "_":
                found[function.__code__] = f"{name}.{word}"
    return found


def names_in(node: ast.AST, aliases: dict[str, str]) -> set[str]:
    """What a piece of code refers to, as "module.name" or as a name of its own module."""
    found = set()
    for part in ast.walk(node):
        if isinstance(part, ast.Attribute) and isinstance(part.value, ast.Name):
            if part.value.id in aliases:
                found.add(f"{aliases[part.value.id]}.{part.attr}")
        elif isinstance(part, ast.Name):
            found.add(aliases.get(part.id, part.id))
    return found


def aliases_of(tree: ast.Module) -> dict[str, str]:
    """What a module calls the physics' modules and their relations."""
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            for alias in node.names:
                name, last = alias.asname or alias.name, (node.module or "").rpartition(".")[2]
                if alias.name in MODULES:
                    found[name] = alias.name
                elif last in MODULES:
                    found[name] = f"{last}.{alias.name}"
    return found


def reached_by_answers() -> set[str]:
    """What is referred to outside the physics, and by what that refers to in turn."""
    uses: dict[str, set[str]] = {}
    todo: set[str] = set()
    for path in CALC.rglob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        aliases = aliases_of(tree)
        if path.parent != PHYSICS:
            todo |= names_in(tree, aliases)
            continue
        for node in tree.body:
            own = getattr(node, "name", "")
            refers = names_in(node, aliases)
            refers = {name if "." in name else f"{path.stem}.{name}" for name in refers}
            if own:
                uses[f"{path.stem}.{own}"] = refers
            elif not isinstance(node, (ast.Import, ast.ImportFrom)):
                for target in ast.walk(node):  # a table, and what it is made of
                    if isinstance(target, ast.Name) and isinstance(target.ctx, ast.Store):
                        uses[f"{path.stem}.{target.id}"] = refers
    done: set[str] = set()
    while todo:
        name = todo.pop()
        done.add(name)
        todo |= uses.get(name, set()) - done
    return done


@cache
def reached_by_checks() -> frozenset[str]:
    """What runs while the published checks do."""
    seen: set[str] = set()

    def note(frame: FrameType, event: str, _: Any) -> None:
        if event == "call" and frame.f_code in public():
            seen.add(public()[frame.f_code])

    for name in MODULES:  # what is remembered would not run
        for made in vars(importlib.import_module(f"calc.physics.{name}")).values():
            if hasattr(made, "cache_clear"):
                made.cache_clear()
    before = sys.getprofile()
    sys.setprofile(note)
    try:
        for check in published.load():
            published.run(check)
    finally:
        sys.setprofile(before)
    return frozenset(seen)


def test_every_relation_is_used_by_an_answer() -> None:
    assert sorted(set(public().values()) - reached_by_answers()) == sorted(ONLY_CHECKED)


@cache
def named_in_tests() -> frozenset[str]:
    """What the tests call by name."""
    found: set[str] = set()
    for path in Path(__file__).parent.glob("test_*.py"):
        if path != Path(__file__):
            tree = ast.parse(path.read_text("utf-8"))
            found |= names_in(tree, aliases_of(tree))
    return frozenset(found)


def test_every_relation_is_checked_or_says_why_not() -> None:
    unchecked = set(public().values()) - reached_by_checks() - named_in_tests()
    assert sorted(unchecked - set(UNCHECKED)) == []
    assert sorted(set(UNCHECKED) - unchecked) == [], "these are checked now: take them out"
