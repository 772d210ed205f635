"""Catalogues of a guide's words: what is to be translated, what a translator sent back, and what
the guide speaks.

    template(own)       all words of the source, as a gettext template, and of an edition's own
                        calculators
    update(old, code)   a translator's file brought up to the source, the stale apart
    read(content, name) a translator's file as a catalogue, with all its faults

A translated sentence has the slots of its source, and its amounts: what is wrong there could hurt.
What is missing stays English, and is counted where it is shown.
"""

from __future__ import annotations

import gettext
import io
import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from string import Formatter

import babel
from babel.messages import pofile
from babel.messages.catalog import Catalog, Message

from calc import __version__
from calc.frame import units
from calc.frame.files import FileFault
from calc.frame.language import ENGLISH, Catalogue, chosen

from .language_extract import messages, of_own

FOLDER, FILE = "languages", "messages.po"
NOTHING: Mapping[str, str] = {}  # the sources of no calculators
_FORMS_TOLD = 200  # see `Catalogue.forms`
_FORMS_TRIED = 2000


@dataclass(frozen=True)
class Read:
    """A translator's file: what it makes, what is wrong with it, and what it says of the source.

    `faults` keep a guide from being built, `doubts` don't. `missing` are the source's words that it
    has not, of as many as are `asked`; `stale` those it has that the source says no more.
    """

    catalogue: Catalogue
    faults: tuple[FileFault, ...] = ()
    doubts: tuple[FileFault, ...] = ()
    missing: tuple[str, ...] = ()
    asked: int = 0
    stale: tuple[str, ...] = ()


def template(own: Mapping[str, str] = NOTHING) -> Catalog:
    """All words of the source, each with its places; those too of calculators that an edition has
    of its `own`, by their sources."""
    made = Catalog(project="Brinebook", version=__version__, fuzzy=False)
    for found in (*messages(), *of_own(own)):
        words = (found.words, found.many) if found.many else found.words
        made.add(words, locations=[(found.file, found.line)])
    return made


def as_file(catalog: Catalog) -> bytes:
    """A catalogue as a gettext file, the same for the same words."""
    out = io.BytesIO()
    pofile.write_po(out, catalog, omit_header=False, sort_output=True, width=100)
    dated = re.compile(rb'^"(?:POT-Creation-Date|PO-Revision-Date|Generated-By):.*\n', re.MULTILINE)
    return dated.sub(b"", out.getvalue())


def update(old: bytes, code: str, own: Mapping[str, str] = NOTHING) -> bytes:
    """A translator's file with the source's words of today: new ones empty, stale ones apart."""
    locale = babel.Locale.parse(code, sep="-")
    made = pofile.read_po(io.BytesIO(old), locale=locale) if old else Catalog(locale=locale)
    made.update(template(own), no_fuzzy_matching=True)
    return as_file(made)


def read(content: bytes, code: str, name: str = FILE, own: Mapping[str, str] = NOTHING) -> Read:
    """A translator's file for a language."""
    try:
        locale = babel.Locale.parse(code, sep="-")
    except (ValueError, babel.UnknownLocaleError):
        sentence = f"“{code}” is no language that the Unicode CLDR knows"
        fault = FileFault("language", name, 0, sentence)
        return Read(Catalogue(code), (fault,))
    try:
        sent = pofile.read_po(io.BytesIO(content), locale=locale, abort_invalid=True)
    except (pofile.PoFileError, ValueError, UnicodeError) as error:
        return Read(Catalogue(code), (FileFault("po", name, 0, f"is no gettext file: {error}"),))
    made = Catalogue(
        code,
        locale.get_display_name() or code,
        decimal_mark="," if locale.decimal_formats and _comma(locale) else ".",
        from_right=locale.text_direction == "rtl",
    )
    try:
        forms = _forms(sent.plural_expr)
    except ValueError as error:
        return Read(made, (FileFault("plural", name, 1, str(error)),))
    return _checked(replace(made, forms=forms), sent, name, own)


def _comma(locale: babel.Locale) -> bool:
    symbols = locale.number_symbols
    return bool(symbols.get("latn", symbols).get("decimal") == ",")


def _forms(rule: str) -> list[int]:
    """The number of the form for each count. Raises ValueError where the rule is none, or looks
    beyond the last two digits."""
    which = gettext.c2py(rule)
    found = [which(count) for count in range(_FORMS_TRIED)]
    for count in range(_FORMS_TOLD, _FORMS_TRIED):
        if found[count] != found[100 + count % 100]:
            raise ValueError(f"the rule of plurals goes by more than the last two digits: {rule}")
    return found[:_FORMS_TOLD]


