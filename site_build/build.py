"""Builds the whole site; a build that fails leaves the old one as it was."""

from __future__ import annotations

import json
import logging
import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

from calc import stock
from site_build import engine, fonts, machine, offline
from site_build.steps import Say, Trouble, duration

ROOT = Path(__file__).resolve().parent.parent
CACHE = ROOT / ".cache"


def build_site(out: Path, say: Say, strict: bool = True) -> None:
    """Builds the guide into `out`. Raises Trouble with what is wrong and where."""
    node = machine.node()
    machine.node_modules()
    guide = engine.guide_file(stock.data(stock.guide()))
    made = engine.build(CACHE, ROOT / "calc", node, Path(sys.executable), say)
    # A folder of its own: another build may be under way, of the tests or in another terminal.
    with tempfile.TemporaryDirectory(dir=CACHE, prefix="site-") as folder:
        fresh = Path(folder) / "site"
        started = time.monotonic()
        say("Pages …")
        _pages(fresh, made.loader, guide, strict)
        made.copy_to(fresh / "assets" / "engine")
        guide.copy_to(fresh / "assets" / "engine")
        fonts.copy(machine.ROOT / "node_modules", fresh)
        say(f"Pages … done in {duration(time.monotonic() - started)}.")
        offline.finish(fresh, node, say)
        _replace(out, fresh)


def _pages(out: Path, loader: str, guide: engine.GuideFile, strict: bool) -> None:
    os.environ["NO_MKDOCS_2_WARNING"] = "1"  # Material's notice; both are pinned
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, BuildError

    heard = _Listener()
    logging.getLogger("mkdocs").addHandler(heard)
    try:
        config = load_config(str(ROOT / "mkdocs.yml"), site_dir=str(out), strict=strict)
        config.extra_javascript.append(f"assets/engine/{loader}")
        config.extra["edition"] = offline.edition()
        config.extra["guide"] = json.dumps(guide.entry)
        build(config)
    except (Abort, BuildError) as error:
        raise Trouble("\n".join([*heard.lines, str(error)])) from None
    finally:
        logging.getLogger("mkdocs").removeHandler(heard)


class _Listener(logging.Handler):
    """Keeps MkDocs' warnings, which in a strict build are the reason why it fails."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


def _replace(out: Path, fresh: Path) -> None:
    """The new site takes the old one's place."""
    if out.exists() and not (out / "index.html").exists() and any(out.iterdir()):
        raise Trouble(f"{out} holds something else than a site; name an empty folder")
    shutil.rmtree(out, ignore_errors=True)
    out.parent.mkdir(parents=True, exist_ok=True)
    shutil.move(str(fresh), str(out))
