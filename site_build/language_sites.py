"""The sites of an edition by language: the first at the root, each other in a folder below it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import babel

from calc.frame import units
from calc.frame.files import FileFault
from calc.frame.guide import Guide
from calc.frame.language import ENGLISH, Catalogue, speaking

from . import language, own_calculators
from .edition import PAGES, Edition
from .making import STOCK_PAGES
from .steps import Trouble, called

THEME = Path(str(find_spec("material").origin)).parent / "templates"  # type: ignore[union-attr]
STEMMERS = "assets/javascripts/lunr"
# Of the search's files those that each language but English wants.
SUPPORT = "lunr.stemmer.support.min.js"
_COMMON = (SUPPORT, "lunr.multi.min.js")
_OF_STEMMER = {"ja": "tinyseg.js", "th": "wordcut.js"}


@dataclass(frozen=True)
class Spoken:
    """A site of an edition: its language, and the folder that it lies in below the root, "" for the
    first: "fr/"."""

    catalogue: Catalogue
    place: str = ""

    @property
    def up(self) -> str:
        """The way from this site's own root to that of all."""
        return "../" if self.place else ""

    @property
    def theme(self) -> str:
        """The language of the theme's own words that is nearest to it."""
        there = THEME / "partials" / "languages"
        code = self.catalogue.code
        tries = (code, code.partition("-")[0])
        return next((one for one in tries if (there / f"{one}.html").is_file()), "en")

    @property
    def stemmer(self) -> str:
        """The language that search takes its words apart by."""
        code = self.catalogue.code.partition("-")[0]
        code = {"nb": "no", "nn": "no"}.get(code, code)
        return code if (THEME / STEMMERS / "min" / f"lunr.{code}.min.js").is_file() else "en"

    def needed(self) -> set[str]:
        """The files of search, by name, that this language wants."""
        if self.stemmer == "en":
            return set()
        extra = {_OF_STEMMER[self.stemmer]} if self.stemmer in _OF_STEMMER else set()
        return {*_COMMON, f"lunr.{self.stemmer}.min.js", *extra}

    @contextmanager
    def speaking(self) -> Iterator[None]:
        """All that is made within it is in this language, numbers too."""
        mark = units.decimal_mark.set(self.catalogue.decimal_mark)
        try:
            with speaking(self.catalogue):
                yield
        finally:
            units.decimal_mark.reset(mark)


def spoken(made: Edition) -> tuple[list[Spoken], list[FileFault], list[FileFault]]:
    """The sites of an edition, what is wrong with its catalogues, and what is doubtful."""
    found: list[Spoken] = []
    faults: list[FileFault] = []
    doubts: list[FileFault] = []
    for index, code in enumerate(made.languages):
        catalogue = ENGLISH
        if code != "en":
            read = _read(made, code)
            faults += read.faults
            doubts += read.doubts
            catalogue = read.catalogue
        found.append(Spoken(catalogue, f"{code}/" if index else ""))
    return found, faults, doubts


def _read(made: Edition, code: str) -> language.Read:
    name = f"{language.FOLDER}/{code}/{language.FILE}"
    path = made.folder / name if made.folder else None
    if path is None or not path.is_file():
        sentence = f"isn't there; “{called()} words” makes one to be filled in"
        return language.Read(Catalogue(code), (FileFault("missing", name, 0, sentence),))
    return language.read(path.read_bytes(), code, name, own_calculators.sources(made))


def moved_on(made: Edition) -> Iterator[str]:
    """What the source says otherwise than when a catalogue was made, a sentence each."""
    for code in made.languages:
        if code == "en":
            continue
        read, name = _read(made, code), f"{language.FOLDER}/{code}/{language.FILE}"
        for words in read.stale:
            yield f"{name}: is said no more: “{words}”"
        if read.missing:
            count = len(read.missing)
            yield f"{name}: {count} without a translation; “{called()} words” puts in what is new"


def lacking(made: Edition, wanted: Mapping[str, Collection[str]]) -> Iterator[str]:
    """What of each language stays English, a sentence each: of its words, with those of each page
    (`wanted`), whole pages; and what its search and the theme can't do."""
    for code in made.languages:
        if code == "en":
            continue
        read, site = _read(made, code), Spoken(Catalogue(code))
        missing = set(read.missing)
        if missing:
            counts = {page: len(missing.intersection(words)) for page, words in wanted.items()}
            told = ", ".join(f"{page} {n}" for page, n in sorted(counts.items()) if n)
            name = f"{language.FOLDER}/{code}/{language.FILE}"
            yield f"{name}: {len(missing)} of {read.asked} sentences stay English; by page: {told}"
        folder = pages_of(made, code)
        if english := [p for p in sorted(wanted) if not folder or not (folder / p).is_file()]:
            name = f"{language.FOLDER}/{code}/{PAGES}"
            count = f"{len(english)} of {len(wanted)} pages have their text in English"
            yield f"{name}: {count}: {', '.join(english)}"
        if site.stemmer == "en":
            yield f"{code}: search finds words as they are written, not their other forms"
        if site.theme == "en":
            yield f"{code}: the theme hasn't got it; search speaks English"


def pages_of(made: Edition, code: str) -> Path | None:
    """The folder of an edition's pages in a language, None where it has none."""
    folder = made.folder / language.FOLDER / code / PAGES if made.folder else None
    return folder if folder and folder.is_dir() else None


def guide_in(guide: Guide, site: Spoken) -> Guide:
    """The guide that speaks a site's language."""
    return replace(guide, language=site.catalogue)


def own_pages(made: Edition, code: str) -> dict[str, Path]:
    """The pages of an edition itself in a language, by name ("workshop.md"); those in the folder of
    the language stand in place of its others."""
    folders = [folder for folder in (made.pages, pages_of(made, code)) if folder]
    return {
        path.relative_to(folder).as_posix(): path
        for folder in folders
        for path in sorted(folder.rglob("*.md"))
    }


def alternates(made: Edition, sites: Sequence[Spoken], here: Spoken) -> list[dict[str, Any]]:
    """The same guide in its other languages, as a page's switch names them; each with the pages
    that it `lacks` of those that are here."""
    mine = set(own_pages(made, here.catalogue.code))
    stock = {path.relative_to(STOCK_PAGES).as_posix() for path in STOCK_PAGES.rglob("*.md")}
    return [
        {
            "code": one.catalogue.code,
            "name": one.catalogue.name,
            "base": here.up + one.place,
            "lacks": mine - stock - set(own_pages(made, one.catalogue.code)),
        }
        for one in sites
        if one is not here
    ]


def write_words(made: Edition) -> list[Path]:
    """Brings the catalogues of an edition up to the source's words of today; those that changed."""
    if made.folder is None:
        raise Trouble("the stock has no languages: run this in an edition's directory")
    changed = []
    for code in made.languages:
        if code == "en":
            continue
        path = made.folder / language.FOLDER / code / language.FILE
        old = path.read_bytes() if path.is_file() else b""
        try:
            fresh = language.update(old, code, own_calculators.sources(made))
        except (ValueError, babel.UnknownLocaleError):
            raise Trouble(f"“{code}” is no language that the Unicode CLDR knows") from None
        if fresh != old:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(fresh)
            changed.append(path)
    return changed
