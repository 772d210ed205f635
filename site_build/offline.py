"""Makes a finished site one that can be kept: by the browser, and as one zip to take along.

`finish` comes after everything else that writes into the site: it names every file with its hash.
Two builds of the same sources give the same bytes.
"""

from __future__ import annotations

import base64
import calendar
import datetime
import hashlib
import json
import os
import re
import subprocess
import tempfile
import time
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from calc.frame import dates
from calc.frame.language import spoken
from site_build import machine, making
from site_build.engine import BROWSER, bundle
from site_build.language_sites import STEMMERS, SUPPORT, Spoken
from site_build.site_config import STOCK_SITE
from site_build.steps import Say, Trouble
from site_build.workshop import hash_of

SERVICE_WORKER = "sw.js"
ZIP = "brinebook.zip"
ZIP_FOLDER = "brinebook"  # what is unpacked stands in a folder of its own
ENGINE = "assets/engine/"
# Written for search engines and hosts; no page asks for them.
NOT_KEPT = ("sitemap.xml", "sitemap.xml.gz", "embed.js", SERVICE_WORKER, ZIP)
FRAMES = "/embed/"  # for pages of others, on the web alone
FIRST_OF_ZIP = 315_532_800  # s: the first moment of 1980, before which a zip knows no date
SPARED = ("**/*.map",)  # of the theme's files


@dataclass(frozen=True)
class Edition:
    """What a site is told apart by: a hash of all its files, and the date of its sources.

    `size` is what a browser keeps of it [bytes], `zip_size` that of the zip.
    """

    key: str
    date: str
    size: int
    zip_size: int


def finish(site: Path, worker: str, say: Say, sites: Sequence[Spoken] = (STOCK_SITE,)) -> Edition:
    """Write the service worker and the zip into a finished site; `worker` is `worker_for_all`.

    `sites` are the languages it has: each keeps what its search wants of the theme's files, and is
    told the date in its own words.
    """
    say("Making the offline copy …")
    for one in sites:
        for path in sorted(site.glob(f"{one.place}{STEMMERS}/**/*.js")):
            if path.name not in one.needed():
                path.unlink()
            elif path.name == SUPPORT:
                path.write_text(f"{path.read_text('utf-8')}\n{_stems()}", "utf-8")
    for old in (SERVICE_WORKER, ZIP, *SPARED):
        for path in sorted(site.glob(old)):
            path.unlink()
    files = {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }
    kept = {
        name: data
        for name, data in sorted(files.items())
        if name not in NOT_KEPT and FRAMES not in f"/{name}"
    }
    key = hash_of(*(part for name, data in kept.items() for part in (name.encode(), data)))
    moment = source_time()
    told = {one.catalogue.code: _told(one) for one in sites}
    date = told[sites[0].catalogue.code]
    size = sum(len(data) for data in kept.values())
    manifest = {
        "key": key,
        "date": date,
        "dates": told,
        "time": time.strftime("%H:%M UTC", moment) if moment else "",
        "moment": calendar.timegm(moment) if moment else None,
        "size": size,
        "pages": [_entry(name, data) for name, data in kept.items() if not name.startswith(ENGINE)],
        "engine": [
            _entry(name, data) | {"revision": None}
            for name, data in kept.items()
            if name.startswith(ENGINE)
        ],
    }
    written = json.dumps(manifest, separators=(",", ":"), ensure_ascii=False)
    (site / SERVICE_WORKER).write_text(worker.replace(_UNTOLD, written), "utf-8")
    _write_zip(site / ZIP, kept, moment or time.gmtime(FIRST_OF_ZIP))
    return Edition(key, date, size, (site / ZIP).stat().st_size)


def source_time() -> time.struct_time | None:
    """When what is built was last changed (UTC): SOURCE_DATE_EPOCH, or the last commit's time, of
    the guide's own sources or of the edition's where that is later.

    None for sources that come without their history.
    """
    folder = making.edition().folder
    told = [os.environ.get("SOURCE_DATE_EPOCH") or ""]
    if not told[0]:
        told = [_stock_time(), commit_time(folder) if folder else ""]
    epochs = [int(one) for one in told if one]
    return time.gmtime(max(epochs)) if epochs else None


def _stock_time() -> str:
    packed = machine.PACKED / "moment"
    return packed.read_text() if packed.is_file() else commit_time(machine.REPOSITORY)


def edition() -> str:
    """The date of the sources in words of the language that is spoken, by which readers know an
    edition; "" if it is unknown."""
    moment = source_time()
    return dates.in_full(datetime.date(*moment[:3])) if moment else ""


def _stems() -> str:
    return (BROWSER / "stems.js").read_text("utf-8")


def _told(site: Spoken) -> str:
    """The edition's date for the readers of a language."""
    with site.speaking():
        return edition() or spoken("an unknown date")


def commit_time(folder: Path) -> str:
    """The time [s] of the last commit that changed a folder, "" if it has no history."""
    try:
        done = subprocess.run(
            ["git", "log", "-1", "--format=%ct", "--", "."],
            cwd=folder,
            capture_output=True,
            text=True,
            timeout=30,
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return done.stdout.strip() if done.returncode == 0 else ""


def _entry(name: str, data: bytes) -> dict[str, Any]:
    """A file as Workbox takes it; its hash makes the browser refuse one of another edition."""
    digest = base64.b64encode(hashlib.sha256(data).digest()).decode("ascii")
    return {"url": name, "revision": hash_of(data), "integrity": f"sha256-{digest}"}


_UNTOLD = '{edition:"untold"}'  # where a site's manifest goes, as the bundler writes it


def worker_for_all(node: Path) -> str:
    """The service worker of any site, bundled but for the site's own manifest.

    Raises Trouble if it can't be.
    """
    with tempfile.TemporaryDirectory() as scratch:
        target = Path(scratch) / SERVICE_WORKER
        defines = {"EDITION": {"edition": "untold"}, "process.env.NODE_ENV": "production"}
        bundle(node, BROWSER / "service-worker.js", target, defines)
        made = target.read_text("utf-8")
    if made.count(_UNTOLD) != 1:
        raise Trouble("The service worker has no place for its manifest: see offline.py.")
    return made


def _write_zip(path: Path, files: dict[str, bytes], moment: time.struct_time) -> None:
    date = (moment.tm_year, moment.tm_mon, moment.tm_mday, 0, 0, 0)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        for name, data in files.items():
            entry = zipfile.ZipInfo(f"{ZIP_FOLDER}/{name}", date)
            # The engine's parts are packed already: it would take long, for one part in 250.
            packs = not re.search(rf"^{ENGINE}.*\.\d+\.js$", name)
            entry.compress_type = zipfile.ZIP_DEFLATED if packs else zipfile.ZIP_STORED
            entry.create_system = 3  # the same on every system: plain files with the usual rights
            entry.external_attr = 0o644 << 16
            packed.writestr(entry, data)
