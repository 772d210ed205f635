"""A form with its values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..language import Phrase, spoken
from .fields import NOT_KNOWN, OWN_VALUES, Field, Presence, Shelves
from .forms import Inputs
from .said import NOWHERE, Fault, Origin


@dataclass(frozen=True)
class Layer:
    """A source of texts, strongest first in `bind`: what to call it, and its texts by field.

    `own` says that the reader wrote them, so that no preset may take their place.
    """

    origin: Origin
    texts: Mapping[str, Any]
    own: bool = False


@dataclass
class Bound:
    """A form with its values: what each field holds, where it comes from, and what is wrong.

    `stand_ins` are answered with in place of values that are at fault but not asked; `shared` are
    the fields that belong to the boat and not to one page. On a boat of the reader's own
    (`own_boat`) nothing is there that she didn't say; of the fields `deciding` about the answer,
    or that these hang on, `lacking` are still to be said. Records that the reader rates otherwise
    are `outgrown`: the rest of their values stays, their name doesn't. `told` is what a page last
    made of a row of a list: one that doesn't change is read once and shown again.
    """

    asks: type[Inputs]
    shelves: Shelves = field(default_factory=dict)
    shared: frozenset[str] = frozenset()
    own_boat: bool = False
    deciding: frozenset[str] = frozenset()
    lacking: frozenset[str] = frozenset()
    values: dict[str, Any] = field(default_factory=dict)
    stand_ins: dict[str, Any] = field(default_factory=dict)
    origins: dict[str, Origin] = field(default_factory=dict)
    taken: dict[str, Phrase] = field(
        default_factory=dict
    )  # as what, where it isn't as it was typed
    texts: dict[str, Any] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    rows: dict[str, list[Bound]] = field(default_factory=dict)
    outgrown: frozenset[str] = frozenset()
    told: tuple[Any, Any] | None = field(default=None, compare=False, repr=False)

    @property
    def good(self) -> bool:
        return not self.faults

    @property
    def plain(self) -> bool:
        """Whether nothing more is to be said of any field than its value and where that is from."""
        return not (self.faults or self.lacking or self.outgrown or self.taken)

    def origin(self, name: str) -> Origin:
        """Where the value of a field comes from."""
        return self.origins.get(name, NOWHERE)

    def own(self, name: str) -> bool:
        """Whether a value is the reader's: she said it, or the record that holds it."""
        origin = self.origins.get(name, NOWHERE)
        if origin.kind == "record":
            return self.own(self.holder(name))
        return origin.own and self.values.get(name) is not None and not self.unknown(name)

    def holder(self, name: str) -> str:
        """The field of the record that fills in this one, "" if none can: what its `preset` leaves
        open the other record tells."""
        made = self.asks.fields[name]
        if not made.preset:
            return made.from_record.partition(".")[0]
        first, *rest = made.preset.split(".")
        found = self.values.get(first)
        for part in rest:
            found = getattr(found, part, None)
        return first if found is not None else made.from_record.partition(".")[0]

    def unknown(self, name: str) -> bool:
        """Whether the reader said that she doesn't know."""
        said = self.texts.get(name)
        return isinstance(said, str) and said.strip().lower() == NOT_KNOWN

    def asked(self, name: str) -> bool:
        """Whether the field is asked, given the others (its `when`)."""
        return is_asked(self.asks.fields[name], self.asks, self.values)

    def shown(self, name: str, system: str = "metric") -> str:
        """A field's value as a sentence or a table shows it."""
        shown = self.asks.fields[name].shown(self.values.get(name), system)
        return spoken(OWN_VALUES, values=shown) if name in self.outgrown else shown

    def faults_of(self, name: str) -> list[Fault]:
        return [fault for fault in self.faults if fault.field == name] if self.faults else []

    def as_values(self) -> Inputs:
        """The form with its values."""
        taken = {"unsaid": self.unsaid, "following": self.following}
        return self.asks.of(self.values | self.stand_ins | taken)

    @property
    def following(self) -> frozenset[str]:
        """The fields that nobody said, whose values go with that of another field."""
        return frozenset(
            [
                made.name
                for made in self.asks.followers
                if self.origin(made.name).kind in ("record", "usual", "default")
            ]
        )

    @property
    def unsaid(self) -> frozenset[str]:
        """On a boat of one's own, the fields that are asked and whose values are not hers."""
        fields = self.asks.fields.items() if self.own_boat else ()
        return frozenset(
            [name for name, made in fields if self._is_assumed(name, made) and self.asked(name)]
        )

    def _is_assumed(self, name: str, made: Field) -> bool:
        """Whether a value stands that is not hers, nor follows from what she said."""
        value = self.values.get(name)
        if value is None or self.own(name):
            return False
        return not (value and isinstance(made, Presence))


def is_asked(made: Field, asks: type[Inputs], values: Mapping[str, Any]) -> bool:
    """A field is asked if its condition holds and the field it depends on is asked too."""
    if made.when is None:
        return True
    return made.when.holds(values) and is_asked(asks.fields[made.when.name], asks, values)
