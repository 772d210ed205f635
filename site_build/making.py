"""What is being made: whose edition, and out of which folder of pages.

A build or a check runs `within` one; whatever it calls may ask. Outside of it is the stock.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path

from calc import stock
from calc.frame import units
from calc.frame.guide import Guide

from . import machine
from .edition import STOCK, Edition

STOCK_PAGES = machine.ROOT / "docs"

_edition: ContextVar[Edition] = ContextVar("the edition that is made", default=STOCK)
_docs: ContextVar[Path] = ContextVar("its folder of pages", default=STOCK_PAGES)


def edition() -> Edition:
    """Whose guide is made: its name, its examples, what it hides."""
    return _edition.get()


def docs() -> Path:
    """The folder of all its pages, the stock's and its own in one."""
    return _docs.get()


@contextmanager
def within(made: Edition, guide: Guide, folder: Path | None = None) -> Iterator[None]:
    """Within it this edition is made: `edition` and `docs` are its own, and so is `stock.guide`."""
    first = _edition.set(made)
    second = _docs.set(folder or docs())
    third = units.money.set(guide.money)
    try:
        with stock.used(guide):
            yield
    finally:
        units.money.reset(third)
        _docs.reset(second)
        _edition.reset(first)