def _checked(made: Catalogue, sent: Catalog, name: str, own: Mapping[str, str]) -> Read:
    source = {_key(message): message for message in template(own) if message.id}
    words: dict[str, str] = {}
    counts: dict[str, Sequence[str]] = {}
    faults: list[FileFault] = []
    doubts: list[FileFault] = []
    has = {_key(message): message for message in sent if message.id}
    joined_by = tuple(str(has[j].string or j) if j in has else j for j in units.JOINED_BY)
    for key, message in has.items():
        if key not in source or message.fuzzy or not any(_texts(message.string)):
            continue
        asked = source[key].id
        if isinstance(asked, str) != isinstance(message.string, str):
            sentence = "has other forms than its source: one where a count has several, or several"
            faults.append(_fault("count", name, message, key, sentence))
            continue
        wrong = list(_wrong(message, asked, joined_by, sent.num_plurals))
        for kind, sentence in wrong:
            (doubts if kind == "numbers" else faults).append(
                _fault(kind, name, message, key, sentence)
            )
        if isinstance(message.string, str):
            words[key] = message.string
        else:
            counts[key] = tuple(_texts(message.string))
    missing = tuple(key for key in source if key not in words and key not in counts)
    stale = tuple(key for key in has if key not in source)
    made = replace(made, words=words, counts=counts)
    return Read(made, tuple(faults), tuple(doubts), missing, len(source), stale)


def _key(message: Message) -> str:
    return message.id if isinstance(message.id, str) else str(message.id[0])


def _texts(string: str | Iterable[str] | None) -> list[str]:
    return [string] if isinstance(string, str) else list(string or ())


def _fault(kind: str, name: str, message: Message, key: str, sentence: str) -> FileFault:
    return FileFault(kind, name, message.lineno or 0, sentence, f"“{key[:60]}”")


def _wrong(
    message: Message, asked: str | Sequence[str], joined_by: tuple[str, ...], forms: int
) -> Iterator[tuple[str, str]]:
    """What is wrong with a translation: of what kind, and a sentence."""
    told = _texts(message.string)
    if not all(told):
        yield "forms", f"has {sum(map(bool, told))} of {forms} forms"
        return
    source = _texts(asked)
    try:
        allowed = set.union(*(slots(one) for one in source))
        needed = set.intersection(*(slots(one) for one in source)) - {"n"}
        for one in told:
            if strange := slots(one) - allowed:
                yield "slots", f"has the slot {_named(strange)}, which its source has not"
            if gone := (needed if len(source) > 1 else allowed) - slots(one):
                yield "slots", f"lacks the slot {_named(gone)} of its source"
    except ValueError as error:
        yield "slots", f"has a brace that opens or closes no slot: {error}"
        return
    for one in told:
        if _amounts(one, joined_by) != _amounts(source[-1], units.JOINED_BY):
            yield "amounts", "tells other amounts than its source"
        elif _numbers(one) != _numbers(source[-1]):
            yield "numbers", "tells other numbers than its source"


def _named(names: Iterable[str]) -> str:
    return ", ".join(f"{{{name}}}" for name in sorted(names))


def slots(text: str) -> set[str]:
    """The slots of a sentence. Raises ValueError where its braces make none."""
    found = [part for part in Formatter().parse(text) if part[1] is not None]
    if any(not re.fullmatch(r"\w+", name or "") or form or turn for _, name, form, turn in found):
        raise ValueError("a slot is a name in braces")
    return {str(name) for _, name, _, _ in found}


def _amounts(text: str, joined_by: tuple[str, ...]) -> Counter[tuple[str, str]]:
    """The metric amounts in words, each number with its unit."""
    found: Counter[tuple[str, str]] = Counter()
    for numbers, _, unit in units.written(joined_by).findall(text):
        found.update((number, unit) for number in _numbers(numbers).elements())
    return found


def _numbers(text: str) -> Counter[str]:
    plain = re.sub(r"(?<=\d)[  ](?=\d{3})", "", re.sub(r"{\w+}", "", text))
    return Counter(one.replace(",", ".") for one in re.findall(r"\d+(?:[.,]\d+)?", plain))


def of_scripts() -> str:
    """What the pages' scripts say, in the language that is spoken, as JSON; "" in English."""
    spoken = chosen.get()
    if spoken is ENGLISH:
        return ""
    said = {found.words for found in messages() if found.file.startswith("site_build/browser/")}
    held = {
        "words": {one: spoken.words[one] for one in sorted(said) if one in spoken.words},
        "counts": {one: spoken.counts[one] for one in sorted(said) if one in spoken.counts},
        "forms": list(spoken.forms),
        "mark": spoken.decimal_mark,
    }
    return json.dumps(held, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c")


def lacking(found: Iterable[str], source: Mapping[str, object] | set[str]) -> list[str]:
    """Of the words that were wanted in vain those that the source asks a translator for."""
    return sorted(set(found) & set(source))
