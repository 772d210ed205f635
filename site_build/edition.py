"""A dealer's own edition of the guide: a directory that holds only what differs from the stock.

    edition.toml      what is said here: whose guide it is, its examples, where it is hosted
    equipment/*.toml  records over the stock's (see `calc.equipment`)
    pages/*.md        pages of its own, or in place of the stock's
    brand/            a logo and a style sheet
    calculators/*.py  calculators of its own (see `own_calculators`)

`read` takes edition.toml apart into one typed, frozen Edition, or tells all its faults at once.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from calc import __version__
from calc.frame.files import FileFault, decoded, line_of, tables
from calc.frame.inputs import nearest, shortened

from .steps import called

FILE = "edition.toml"
EQUIPMENT, PAGES, BRAND = "equipment", "pages", "brand"
LONGEST = 200  # characters of a text; no source: one line
PICTURES = (".svg", ".png", ".webp", ".jpg", ".jpeg")


class EditionError(ValueError):
    """Faults of an edition, one sentence a line; `faults` are the same as data.

    `rest` is what its file says all the same, where it could be taken apart.
    """

    def __init__(self, faults: list[FileFault], rest: Edition | None = None) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults
        self.rest = rest


@dataclass(frozen=True)
class Contact:
    """How a reader reaches whose guide it is; "" for what was not said."""

    name: str = ""
    email: str = ""
    phone: str = ""
    page: str = ""


@dataclass(frozen=True)
class Brand:
    """What the edition looks like: files of its `brand/`, and colours as #rrggbb, "" for the
    stock's."""

    logo: Path | None = None
    style: Path | None = None
    colour: str = ""
    accent: str = ""


@dataclass(frozen=True)
class Edition:
    """What edition.toml says; the stock's own where there is none (`folder` is None).

    `unit` and `boats` are the keys of the records in the roles of the example unit and the example
    boats, the first one first. `hidden` are stock pages that don't appear ("bulkhead.md").
    `address` ends in "/" where it is known; `embed_on` are the origins of the pages that may hold
    a calculator of this guide in a frame. `base` is the version of Brinebook that the edition was
    made with. `doubts` are those that `check` keeps quiet about, by "kind.key.field" or by page,
    each with its reason.
    """

    folder: Path | None = None
    name: str = "Brinebook"
    description: str = ""
    base: str = __version__
    currency: str = ""
    languages: tuple[str, ...] = ("en",)
    address: str = ""
    embed_on: tuple[str, ...] = ()
    contact: Contact = Contact()
    brand: Brand = Brand()
    unit: str = "skerry-45"
    boats: tuple[str, ...] = ("ketch", "catamaran")
    hidden: tuple[str, ...] = ()
    doubts: Mapping[str, str] = field(default_factory=dict)

    @property
    def equipment(self) -> Path | None:
        """The folder of its records, None where it has none."""
        return self._own(EQUIPMENT)

    @property
    def pages(self) -> Path | None:
        """The folder of its pages, None where it has none."""
        return self._own(PAGES)

    def fault(self, key: str, sentence: str, table: str = "", name: str = "") -> FileFault:
        """A fault at a line of edition.toml."""
        path = self.folder / FILE if self.folder else None
        source = path.read_text("utf-8-sig", "replace") if path and path.is_file() else ""
        return FileFault(key, FILE, line_of(source, table, "", name), sentence, table, name)

    def _own(self, name: str) -> Path | None:
        folder = self.folder / name if self.folder else None
        return folder if folder and folder.is_dir() else None


STOCK = Edition()


