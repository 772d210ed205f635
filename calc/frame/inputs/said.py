"""What is said of a value: where it comes from, or what is wrong with it."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..language import Said, Several, Told, lazily, phrase, spoken

LONGEST_TEXT = 200


class InputError(Said):
    """A text that a field cannot take; its message is a sentence for the reader."""


class Refusal(Said):
    """Raised by a calculator for values that are each allowed but make no sense together.

    `field` is the name of the field to mend; the message is a sentence for the reader.
    """

    def __init__(self, field: str, sentence: Told, /, **slots: object) -> None:
        super().__init__(sentence, **slots)
        self.field = field


@dataclass(frozen=True)
class Fault:
    """One thing wrong with what was typed: where, and a sentence that says what is allowed."""

    field: str
    where: Told
    told: Told

    @property
    def label(self) -> str:
        return str(lazily(self.where))

    @property
    def sentence(self) -> str:
        return str(lazily(self.told))

    def __str__(self) -> str:
        return f"{self.label}: {self.sentence}"


@dataclass(frozen=True)
class Origin:
    """Where a value comes from, as data: of what kind, and whose by name.

    Of a record's value `holder` is the record; where it was taken in proportion to another field,
    `lead` is that field's label. Of a default `holder` is what it rests on, if anything.
    """

    kind: str
    holder: str = ""
    lead: str = ""

    @property
    def own(self) -> bool:
        """Whether the reader said it, here or in the boat's sheet, or her clock did."""
        return self.kind in ("typed", "sheet", "clock")

    def text(self) -> str:
        """What a field's note says of it."""
        told = _ORIGINS[self.kind]
        if self.kind == "default":
            return spoken(self.holder or told)
        lead = spoken(self.lead)
        if self.kind == "record" and lead:
            return spoken("from {holder}, in proportion to “{lead}”", holder=self.holder, lead=lead)
        return spoken(told, holder=self.holder, lead=lead)


_ORIGINS = {
    "typed": "typed",
    "sheet": "boat sheet",
    "clock": "today, by this device",
    "example": "example",
    "boat": "{holder}",
    "record": "from {holder}",
    "file": "record",
    "shelf": "from the equipment records",
    "default": "default",
    "contradicted": "{holder} no longer, as you gave other values",
    "absent": "not there, as nobody said that it is",
    "usual": "usual, {holder} × “{lead}”",
    "none": "",
}
TYPED, SHEET, CLOCK, EXAMPLE = map(Origin, ("typed", "sheet", "clock", "example"))
SHELF, DEFAULT, ABSENT, NOWHERE = map(Origin, ("shelf", "default", "absent", "none"))


def shortened(text: str, most: int = 60) -> str:
    """What a sentence repeats of what was typed."""
    return text if len(text) <= most else text[: most - 1] + "…"


def nearest(word: str, words: Iterator[str] | Sequence[str] | Mapping[str, Any]) -> Told:
    """ " Did you mean ...?" for the nearest of words, or nothing."""
    found = nearest_word(word, words)
    return Several((" ", phrase("Did you mean “{word}”?", word=found)), "") if found else ""


def nearest_word(word: str, words: Iterator[str] | Sequence[str] | Mapping[str, Any]) -> str:
    """The nearest of words, "" where none is near."""
    found = difflib.get_close_matches(str(word)[:LONGEST_TEXT], list(words), 1, 0.55)
    return found[0] if found else ""
