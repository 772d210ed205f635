"""What a build takes ready-made: the engine and the service worker, which Node makes once.

In the repository they are made, or taken from the cache; a wheel brings them along, so that who
installs it needs no Node.js.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from . import engine, machine, offline
from .engine import EngineFiles
from .steps import Say

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
    return Kit(made, offline.worker_for_all(node))
