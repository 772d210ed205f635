"""What a build takes ready-made: the engine and the service worker, which Node makes once.

In the repository they are made, or taken from the cache; a wheel brings them along, so that who
installs it needs no Node.js.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from . import engine, machine, offline
from .engine import EngineFiles
from .steps import Say
from .workshop import NEWEST, Workshop

CACHE = machine.REPOSITORY / ".cache"
# In a wheel's `packed`: the engine's folder, the service worker, licences, the last commit's time.
ENGINE, WORKER, LICENCES, MOMENT = "engine", "service-worker.js", "licences.json", "moment"


@dataclass(frozen=True)
class Kit:
    """The engine's files, and the service worker of any site (`offline.worker_for_all`)."""

    engine: EngineFiles
    worker: str


def kit(say: Say) -> Kit:
    """The kit of the wheel, else one made here. Raises Trouble when a step fails."""
    if machine.PACKED.is_dir():
        worker = (machine.PACKED / WORKER).read_text("utf-8")
        return Kit(engine.found(machine.PACKED / ENGINE), worker)
    node = machine.node()
    machine.node_modules()
    made = engine.build(CACHE, machine.REPOSITORY / "calc", node, Path(sys.executable), say)
    lock = (machine.REPOSITORY / "package-lock.json").read_bytes()
    scripts = [*engine.BROWSER.glob("*.js"), engine.STEPS / "bundle.mjs", Path(offline.__file__)]
    ingredients = [lock, *(path.read_bytes() for path in sorted(scripts))]
    worker = kept("service-worker", ingredients, lambda: offline.worker_for_all(node))
    return Kit(made, worker)


def kept(
    name: str, ingredients: Iterable[bytes], make: Callable[[], str], newest: int = NEWEST
) -> str:
    """What `make` gives, out of the cache while no ingredient changes; a wheel has no cache."""
    if machine.PACKED.is_dir():
        return make()
    return Workshop(CACHE / "engine", lambda _: None).text(name, ingredients, make, newest)
