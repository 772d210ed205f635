"""What a function is for, its source, its units and its refusals stand in its docstring."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

CALC = Path(__file__).parents[1] / "calc"
PHYSICS = [p for p in sorted((CALC / "physics").glob("*.py")) if p.stem[0] != "_"]

# What counts as a source: words after "Source:", or that there is none.
SOURCE = re.compile(r"[Ss]ource: \S.{2,}|common practice, no source")
AS_ANOTHER = re.compile(r"[Ss]ource: (?:as|see) `?(\w+)`?")
UNIT = re.compile(r"\[[^\[\]]+\]")


def functions(path: Path) -> dict[str, ast.FunctionDef]:
    tree = ast.parse(path.read_text("utf-8"))
    return {n.name: n for n in tree.body if isinstance(n, ast.FunctionDef) and n.name[0] != "_"}


def words(node: ast.FunctionDef) -> str:
    return " ".join((ast.get_docstring(node) or "").split())


def own(node: ast.AST) -> Iterator[ast.AST]:
    """What stands in a body, but for what stands in the functions within."""
    for part in ast.iter_child_nodes(node):
        yield part
        if not isinstance(part, (ast.FunctionDef, ast.Lambda)):
            yield from own(part)


def fault(node: ast.FunctionDef) -> str:
    """What a relation's docstring lacks."""
    text = words(node)
    returns = ast.unparse(node.returns) if node.returns else ""
    if not text:
        return "a docstring"
    if not SOURCE.search(text):
        return "its source: 'Source: …', a definition, or 'common practice, no source'"
    if re.search(r"\b(float|complex)\b", returns) and not UNIT.search(text):
        return "its units in square brackets"
    if any(isinstance(part, ast.Raise) for part in own(node)) and not re.search("Raises", text):
        return "what it raises"
    return ""


@pytest.mark.parametrize("path", PHYSICS, ids=lambda p: p.stem)
def test_a_relation_says_its_source_its_units_and_what_it_refuses(path: Path) -> None:
    faults = {name: fault(node) for name, node in functions(path).items()}
    assert {name: lack for name, lack in faults.items() if lack} == {}


@pytest.mark.parametrize("path", PHYSICS, ids=lambda p: p.stem)
def test_a_source_that_is_another_relations_is_there(path: Path) -> None:
    text = path.read_text("utf-8")
    for name, node in functions(path).items():
        for other in AS_ANOTHER.findall(words(node)):
            defined = re.search(rf"^(def {other}\(|{other}\b.* = | +{other}: )", text, re.MULTILINE)
            assert defined and other != name, f"{path.stem}.{name} takes its source from {other}"


def test_the_law_sees_what_a_docstring_lacks() -> None:
    def lacks(docstring: str, body: str = "return 1.0", returns: str = "float") -> str:
        made = ast.parse(f'def f() -> {returns}:\n    """{docstring}"""\n    {body}').body[0]
        assert isinstance(made, ast.FunctionDef)
        return fault(made)

    assert "docstring" in lacks("")
    assert "source" in lacks("A length [m].")
    assert "source" in lacks("A length [m]. Source:")
    assert "units" in lacks("A length. Source: Hooke's law.")
    assert "raises" in lacks("A length [m]. Source: Hooke's law.", "raise ValueError")
    assert lacks("A name. Source: IEC 60228.", returns="str") == ""
    assert lacks("A length [m]; common practice, no source. Raises ValueError.", "raise E") == ""


def undocumented(path: Path, members: bool) -> list[str]:
    """The public classes and functions of a file without a docstring, if wanted their members too.
    One of several declared types of a function has none, nor has a field."""
    found = []

    def walk(body: list[ast.stmt], before: str) -> None:
        for node in body:
            if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and node.name[0] != "_":
                overload = any(ast.unparse(d) == "overload" for d in node.decorator_list)
                if not ast.get_docstring(node) and not overload:
                    found.append(before + node.name)
                if members and isinstance(node, ast.ClassDef):
                    walk(node.body, f"{before}{node.name}.")

    walk(ast.parse(path.read_text("utf-8")).body, "")
    return found


@pytest.mark.parametrize(("room", "members"), [("system", True), ("frame", False)])
def test_what_is_public_says_what_it_is(room: str, members: bool) -> None:
    lacking = {
        str(path.relative_to(CALC)): undocumented(path, members)
        for path in sorted((CALC / room).rglob("*.py"))
    }
    assert {path: names for path, names in lacking.items() if names} == {}
