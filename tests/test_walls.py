"""Who may import whom, and what JavaScript may not do."""

from __future__ import annotations

import ast
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


@pytest.mark.parametrize("path", modules("calc/calculators"), ids=lambda p: p.name)
def test_calculators_do_not_import_each_other(path: Path) -> None:
    if path.name == "__init__.py":
        return
    for name in imported(path):
        assert not name.startswith("calc.calculators"), name
        assert not name.startswith("calc.frame.render"), name


@pytest.mark.parametrize("path", modules("calc/models"), ids=lambda p: p.name)
def test_models_import_no_calculator_and_no_rendering(path: Path) -> None:
    for name in imported(path):
        assert not name.startswith(("calc.calculators", "calc.frame.render", "calc.frame.service")), name


@pytest.mark.parametrize(
    "path",
    [p for p in modules("calc") if p.parent.name not in ("models", "calculators")],
    ids=lambda p: str(p.relative_to(ROOT)),
)
def test_only_calculators_import_models(path: Path) -> None:
    assert not [name for name in imported(path) if name.startswith("calc.models")]


def test_javascript_knows_no_calculator_and_does_no_sums() -> None:
    names = [p.stem for p in modules("calc/calculators") if p.stem != "__init__"]
    for path in (ROOT / "site_build" / "browser").glob("*.js"):
        source = path.read_text("utf-8")
        for name in names:
            assert not re.search(rf"[\"'`]{name}[\"'`]", source), f"{path.name} knows {name}"
        assert "Math.sqrt" not in source
        assert "Math.pow" not in source
