"""Builds the whole site; a build that fails leaves the old one as it was."""

from __future__ import annotations

import json
import logging
import os
import shutil
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from calc import stock
from calc.equipment import EquipmentError
from calc.frame.guide import Guide
from site_build import (
    check,
    engine,
    fonts,
    kit,
    language_sites,
    machine,
    making,
    offline,
    site_config,
)
from site_build import language as words
from site_build.edition import STOCK, Edition
from site_build.language_extract import messages, of_own
from site_build.steps import Say, Trouble, duration


def build_site(
    out: Path, say: Say, strict: bool = True, edition: Edition = STOCK, guide: Guide | None = None
) -> None:
    """Builds the stock guide, or an edition's, into `out`. Raises Trouble with what is wrong.

    What is wrong with the records is told first of all, before anything that takes long.
    """
    try:
        made = guide or stock.guide()
    except EquipmentError as error:
        raise Trouble(str(error)) from None
    sites, faults, _ = language_sites.spoken(edition)
    if faults:
        raise Trouble("\n".join(map(str, faults)))
    ready = kit.kit(say)
    # A folder of its own: another build may be under way, of the tests or in another terminal.
    with tempfile.TemporaryDirectory(prefix="brinebook-") as folder:
        fresh = Path(folder) / "site"
        started = time.monotonic()
        say("Pages …")
        for site in sites:  # those below the root last: MkDocs empties the folder that it fills
            guide = language_sites.guide_in(made, site)
            data = engine.guide_file(stock.data(guide))
            lacking: dict[str, set[str]] = {}  # what the pages miss, by page
            extra = {
                "lacking": lacking,
                "guide": json.dumps(data.entry),
                "alternates": language_sites.alternates(edition, sites, site),
                "up": site.up,
            }
            loader = f"{site.up}assets/engine/{ready.engine.loader}"
            work = Path(folder) / "work" / site.catalogue.code
            work.mkdir(parents=True)
            with site.speaking():
                settings = site_config.write(edition, work, site)
                with making.within(edition, guide, work / "docs"):
                    _pages(settings, fresh / site.place, loader, extra, strict)
            data.copy_to(_folder(fresh / "assets" / "engine"))
            fonts.copy(machine.ROOT / "node_modules", fresh / site.place)
            _tell_of(lacking, site, made, say)
        ready.engine.copy_to(fresh / "assets" / "engine")
        say(f"Pages … done in {duration(time.monotonic() - started)}.")
        with making.within(edition, made):
            offline.finish(fresh, ready.worker, say, sites)
        _replace(out, fresh)


def build_edition(folder: Path, out: Path, say: Say) -> None:
    """Builds the edition in a folder, unless `check` has something against it: then Trouble."""
    checked = check.check(folder)
    for doubt in checked.doubts:
        say(f"Doubt: {doubt}")
    if checked.faults or checked.guide is None:
        raise Trouble("\n".join(map(str, checked.faults)))
    build_site(out, say, edition=checked.edition, guide=checked.guide)


def _folder(path: Path) -> Path:
    path.mkdir(parents=True, exist_ok=True)
    return path


def _tell_of(
    lacking: Mapping[str, set[str]], site: language_sites.Spoken, made: Guide, say: Say
) -> None:
    """How many sentences of each page stay English."""
    if not any(lacking.values()):
        return
    source = {found.words for found in (*messages(), *of_own(made.sources))}
    for page, found in sorted(lacking.items()):
        if missing := words.lacking(found, source):
            say(f"{site.place}{page}: {len(missing)} sentences have no translation")


def _pages(settings: Path, out: Path, loader: str, extra: Mapping[str, Any], strict: bool) -> None:
    os.environ["NO_MKDOCS_2_WARNING"] = "1"  # Material's notice; both are pinned
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, BuildError

    heard = _Listener()
    logging.getLogger("mkdocs").addHandler(heard)
    try:
        config = load_config(str(settings), site_dir=str(out), strict=strict)
        config.extra_javascript.append(loader)
        config.extra["edition"] = offline.edition()
        config.extra |= extra
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
