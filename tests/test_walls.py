"""Who may import whom, and what JavaScript may not do."""

from __future__ import annotations

import ast
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ALLOWED_OUTSIDE = {"pint", "segno"}


def modules(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def imported(path: Path) -> Iterator[str]:
    """Absolute names of everything a module imports."""
    package = path.relative_to(ROOT).with_suffix("").parts[:-1]
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(package[: len(package) - node.level + 1]) if node.level else ""
            name = ".".join(filter(None, (base, node.module)))
            yield from (f"{name}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("path", modules("calc"), ids=lambda p: str(p.relative_to(ROOT)))
def test_calc_stands_alone(path: Path) -> None:
    import sys

    for name in imported(path):
        top = name.partition(".")[0]
        assert top in sys.stdlib_module_names | ALLOWED_OUTSIDE | {"calc"}, name


@pytest.mark.parametrize("path", modules("calc/physics"), ids=lambda p: p.name)
def test_physics_imports_nothing_of_the_project_but_physics(path: Path) -> None:
    for name in imported(path):
        if name.startswith("calc"):
            assert name.startswith("calc.physics"), name
        assert not name.startswith("pint"), name


# Who may import whom: rooms of the project each may know. Whatever is not named may know all.
ROOMS = {
    "calc.frame": ("calc.frame", "calc.rounding"),
    "calc.equipment": ("calc.equipment", "calc.frame"),
    "calc.system": ("calc.system", "calc.physics", "calc.rounding"),
    "calc.rounding": (),
    "calc.sheet": ("calc.sheet", "calc.equipment", "calc.frame", "calc.system"),
    "calc.cautions": ("calc.frame",),
    "calc.glossary": ("calc.frame",),
}
NOT_FOR_SUBJECTS = ("calc.frame.render", "calc.frame.service", "calc.frame.sheets", "calc.stock")


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def is_in(name: str, rooms: tuple[str, ...]) -> bool:
    return any(name == room or name.startswith(room + ".") for room in rooms)


@pytest.mark.parametrize("path", modules("calc"), ids=lambda p: str(p.relative_to(ROOT)))
def test_a_room_knows_only_the_rooms_below_it(path: Path) -> None:
    room = next((r for r in ROOMS if is_in(module_name(path), (r,))), None)
    for name in imported(path):
        if room and name.startswith("calc"):
            assert is_in(name, ROOMS[room]), f"{path.name} imports {name}"
        if room in ("calc.equipment", "calc.sheet"):
            assert not is_in(name, NOT_FOR_SUBJECTS), name


@pytest.mark.parametrize("path", modules("calc/calculators"), ids=lambda p: p.name)
def test_calculators_do_not_import_each_other(path: Path) -> None:
    """Nor anything but their own, and what bears an underscore: judged alike by several."""
    if path.parent.name == "calculators" and path.name == "__init__.py":
        return
    own = ".".join(module_name(path).split(".")[:3])
    for name in imported(path):
        shared = name.startswith("calc.calculators._")
        assert not name.startswith("calc.calculators") or shared or is_in(name, (own,)), name
        assert not is_in(name, NOT_FOR_SUBJECTS), name


@pytest.mark.parametrize("path", modules("calc/calculators"), ids=lambda p: p.name)
def test_a_calculator_makes_no_report(path: Path) -> None:
    """It fills the one that it is handed; a trial is data."""
    calls = [
        n.func for n in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(n, ast.Call)
    ]
    assert not [f for f in calls if isinstance(f, ast.Name) and f.id == "Report"]


def test_there_is_no_circle() -> None:
    known = {module_name(p): p for p in modules("calc")}
    graph = {
        name: {n if n in known else n.rpartition(".")[0] for n in imported(path)} & set(known)
        for name, path in known.items()
    }
    done: set[str] = set()

    def walk(name: str, above: tuple[str, ...]) -> None:
        assert name not in above, " → ".join([*above[above.index(name) :], name])
        if name not in done:
            for other in graph[name] - {name}:
                walk(other, (*above, name))
            done.add(name)

    for name in graph:
        walk(name, ())


def test_javascript_knows_no_calculator_and_does_no_sums() -> None:
    names = [m.name for m in pkgutil.iter_modules([str(ROOT / "calc" / "calculators")])]
    assert "power" in names
    for path in (ROOT / "site_build" / "browser").glob("*.js"):
        source = path.read_text("utf-8")
        for name in names:
            assert not re.search(rf"[\"'`]{name}[\"'`]", source), f"{path.name} knows {name}"
        assert "Math.sqrt" not in source
        assert "Math.pow" not in source
