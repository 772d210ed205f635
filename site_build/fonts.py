"""The guide's own type: its files, and the style sheet that names them; none is another host's."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

# Package, styles: a serif for prose and headings, a plain sans for forms, labels and tables.
FAMILIES = {
    "source-serif-4": ("400-normal", "400-italic", "600-normal"),
    "ibm-plex-sans": ("400-normal", "600-normal"),
}
SUBSETS = ("latin", "latin-ext", "greek")
NAMES = {"source-serif-4": "Brine Serif", "ibm-plex-sans": "Brine Sans"}  # in our style sheets
RANGES = "unicode.json"  # of a package: the letters of each subset


def files(node_modules: Path) -> list[Path]:
    """The font files that the style sheet names, and each family's licence."""
    found = []
    for family, styles in FAMILIES.items():
        package = _package(node_modules, family)
        found.append(package / "LICENSE")
        found += [
            package / "files" / f"{family}-{subset}-{style}.woff2"
            for subset in SUBSETS
            for style in styles
        ]
    return found


def ranges(node_modules: Path) -> list[Path]:
    """Which letters each family's subsets have: what the style sheet is made of."""
    return [_package(node_modules, family) / RANGES for family in FAMILIES]


def sheet(node_modules: Path) -> str:
    """A style sheet with all faces, for the folder beside the fonts'."""
    return "\n".join(_faces(node_modules))


def _faces(node_modules: Path) -> Iterator[str]:
    for family, styles in FAMILIES.items():
        letters = json.loads((_package(node_modules, family) / RANGES).read_text("utf-8"))
        for style in styles:
            weight, slant = style.split("-")
            for subset in SUBSETS:
                file = f"../fonts/{family}-{subset}-{style}.woff2"
                yield (
                    f'@font-face{{font-family:"{NAMES[family]}";font-weight:{weight};'
                    f'font-style:{slant};font-display:swap;src:url("{file}") format("woff2");'
                    f"unicode-range:{letters[subset]}}}"
                )


def _package(node_modules: Path, family: str) -> Path:
    return node_modules / "@fontsource" / family


def copy(node_modules: Path, out: Path) -> None:
    """Copies the fonts to `out`/assets/fonts. Raises FileNotFoundError for a missing package."""
    target = out / "assets" / "fonts"
    target.mkdir(parents=True, exist_ok=True)
    for source in files(node_modules):
        family = source.parent.name if source.name == "LICENSE" else ""
        shutil.copyfile(source, target / (f"{family}-LICENSE.txt" if family else source.name))
