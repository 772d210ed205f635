"""An edition's brand: its colours in the four looks, its logo and style sheet, and who answers.

A brand has one accent, for what can be touched, and one colour, for the line under the running
head. In the look "paper" they are as they were given and must be legible there; in "slate" they
are mixed with white until they are. "night" keeps its one red and "sun" its black: those looks are
for eyes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from calc.frame.files import FileFault
from calc.frame.language import spoken
from calc.frame.offers import WHOSE

from . import making
from .edition import FILE, Edition

LEGIBLE = 4.5  # to 1: WCAG 2.2, 1.4.3 Contrast (Minimum)
SEEN = 3.0  # to 1: WCAG 2.2, 1.4.11 Non-text Contrast
GROUNDS = ("paper", "sheet", "shade")  # what the accent stands on
ADAPTED = ("paper", "slate")  # the looks that take a brand's colours
_ELSEWHERE = re.compile(r"@import|url\(\s*[\"']?\s*(?:https?:)?//|expression\(", re.IGNORECASE)

Colour = tuple[int, int, int]


def colour(text: str) -> Colour:
    """ "#0b4f6c" or "#000" as red, green, blue [0 to 255]. Raises ValueError for anything else."""
    digits = text.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    if not re.fullmatch(r"[0-9a-fA-F]{6}", digits):
        raise ValueError(f"“{text}” is no colour; write one as #0b4f6c")
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


def contrast(one: Colour, other: Colour) -> float:
    """How much lighter one colour is than another, 1 to 21 (WCAG 2.2, contrast ratio)."""
    lights = sorted((_light(one), _light(other)))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def _light(made: Colour) -> float:
    """Relative luminance (WCAG 2.2, with the sRGB limit 0.04045 of IEC 61966-2-1)."""
    parts = [value / 255 for value in made]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@cache
def looks() -> Mapping[str, Mapping[str, str]]:
    """The colours of each look by name, out of the style sheet that defines them."""
    sheet = (making.STOCK_PAGES / "assets/css/looks.css").read_text("utf-8")
    found = re.findall(r'\[data-md-color-scheme="(\w+)"\] \{(.*?)\}', sheet, re.DOTALL)
    return {
        name: dict(re.findall(r"--([\w-]+): (#[0-9a-f]+);", body))
        for name, body in found
        if "--paper" in body
    }


def adapted(given: Colour, look: str, least: float) -> Colour:
    """The colour as a look has it: as given; in the dark one mixed with white until it is seen."""
    grounds = _grounds(look)
    mixed = given
    for share in range(0, 101, 4) if look == "slate" else (0,):
        mixed = _mixed(given, share / 100)
        if all(contrast(mixed, ground) >= least for ground in grounds):
            break
    return mixed


def _mixed(given: Colour, share: float) -> Colour:
    red, green, blue = (round(value + (255 - value) * share) for value in given)
    return red, green, blue


def _grounds(look: str) -> list[Colour]:
    return [colour(looks()[look][name]) for name in GROUNDS]


@dataclass(frozen=True)
class _Wanted:
    """One colour of a brand: its field, what is made of it, the least contrast."""

    field: str
    name: str
    least: float


_ACCENT, _LINE = _Wanted("accent", "touch", LEGIBLE), _Wanted("colour", "brand", SEEN)


def faults(made: Edition) -> Iterator[FileFault]:
    """What of a brand can't be read in a look, with the figure; what its style sheet may not do."""
    for wanted in (_ACCENT, _LINE):
        given = getattr(made.brand, wanted.field)
        for look in ADAPTED if given else ():
            shown = adapted(colour(given), look, wanted.least)
            least = min(contrast(shown, ground) for ground in _grounds(look))
            if least < wanted.least:
                sentence = (
                    f"“{given}” is too near to the page in the look “{look}”: {least:.1f} to 1, "
                    f"where {wanted.least:g} to 1 is needed; take a darker one"
                )
                yield made.fault("contrast", sentence, "brand", wanted.field)
    if made.brand.style and made.brand.style.is_file():
        found = _ELSEWHERE.search(made.brand.style.read_text("utf-8-sig", "replace"))
        if found:
            sentence = f"“{found[0]}” fetches from another host: copy what it needs into brand/"
            yield FileFault("elsewhere", f"brand/{made.brand.style.name}", 0, sentence)


def sheet(made: Edition) -> str:
    """The brand's colours as rules of the style sheet; "" for a brand that has none."""
    rules = []
    for look in ADAPTED:
        names = {}
        if made.brand.accent:
            touch = adapted(colour(made.brand.accent), look, LEGIBLE)
            pair = [colour(looks()[look][name]) for name in ("paper", "ink")]
            names = {"touch": touch, "on-touch": max(pair, key=lambda one: contrast(one, touch))}
        if made.brand.colour:
            names["brand"] = adapted(colour(made.brand.colour), look, SEEN)
        said = "".join(f"--{name}:#{bytes(value).hex()};" for name, value in names.items())
        if said:
            rules.append(f'@media screen{{[data-md-color-scheme="{look}"]{{{said}}}}}')
    if made.brand.colour:
        rules.append(".bb-head{border-bottom:3px solid var(--brand,var(--ink))}")
    return "\n".join(rules)


def house(made: Edition) -> str:
    """Whose values these are and how to reach them, in one line; "" for the stock's own."""
    if made.folder is None:
        return ""
    contact = made.contact
    names = [contact.name] if made.name in contact.name else [made.name, contact.name]
    said = (*names, contact.phone, contact.email or contact.page)
    return ", ".join(one for one in said if one)


def ask(made: Edition) -> str:
    """Where a reader's question about her boat goes: an address of mail, or of a page; or ""."""
    return f"mailto:{made.contact.email}" if made.contact.email else made.contact.page


def in_templates(made: Edition) -> Mapping[str, object]:
    """What the theme's templates show of it."""
    logo = made.brand.logo
    return {
        "file": FILE,
        "logo": f"brand/{logo.name}" if logo else "",
        "house": house(made),
        "ask": ask(made),
        "contact": made.contact,
        "told": spoken(WHOSE, house=house(made)) if house(made) else "",
    }
