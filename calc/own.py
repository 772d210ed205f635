"""Calculators that come from outside of this package: an edition's own, handed over as text.

Each has the shape of those in `calculators/`, a file or a folder, and imports as they do
(`from ..frame.guide import decides`). They become modules below a package that is new each time, so
that none can take another's place: two guides stand side by side, each with its own.
"""

from __future__ import annotations

import itertools
import sys
from collections.abc import Mapping, Sequence
from importlib import import_module
from importlib.machinery import ModuleSpec
from types import ModuleType
from typing import Any

from . import calculators
from .frame.guide import Calculator

FOLDER = "calculators"  # of an edition: its files are named from here on in faults and tracebacks

Sources = Mapping[str, str]  # the text of each file by its path: "funnel/asks.py"

_numbers = itertools.count(1)


class Package:
    """A package that nothing else is in, with these sources as its modules."""

    def __init__(self, sources: Sources) -> None:
        self.sources = sources
        self._name = f"{__package__}.own_{next(_numbers)}"
        root = ModuleType(self._name)
        root.__path__ = []
        sys.modules[self._name] = root
        sys.meta_path.append(_Finder(self._name, sources))

    def names(self) -> tuple[str, ...]:
        """The names of its calculators, in alphabetical order."""
        tops = {path.partition("/")[0].removesuffix(".py") for path in self.sources}
        return tuple(sorted(name for name in tops if not name.startswith("_")))

    def module(self, name: str) -> ModuleType:
        """The module of a calculator. Raises whatever its code raises, and SyntaxError."""
        return import_module(f"{self._name}.{name}")

    def calculator(self, name: str) -> Calculator:
        """A calculator. Raises what `module` does, and AttributeError where it lacks a part."""
        return calculators.made(name, self.module(name))


def load(sources: Sources) -> dict[str, Calculator]:
    """All calculators of these sources by name. Raises whatever their code raises."""
    if not sources:
        return {}
    package = Package(sources)
    return {name: package.calculator(name) for name in package.names()}


class _Finder:
    """Finds the modules of one package, and loads them."""

    def __init__(self, package: str, sources: Sources) -> None:
        self._package = package
        self._sources = sources

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """What Python's import asks: None for a module that is none of these."""
        found = self._path(name)
        if found is None:
            return None
        whole = found.endswith("/__init__.py")
        loader: Any = self  # as good as one; the class to inherit from would go into the engine
        spec = ModuleSpec(name, loader, origin=f"{FOLDER}/{found}", is_package=whole)
        spec.has_location = True  # tracebacks and messages name the file
        return spec

    def create_module(self, spec: ModuleSpec) -> ModuleType | None:
        """None: an ordinary one will do."""

    def exec_module(self, module: ModuleType) -> None:
        """Runs the source of a module in it."""
        path = self._path(module.__name__)
        assert path is not None
        code = compile(self._sources[path], f"{FOLDER}/{path}", "exec", dont_inherit=True)
        exec(code, module.__dict__)

    def get_source(self, name: str) -> str | None:
        """What tracebacks show the lines of."""
        path = self._path(name)
        return None if path is None else self._sources[path]

    def _path(self, name: str) -> str | None:
        if not name.startswith(f"{self._package}."):
            return None
        place = name.removeprefix(f"{self._package}.").replace(".", "/")
        for path in (f"{place}.py", f"{place}/__init__.py"):
            if path in self._sources:
                return path
        return None
