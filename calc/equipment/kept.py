"""Records that were read before: a start in the browser reads none that it does not need."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Any

from ..frame.inputs import Inputs, Layer, Origin, Shelves, bind


class _Shelf(Mapping[str, Any]):
    """Records of a kind, each read when it is first asked for."""

    def __init__(self, keys: Mapping[str, Any], read: Callable[[str], Any]) -> None:
        self._keys = keys
        self._read = read
        self._found: dict[str, Any] = {}

    def __getitem__(self, key: str) -> Any:
        if key not in self._found:
            if key not in self._keys:
                raise KeyError(key)
            self._found[key] = self._read(key)
        return self._found[key]

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)


def shelves(
    tables: Mapping[str, Mapping[str, Mapping[str, Any]]], kinds: Mapping[str, type[Inputs]]
) -> Shelves:
    """Shelves of records whose fields are given by kind and key.

    A record that was never right raises ValueError when it is asked for.
    """
    found: dict[str, Mapping[str, Any]] = {}

    def read(kind: str, key: str) -> Any:
        texts = tables[kind][key]
        bound = bind(kinds[kind], Layer(Origin("file"), texts), shelves=found)
        if bound.faults:
            raise ValueError(f"{kind} “{key}”: {bound.faults[0].field}, {bound.faults[0].sentence}")
        return kinds[kind].of({**bound.values, "key": key, "kind": kind, "texts": dict(texts)})

    for kind in kinds:
        found[kind] = _Shelf(tables.get(kind, {}), partial(read, kind))
    return found
