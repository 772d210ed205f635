"""The words of the source put into another language, where they are shown.

Reports, forms and errors hold the source's own sentences: whole literals with named slots. What a
reader sees goes through `spoken`, which puts the literal that a catalogue has in its place, then
fills the slots. What a catalogue lacks stays as the source has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any

# Of a count of this and more the last two digits choose its form: so they do in each language of
# the Unicode CLDR for the counts of a guide. Other rules begin at millions, or are of Cornish.
_TOLD = 200


@dataclass(frozen=True, eq=False)
class Catalogue:
    """A language: its code (BCP 47), its name in itself, and its words by the source's literals.

    `counts` has of each pair of literals, by the one for a single thing, what stands for each form
    of a count; `forms` is the number of the form for each count from 0 to 199.
    """

    code: str = "en"
    name: str = "English"
    words: Mapping[str, str] = field(default_factory=dict)
    counts: Mapping[str, Sequence[str]] = field(default_factory=dict)
    forms: Sequence[int] = ()
    decimal_mark: str = "."
    from_right: bool = False

    def form(self, count: int) -> int:
        """The number of the form that a count asks for."""
        return self.forms[count if count < _TOLD else 100 + count % 100]

    def as_data(self) -> dict[str, Any]:
        """It as plain data for JSON; `catalogue` reads it back."""
        return {
            "code": self.code,
            "name": self.name,
            "words": dict(self.words),
            "counts": {one: list(forms) for one, forms in self.counts.items()},
            "forms": list(self.forms),
            "decimal_mark": self.decimal_mark,
            "from_right": self.from_right,
        }


def catalogue(data: Mapping[str, Any]) -> Catalogue:
    """A catalogue out of its `as_data`."""
    return Catalogue(**data)


ENGLISH = Catalogue()

chosen: ContextVar[Catalogue] = ContextVar("language", default=ENGLISH)
# The literals that were wanted and that the catalogue lacks, where somebody counts them.
_lacking: ContextVar[set[str] | None] = ContextVar("lacking", default=None)


@contextmanager
def speaking(language: Catalogue) -> Iterator[None]:
    """All that is shown meanwhile is in this language."""
    token = chosen.set(language)
    try:
        yield
    finally:
        chosen.reset(token)


@contextmanager
def noting_lacking() -> Iterator[set[str]]:
    """The literals that stay English meanwhile, as no catalogue has them."""
    found: set[str] = set()
    token = _lacking.set(found)
    try:
        yield found
    finally:
        _lacking.reset(token)


def code() -> str:
    """The code of the language that is spoken."""
    return chosen.get().code


def literal(words: str) -> str:
    """A literal of the source in the language that is spoken; its slots are still to be filled."""
    language = chosen.get()
    if language is ENGLISH or not words:
        return words
    found = language.words.get(words)
    if found is None:
        _note(words)
    return found or words


def term(text: str) -> str:
    """What may be a word of the source, or a name, which stays as it is."""
    language = chosen.get()
    return text if language is ENGLISH else language.words.get(text) or text


def of_count(count: int, one: str, many: str) -> str:
    """The literal for a count; its slots are still to be filled."""
    language = chosen.get()
    if language is not ENGLISH:
        if found := language.counts.get(one):
            return found[language.form(count)]
        _note(one)
    return one if count == 1 else many


def _note(words: str) -> None:
    lacking = _lacking.get()
    if lacking is not None and any(map(str.isalpha, words)):
        lacking.add(words)


def spoken(words: str, /, **slots: object) -> str:
    """A sentence of the source, its slots filled, in the language that is spoken."""
    return literal(words).format(**slots) if slots else literal(words)


def spoken_count(count: int, one: str, many: str, /, **slots: object) -> str:
    """The sentence for a count, which stands in the slot {n}."""
    return of_count(count, one, many).format(n=count, **slots)


@dataclass(frozen=True)
class Phrase:
    """A sentence with slots that is put into a language each time it is told.

    A slot that is text is shown as it is; a word of ours in one is a Phrase of its own.
    """

    template: str
    slots: Mapping[str, object] = field(default_factory=dict)

    def __str__(self) -> str:
        return spoken(self.template, **self.slots)


def phrase(template: str, /, **slots: object) -> Phrase:
    """A Phrase of a literal and what stands in its slots."""
    return Phrase(template, slots)


@dataclass(frozen=True)
class Several:
    """Phrases behind each other, with a mark between."""

    phrases: Sequence[object]
    between: str = "; "

    def __str__(self) -> str:
        return self.between.join(map(str, self.phrases))


Told = Phrase | Several | str  # a sentence that is told later: with slots, or a literal


def lazily(told: Told) -> Phrase | Several:
    """A sentence, or a label, as what is put into a language each time it is told."""
    return phrase(told) if isinstance(told, str) else told


def one_of(parts: Sequence[object]) -> str:
    """Things of which one will do: "this or that"."""
    told = str(parts[0])
    for other in parts[1:]:
        told = spoken("{one} or {other}", one=told, other=other)
    return told


class Said(ValueError):
    """An error whose message is a sentence for the reader: a literal with what fills its slots."""

    def __init__(self, sentence: Told, /, **slots: object) -> None:
        self.told: Told = phrase(sentence, **slots) if isinstance(sentence, str) else sentence
        super().__init__(str(self.told))

    def __str__(self) -> str:
        return str(self.told)
