"""A language made by machine: each letter bears an accent, each word is a third longer.

What is shown in it and still reads as English was put into no language: it was forgotten.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import babel
from babel.messages.catalog import Catalog
from markdown.extensions.toc import slugify

from calc.frame import units
from calc.frame.language import Catalogue
from site_build import edition, language, own_calculators
from site_build.making import STOCK_PAGES

_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_ACCENTED = "áƀçðéƒğĥíĵķĺɱñóþɋŕšţúṽŵẋýžÁƁÇĐÉƑĞĤÍĴĶĹṀÑÓÞɊŔŠŢÚṼŴẊÝŽ"
_LETTERS = str.maketrans(_PLAIN, _ACCENTED)

# What no translator would touch: slots, amounts, standards, signs, and what is typed.
KEPT = re.compile(
    r"{\w+}|--\w+|\b\w+=…?|python3 -m calc|LiFePO4|\bpH\b|\b(?:[A-Z]{2,}|[A-Z]\d)[\w/-]*"
)


def pseudo_words(text: str) -> str:
    """A sentence in the language made by machine."""
    kept = sorted(
        found.span() for pattern in (KEPT, units.written()) for found in pattern.finditer(text)
    )
    out, at = [], 0
    for start, end in kept:
        if start >= at:
            out += [_accented(text[at:start]), _joined(text[start:end])]
            at = end
    return "".join([*out, _accented(text[at:])])


def _joined(kept: str) -> str:
    """An amount whose numbers are put together by a word of this language."""
    words = "|".join(units.JOINED_BY)
    return re.sub(rf"(?<= )(?:{words})(?= )", lambda found: _accented(found[0]), kept)


def _accented(text: str) -> str:
    longer = re.sub(r"([A-Za-z]{2})([a-z])", r"\1\2\2", text)
    return longer.translate(_LETTERS)


@cache
def pseudo() -> Catalogue:
    """The whole catalogue."""
    words, counts = {}, {}
    for message in language.template():
        if isinstance(message.id, str):
            words[message.id] = pseudo_words(message.id)
        elif message.id:
            counts[message.id[0]] = tuple(map(pseudo_words, message.id))
    words.pop("", None)
    forms = [int(n != 1) for n in range(200)]
    return Catalogue("en-XA", "Þšéúðó", words, counts, forms, ",")


# ---- an edition in it, as a translator would make one ----

_FENCE = re.compile(r"(^```.*?^```[ \t]*$)", re.M | re.S)
# Of a page what stays: cited numbers, where links lead, markup, code, entities, addresses.
_MARKUP = re.compile(
    r"{=.*?=}|(?P<told>{:?[^}\n]*}|<[^>]*>)|\]\([^)]*\)|`[^`\n]*`|--8<-- \"[^\"]*\"|&\w+;|https?://\S+",
    re.S,
)
_TOLD = re.compile(r'\b((?:told|alt|title|aria-label)=")([^"]*)"')
_HEADING = re.compile(r"^(#+ )(.*?)(?:[ \t]*{:?([^}\n]*)})?[ \t]*$", re.M)
_FRONT = re.compile(r"\A---\n.*?\n---\n", re.S)


def page(text: str) -> str:
    """A page in Markdown: its words, and what its calculators are told; the rest as it was."""
    front = _FRONT.match(text)
    head = front[0] if front else ""
    head = re.sub(
        r"^(description|tab|tags): (.*)$",
        lambda f: f"{f[1]}: {pseudo_words(f[2])}",
        head,
        flags=re.M,
    )
    parts = _FENCE.split(text[front.end() if front else 0 :])
    for at, part in enumerate(parts):
        parts[at] = _fence(part) if at % 2 else _prose(_HEADING.sub(_with_id, part))
    return head + "".join(parts)


def _fence(block: str) -> str:
    return re.sub(
        r'^(words = ")(.*)(")$', lambda f: f[1] + pseudo_words(f[2]) + f[3], block, flags=re.M
    )


def _with_id(found: re.Match[str]) -> str:
    """A heading that links find by its English name."""
    said = found[3] or ""
    if "#" not in said:
        said = f" #{slugify(re.sub('[*`]', '', found[2]), '-')} {said}"
    return f"{found[1]}{found[2]} {{:{said}}}"


def _prose(text: str) -> str:
    out, at = [], 0
    for kept in _MARKUP.finditer(text):
        inside = kept[0]
        if kept["told"]:
            inside = _TOLD.sub(lambda f: f'{f[1]}{pseudo_words(f[2])}"', inside)
        out += [pseudo_words(text[at : kept.start()]), inside]
        at = kept.end()
    return "".join([*out, pseudo_words(text[at:])])


def picture(svg: str) -> str:
    """A drawing with its words."""
    named = _TOLD.sub(lambda f: f'{f[1]}{pseudo_words(f[2])}"', svg)
    return re.sub(r">([^<]*[A-Za-z][^<]*)<", lambda f: f">{pseudo_words(f[1])}<", named)


def as_file(code: str, own: Mapping[str, str] = language.NOTHING) -> bytes:
    """A translator's file with a whole language that no translator wrote."""
    made = Catalog(locale=babel.Locale.parse(code))
    for message in language.template(own):
        if isinstance(message.id, str) and message.id:
            made.add(message.id, pseudo_words(message.id))
        elif message.id:
            made.add(message.id, tuple(map(pseudo_words, message.id)))
    return language.as_file(made)


def translate(folder: Path, code: str) -> None:
    """Puts an edition into it, under the code of a language: its words, its pages, its drawings."""
    made = edition.read(folder)
    there = folder / language.FOLDER / code
    pictures = there / "pages" / "pictures"
    pictures.mkdir(parents=True, exist_ok=True)
    (there / language.FILE).write_bytes(as_file(code, own_calculators.sources(made)))
    for source in (STOCK_PAGES, *([made.pages] if made.pages else [])):
        for path in source.rglob("*.md"):
            target = there / "pages" / path.relative_to(source)
            target.parent.mkdir(parents=True, exist_ok=True)
            if path.name not in made.hidden:
                target.write_text(page(path.read_text("utf-8-sig")), "utf-8")
    for path in (STOCK_PAGES / "pictures").glob("*.svg"):
        (pictures / path.name).write_text(picture(path.read_text("utf-8")), "utf-8")
