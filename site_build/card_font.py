"""Makes the cards' font anew: `python -m site_build.card_font`, with fontTools and Brotli there.

What it makes is kept in calc/frame/render/fonts: a card must come out the same wherever calc runs,
and neither the browser's engine nor the terminal has the tools to cut a font. Run it after a change
to the letters below or to the pinned release.
"""

from __future__ import annotations

import base64
import hashlib
import subprocess
import tarfile
import tempfile
from pathlib import Path

from site_build import machine

PACKAGE = "source-sans@3.52.0"  # of npm; SIL Open Font License 1.1
INTEGRITY = (
    "sha512-xsm7qlMI/JwxwNdp6pvpR6l+aZjn90fzOzoeUz/"
    "qoohIYbKbDwQNRIz5/ItYs7/hvqLirQNUoDFGXSVA3TU9tw=="
)
WEIGHTS = {"regular": "Regular", "semibold": "Semibold"}
FAMILY = "Brine Card"  # the licence reserves the name of the whole font for the whole font
OUT = machine.ROOT / "calc/frame/render/fonts"

LETTERS = (
    *range(0x20, 0x7F),
    *range(0xA0, 0x180),  # a boat's name in any language of western and central Europe
    *range(0x370, 0x400),
    *range(0x2010, 0x2040),
    *range(0x2070, 0x20A0),  # high and low figures
    *map(ord, "€™Ω←↑→↓∂∆∑−∕√∞∫≈≠≤≥▲●✓⅓⅔⅛⅜⅝⅞ᵀ"),
)
FEATURES = ["kern", "tnum", "lnum", "mark", "ccmp"]


def main() -> None:
    """Fetch the pinned package, cut the font down to the letters, and keep it with its licence."""
    with tempfile.TemporaryDirectory() as folder:
        package = _unpack(Path(folder))
        for name, weight in WEIGHTS.items():
            _cut(package / f"TTF/SourceSans3-{weight}.ttf", OUT / f"{name}.woff2")
        licence = (package / "LICENSE.md").read_text("utf-8")
    (OUT / "LICENSE.txt").write_text(
        f"{FAMILY} is a part of the font of {PACKAGE} under another name.\n\n{licence}", "utf-8"
    )


def _unpack(folder: Path) -> Path:
    npm = machine.node().with_name("npm")
    subprocess.run([npm, "pack", "--silent", PACKAGE], cwd=folder, check=True)
    packed = next(folder.glob("*.tgz"))
    found = base64.b64encode(hashlib.sha512(packed.read_bytes()).digest()).decode()
    if f"sha512-{found}" != INTEGRITY:
        raise SystemExit(f"{PACKAGE} is not the release that is pinned here")
    with tarfile.open(packed) as archive:
        archive.extractall(folder, filter="data")
    return folder / "package"


def _cut(source: Path, out: Path) -> None:
    # Only who makes the font anew has these.
    from fontTools.subset import Options, Subsetter  # type: ignore[import-not-found,unused-ignore]
    from fontTools.ttLib import TTFont  # type: ignore[import-not-found,unused-ignore]

    font = TTFont(source, recalcTimestamp=False)
    options = Options(hinting=False, layout_features=FEATURES, name_IDs=[0, 1, 2, 4, 5, 6, 13, 14])
    cutter = Subsetter(options)
    cutter.populate(unicodes=LETTERS)
    cutter.subset(font)
    names = {1: FAMILY, 4: f"{FAMILY} {out.stem}", 6: f"{FAMILY.replace(' ', '')}-{out.stem}"}
    for number, name in names.items():
        font["name"].setName(name, number, 3, 1, 0x409)
    font.flavor = "woff2"
    font.save(out)


if __name__ == "__main__":
    main()