def read(folder: Path) -> Edition:
    """The edition in a directory. Raises EditionError with all faults of its edition.toml."""
    path = folder / FILE
    try:
        content = path.read_bytes()
    except OSError as error:
        sentence = f"can't be read: {error.strerror}; “{called()} new” makes one"
        raise EditionError([FileFault("missing", FILE, 0, sentence)]) from None
    source = decoded(content, FILE)
    if isinstance(source, FileFault):
        raise EditionError([source])
    found = tables(source, FILE)
    if isinstance(found, FileFault):
        raise EditionError([found])
    top = _Table(source, "", found, folder)
    edition = _edition(top, folder)
    if top.faults:
        raise EditionError(sorted(top.faults, key=lambda fault: fault.line), edition)
    return edition


def _edition(top: _Table, folder: Path) -> Edition:
    contact, brand = top.table("contact"), top.table("brand")
    examples, doubts = top.table("examples"), top.table("doubts")
    edition = Edition(
        folder,
        name=top.text("name", needed="every page bears it"),
        description=top.text("description"),
        base=top.matching("base", _VERSION, "a version, such as “0.1.0”") or __version__,
        currency=top.matching("currency", _CURRENCY, "a sign or three letters: “€”, “AUD”"),
        languages=top.listed("languages", _LANGUAGE, "codes such as “en” or “pt-BR”") or ("en",),
        address=_folder_address(top.matching("address", _ADDRESS, _AN_ADDRESS)),
        embed_on=top.listed("embed_on", _ORIGIN, "origins: “https://example.org”, without a path"),
        contact=Contact(
            contact.text("name"),
            contact.matching("email", _EMAIL, "an address of mail: “water@example.org”"),
            contact.matching("phone", _PHONE, "digits, spaces and “+”"),
            contact.matching("page", _PAGE, "the address of a page: “https://example.org/ask”"),
        ),
        brand=Brand(
            brand.file("logo", BRAND, PICTURES),
            brand.file("style", BRAND, (".css",)),
            brand.matching("colour", _COLOUR, "a colour as “#0b4f6c”"),
            brand.matching("accent", _COLOUR, "a colour as “#0b4f6c”"),
        ),
        unit=examples.matching("unit", _KEY, "the key of a unit's record") or STOCK.unit,
        boats=examples.listed("boats", _KEY, "keys of boats' records") or STOCK.boats,
        hidden=top.listed("hide", _PAGE_FILE, "names of stock pages: “bulkhead.md”"),
        doubts=doubts.all_texts(),
    )
    for one in (contact, brand, examples, top):
        one.refuse_the_rest()
    return edition


_VERSION = r"\d+\.\d+(\.\d+)?"
_CURRENCY = r"[A-Z]{3}|[^\w\s<>&\"'{}]|[A-Za-z]{1,2}[^\w\s<>&\"'{}]?"
_LANGUAGE = r"[a-z]{2,3}(-[A-Za-z]{2,4})?"
_HOST = r"[a-z0-9]([a-z0-9.-]*[a-z0-9])?(:\d{1,5})?"
_ORIGIN = rf"https?://{_HOST}"
_ADDRESS = rf"{_ORIGIN}(/[\w.~%-]+)*/?"
_AN_ADDRESS = "where the guide is hosted: “https://example.org/water/”"
_PAGE = rf"{_ORIGIN}(/[^\s<>\"']*)?"
_EMAIL = r"[\w.+-]+@[a-zA-Z0-9-]+(\.[a-zA-Z0-9-]+)+"
_PHONE = r"\+?[\d ()/.-]{4,30}"
_COLOUR = r"#[0-9a-fA-F]{6}"
_KEY = r"[\w-]+"
_PAGE_FILE = r"[\w/-]+\.md"


def _folder_address(said: str) -> str:
    return said if not said or said.endswith("/") else said + "/"


Read = TypeVar("Read")


