"""Copies the guide's own type into the site: no page asks another host for a font."""

from __future__ import annotations

import shutil
from pathlib import Path

# Package, styles: a serif for prose and headings, a plain sans for forms, labels and tables.
FAMILIES = {
    "source-serif-4": ("400-normal", "400-italic", "600-normal"),
    "ibm-plex-sans": ("400-normal", "600-normal"),
}
SUBSETS = ("latin", "latin-ext", "greek")


def files(node_modules: Path) -> list[Path]:
    """The font files that the style sheet names, and each family's licence."""
    found = []
    for family, styles in FAMILIES.items():
        package = node_modules / "@fontsource" / family
        found.append(package / "LICENSE")
        found += [
            package / "files" / f"{family}-{subset}-{style}.woff2"
            for subset in SUBSETS
            for style in styles
        ]
    return found


def copy(node_modules: Path, out: Path) -> None:
    """Copies the fonts to `out`/assets/fonts. Raises FileNotFoundError for a missing package."""
    target = out / "assets" / "fonts"
    target.mkdir(parents=True, exist_ok=True)
    for source in files(node_modules):
        family = source.parent.name if source.name == "LICENSE" else ""
        shutil.copyfile(source, target / (f"{family}-LICENSE.txt" if family else source.name))
