"""What the browser asks of the package: the frame's service, for the stock guide."""

from __future__ import annotations

from collections.abc import Iterator

from . import stock
from .frame import service


def handle(request: str) -> str:
    """Answers one request of a page, both JSON; see `service.handle`."""
    return service.handle(request, stock.guide())


def exercise() -> None:
    """Runs every calculator for every demo boat in all unit systems, so that all is loaded."""
    service.exercise(stock.guide())


def rehearsal(most: float = 0.8) -> Iterator[None]:
    """Works out one answer a step, for `most` seconds: WebAssembly runs faster once it is used."""
    return service.rehearsal(stock.guide(), most)


def warm() -> None:
    """Loads what every answer needs, and no more: a browser starts from the memory this leaves."""
    service.warm(stock.guide())