class _Table:
    """A table of the file, taken apart field by field; what is wrong is collected."""

    def __init__(
        self,
        source: str,
        name: str,
        values: Mapping[str, Any],
        folder: Path,
        faults: list[FileFault] | None = None,
    ) -> None:
        self.faults: list[FileFault] = [] if faults is None else faults
        self._source = source
        self._name = name
        self._values = values
        self._folder = folder
        self._known: list[str] = []

    def table(self, name: str) -> _Table:
        nothing: dict[str, Any] = {}
        found = self._take(name, nothing, _table)
        if found is None:
            self._wrong("value", name, f"is a table: write [{name}] and its values below")
        return _Table(self._source, name, found or {}, self._folder, self.faults)

    def text(self, name: str, needed: str = "") -> str:
        """A line of text; `needed` says why it must be said."""
        found = self._take(name, "", _line)
        if found is None:
            self._wrong("value", name, f"must be one line of text, {LONGEST} characters at most")
        elif re.search("[<>]", found):
            self._wrong("value", name, "must be plain words, without “<” and “>”")
        elif needed and not found:
            self._wrong("needed", name, f"must be said: {needed}")
        return found or ""

    def matching(self, name: str, pattern: str, allowed: str) -> str:
        """A text of a form; "" where it is not said or wrong."""
        found = self._take(name, "", _line)
        if found is None or (found and not re.fullmatch(pattern, found)):
            self._wrong("value", name, f"“{self._said(name)}” is not allowed; it must be {allowed}")
            return ""
        return found

    def listed(self, name: str, pattern: str, allowed: str) -> tuple[str, ...]:
        """Several texts of a form, none twice."""
        nothing: list[Any] = []
        found = self._take(name, nothing, _list)
        if found is None:
            self._wrong("value", name, f"must be a list in brackets of {allowed}")
            return ()
        good = [one for one in found if isinstance(one, str) and re.fullmatch(pattern, one)]
        for one in found:
            if one not in good:
                sentence = f"“{shortened(str(one))}” is not allowed; these must be {allowed}"
                self._wrong("value", name, sentence)
        for one in dict.fromkeys(good):
            if good.count(one) > 1:
                self._wrong("twice", name, f"“{one}” stands here twice")
        return tuple(dict.fromkeys(good))

    def file(self, name: str, folder: str, endings: tuple[str, ...]) -> Path | None:
        """A file of one of the edition's folders."""
        kinds = ", ".join(endings)
        said = self.matching(name, r"[\w.-]+", f"the name of a file in {folder}/ ({kinds})")
        if not said:
            return None
        path = self._folder / folder / said
        if path.suffix.lower() not in endings:
            self._wrong("value", name, f"“{said}” must be a file that ends in {kinds}")
        elif not path.is_file():
            there = [p.name for p in path.parent.glob("*")] if path.parent.is_dir() else []
            self._wrong("missing", name, f"{folder}/ has no “{said}”.{nearest(said, there)}")
        return path

    def all_texts(self) -> dict[str, str]:
        """Whatever names there are, each with its text."""
        return {name: self.text(name, needed="why it may be so") for name in self._values}

    def refuse_the_rest(self) -> None:
        """What nobody asked for is a fault: a slip of the pen must not be passed over."""
        for name in self._values:
            if name not in self._known:
                sentence = f"nothing of this name is asked.{nearest(name, self._known)}"
                self._wrong("unknown", name, sentence)

    def _take(self, name: str, default: Read, read: Callable[[Any], Read | None]) -> Read | None:
        self._known.append(name)
        return read(self._values[name]) if name in self._values else default

    def _said(self, name: str) -> str:
        return shortened(str(self._values[name]))

    def _wrong(self, key: str, name: str, sentence: str) -> None:
        if not self._name and isinstance(self._values.get(name), dict):
            line = line_of(self._source, name, "", "")
        else:
            line = line_of(self._source, self._name, "", name)
        self.faults.append(FileFault(key, FILE, line, sentence, self._name, name))


def _line(value: Any) -> str | None:
    if not isinstance(value, str) or len(value) > LONGEST or not value.isprintable():
        return None
    return value.strip()


def _table(value: Any) -> dict[str, Any] | None:
    return value if isinstance(value, dict) else None


def _list(value: Any) -> list[Any] | None:
    return value if isinstance(value, list) else None
