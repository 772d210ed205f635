"""What the browser asks of the package: the frame's service, for the guide that it was given.

The engine has the code alone; the guide's records come apart from it, and each start begins with
them. Without them (at a terminal, in tests) the guide is the stock one.
"""

from __future__ import annotations

import gc
import json
from collections.abc import Iterator

from . import stock
from .frame import forgetting, service
from .frame.guide import Guide

_begun: Guide | None = None
_RARELY = 50_000  # objects more than before; an answer that is being made holds some thousands


def begin(data: str) -> None:
    """From now on all answers are those of this guide; see `stock.data`.

    What is loaded by now stays: the collector of garbage doesn't look through it any more, which
    took half a second in the midst of an answer. An answer leaves nothing to collect, so it is
    looked for but rarely.
    """
    global _begun
    _begun = stock.from_data(data)
    gc.freeze()
    gc.set_threshold(_RARELY)


def guide() -> Guide:
    """The guide that answers."""
    return stock.guide() if _begun is None else _begun


def handle(request: str) -> str:
    """Answers one request of a page, both JSON; see `service.handle`."""
    return service.handle(request, guide())


def exercise() -> None:
    """Runs every calculator for every demo boat in all unit systems, so that all is loaded."""
    service.exercise(guide())


def rehearsal(most: float = 0.8, shown: str = "[]") -> Iterator[None]:
    """Works out one answer a step; `shown` are the requests of the page's own calculators as a list
    in JSON, see `service.rehearsal`."""
    return service.rehearsal(guide(), most, json.loads(shown))


def warm(data: str) -> None:
    """Loads what every answer needs, and no more: a browser starts from the memory this leaves.

    `data` are records to rehearse with; the guide that answers later doesn't know them.
    """
    service.warm(stock.from_data(data))
    forgetting.forget_answers()
