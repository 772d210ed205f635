"""What takes long and is made again only when something has changed that went into it."""

from __future__ import annotations

import hashlib
import re
import shutil
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

from site_build.steps import Say

HASH_LENGTH = 12  # hex digits of a hash in a name
NEWEST = 3  # what is tried back and forth stays quick


class Workshop:
    """Runs steps, each of which fills a folder, and keeps what they make in a cache."""

    def __init__(self, cache: Path, say: Say, common: Iterable[bytes] = ()) -> None:
        """`common` goes into every step."""
        self._cache = cache
        self._say = say
        self._common = hash_of(*common)

    def make(
        self,
        name: str,
        title: str,
        ingredients: Iterable[bytes],
        make: Callable[[Path], None],
        newest: int = NEWEST,
    ) -> Path:
        """The folder that `make` fills, made anew only when an ingredient has changed.

        Of each name the newest few are kept. An empty title isn't told.
        """
        folder = self._cache / f"{name}-{hash_of(self._common.encode(), *ingredients)}"
        if folder.exists():
            folder.touch()
            return folder
        if title:
            self._say(title)
        self._cache.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(
            dir=self._cache, prefix=f"{name}-", ignore_cleanup_errors=True
        ) as unfinished:
            make(Path(unfinished))
            self._forget_old(name, newest)
            try:
                Path(unfinished).rename(folder)
            except OSError:
                if not folder.exists():  # else another build was quicker with the same
                    raise
        return folder

    def text(
        self, name: str, ingredients: Iterable[bytes], make: Callable[[], str], newest: int = NEWEST
    ) -> str:
        """The text that `make` gives, made anew only when an ingredient has changed."""

        def write(folder: Path) -> None:
            (folder / "text").write_bytes(make().encode())

        return (self.make(name, "", ingredients, write, newest) / "text").read_bytes().decode()

    def _forget_old(self, name: str, newest: int) -> None:
        kept = [
            path
            for path in self._cache.glob(f"{name}-*")
            if re.search(rf"-[0-9a-f]{{{HASH_LENGTH}}}$", path.name)
        ]
        for old in sorted(kept, key=lambda path: path.stat().st_mtime, reverse=True)[newest - 1 :]:
            shutil.rmtree(old, ignore_errors=True)


def hash_of(*parts: bytes) -> str:
    """A hash that tells these parts from any others, short enough for a name."""
    digest = hashlib.sha256()
    for part in parts:
        digest.update(len(part).to_bytes(8, "little"))
        digest.update(part)  # not in one piece: it may be 30 MB
    return digest.hexdigest()[:HASH_LENGTH]
