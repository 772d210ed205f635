"""Building again when a source changes."""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

SOURCES = ("docs", "calc", "site_build", "mkdocs.yml")
SETTLE = 0.3  # s without a change before building: editors save in several steps
CHANGES = {"created", "modified", "moved", "deleted"}  # to open or to close a file is none


def watch(root: Path, changed: Callable[[], None], sources: Collection[str] = SOURCES) -> None:
    """Call `changed` after each change of a source below `root`, until Ctrl-C."""
    handler = _Handler(root, sources)
    observer = Observer()
    observer.schedule(
        handler, str(root)
    )  # for mkdocs.yml: a file's own watch ends when it is replaced
    for name in sources:
        if (root / name).is_dir():
            observer.schedule(handler, str(root / name), recursive=True)
    observer.start()
    try:
        while True:
            if handler.change.wait(1):
                while handler.change.is_set():
                    handler.change.clear()
                    handler.change.wait(SETTLE)
                changed()
    finally:
        observer.stop()
        observer.join()


class _Handler(FileSystemEventHandler):
    def __init__(self, root: Path, sources: Collection[str]) -> None:
        self.change = threading.Event()
        self._root = root
        self._sources = sources

    def on_any_event(self, event: FileSystemEvent) -> None:
        parts = Path(str(event.src_path)).relative_to(self._root).parts
        is_source = bool(parts) and parts[0] in self._sources and "__pycache__" not in parts
        if is_source and not event.is_directory and event.event_type in CHANGES:
            self.change.set()
