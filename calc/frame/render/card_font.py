"""The cards' own font as a style sheet that holds it: whatever fonts a machine has, the card is the same.

Two weights of a sans under the SIL Open Font License, cut down to the letters that a card may need;
`site_build/card_font.py` made the files.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from pathlib import Path

FAMILY = "Brine Card"
FOLDER = Path(__file__).parent / "fonts"
WEIGHTS = {400: "regular", 600: "semibold"}


@cache
def faces() -> str:
    """The font as `@font-face` rules; the licence goes along as a comment, as it asks."""
    rules = "".join(
        f'@font-face{{font-family:"{FAMILY}";font-weight:{weight};'
        f"src:url(data:font/woff2;base64,{_text(name)}) format('woff2')}}\n"
        for weight, name in WEIGHTS.items()
    )
    return f"/* {FAMILY}: (c) 2010-2024 Adobe; SIL Open Font License 1.1, openfontlicense.org */\n{rules}"


def _text(name: str) -> str:
    return b64encode((FOLDER / f"{name}.woff2").read_bytes()).decode("ascii")
