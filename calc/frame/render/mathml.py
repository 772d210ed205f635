"""Formulas of the working as MathML, out of the notation that a test can evaluate."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from functools import lru_cache
from html import escape

GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "Delta": "Δ",
    "epsilon": "ε",
    "zeta": "ζ",
    "eta": "η",
    "theta": "θ",
    "kappa": "κ",
    "lambda_": "λ",
    "mu": "μ",
    "nu": "ν",
    "xi": "ξ",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "chi": "χ",
    "psi": "ψ",
    "omega": "ω",
    "Omega": "Ω",
    "Phi": "Φ",
}
_FUNCTIONS = {
    "sin",
    "cos",
    "tan",
    "asin",
    "acos",
    "atan",
    "min",
    "max",
    "log10",
    "log",
    "exp",
    "abs",
}
_SHOWN = {"asin": "arcsin", "acos": "arccos", "atan": "arctan", "log": "ln", "log10": "lg"}

Leaf = Callable[[str], str]


def formula(text: str) -> str:
    """`"P = Q * dp / eta"` as a MathML element. Raises SyntaxError for what it cannot read."""
    return _formula(text)


@lru_cache(maxsize=512)
def _formula(text: str) -> str:
    left, right = text.split("=", 1)
    body = symbol(left.strip()) + "<mo>=</mo>" + _node(_tree(right), symbol)
    return f"<math>{body}</math>"


def with_numbers(text: str, numbers: Mapping[str, str]) -> str:
    """The right side of a formula with texts like "55 bar" put in for its symbols."""

    def leaf(name: str) -> str:
        if name not in numbers:
            return symbol(name)
        return f"<mtext>{escape(numbers[name])}</mtext>"

    right = text.split("=", 1)[1]
    return f"<math><mo>=</mo>{_node(_tree(right), leaf)}</math>"


@lru_cache(maxsize=1024)
def symbol(name: str) -> str:
    """A symbol: Greek by name, "P_shaft" with a subscript, "dp" as Δp."""
    head, _, sub = name.partition("_")
    if head.startswith("d") and len(head) == 2:
        head = "Δ" + head[1]
    head = GREEK.get(head, head)
    main = f"<mi>{escape(head)}</mi>"
    if not sub:
        return main
    return f"<msub>{main}<mtext>{escape(GREEK.get(sub, sub.replace('_', ' ')))}</mtext></msub>"


@lru_cache(maxsize=512)
def _tree(expression: str) -> ast.expr:
    return ast.parse(expression.strip(), mode="eval").body


def _node(node: ast.expr, leaf: Leaf) -> str:
    if isinstance(node, ast.Name):
        return leaf(node.id)
    if isinstance(node, ast.Constant):
        return f"<mn>{escape(_number(node.value))}</mn>"
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return f"<mrow><mo>−</mo>{_wrapped(node.operand, leaf)}</mrow>"
    if isinstance(node, ast.BinOp):
        return _binary(node, leaf)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return _call(node.func.id, node.args, leaf)
    raise SyntaxError(f"a formula cannot hold {ast.unparse(node)!r}")


def _number(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _binary(node: ast.BinOp, leaf: Leaf) -> str:
    if isinstance(node.op, ast.Div):
        return f"<mfrac>{_row(node.left, leaf)}{_row(node.right, leaf)}</mfrac>"
    if isinstance(node.op, ast.Pow):
        return f"<msup>{_wrapped(node.left, leaf)}{_row(node.right, leaf)}</msup>"
    if isinstance(node.op, ast.Mult):
        left, right = _wrapped(node.left, leaf), _wrapped(node.right, leaf)
        return f"<mrow>{left}<mo>·</mo>{right}</mrow>"
    if isinstance(node.op, (ast.Add, ast.Sub)):
        sign = "+" if isinstance(node.op, ast.Add) else "−"
        right = _node(node.right, leaf)
        if isinstance(node.op, ast.Sub) and _is_sum(node.right):
            right = _fenced(right)
        return f"<mrow>{_node(node.left, leaf)}<mo>{sign}</mo>{right}</mrow>"
    raise SyntaxError(f"a formula cannot hold {ast.unparse(node)!r}")


def _call(name: str, args: list[ast.expr], leaf: Leaf) -> str:
    inner = "<mo>,</mo>".join(_node(arg, leaf) for arg in args)
    if name == "sqrt":
        return f"<msqrt>{inner}</msqrt>"
    if name == "abs":
        return f"<mrow><mo>|</mo>{inner}<mo>|</mo></mrow>"
    if name == "exp":
        return f"<msup><mi>e</mi><mrow>{inner}</mrow></msup>"
    if name not in _FUNCTIONS:
        raise SyntaxError(f"a formula knows no function {name!r}")
    return f"<mrow><mi>{_SHOWN.get(name, name)}</mi>{_fenced(inner)}</mrow>"


def _is_sum(node: ast.expr) -> bool:
    return isinstance(node, ast.BinOp) and isinstance(node.op, (ast.Add, ast.Sub))


def _wrapped(node: ast.expr, leaf: Leaf) -> str:
    made = _node(node, leaf)
    return _fenced(made) if _is_sum(node) else made


def _row(node: ast.expr, leaf: Leaf) -> str:
    return f"<mrow>{_node(node, leaf)}</mrow>"


def _fenced(inner: str) -> str:
    return f"<mrow><mo>(</mo>{inner}<mo>)</mo></mrow>"
