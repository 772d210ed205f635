"""A file or folder each: its docstring asks the question, `Asks` declares, `answer` answers."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from types import ModuleType

from ..frame.guide import Calculator


@cache
def found() -> Mapping[str, Calculator]:
    """Every calculator of this package by name, in alphabetical order."""
    names = sorted(m.name for m in pkgutil.iter_modules(__path__) if m.name[0] != "_")
    return {name: made(name, importlib.import_module(f"{__name__}.{name}")) for name in names}


def made(name: str, module: ModuleType) -> Calculator:
    """The calculator that a module declares."""
    question = (module.__doc__ or "").strip().splitlines()[0]
    cautions = getattr(module, "CAUTIONS", ())
    return Calculator(
        name,
        module.TITLE,
        question,
        module.Asks,
        module.answer,
        cautions,
        getattr(module, "DECIDES", ()),
        getattr(module, "WANTED", ()),
        getattr(module, "PICTURE", ""),
        getattr(module, "KINDS", ()),
        getattr(module, "QUANTITIES", ()),
        getattr(module, "SLOW", False),
    )
