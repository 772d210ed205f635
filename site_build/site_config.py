"""MkDocs' settings for an edition: the stock's mkdocs.yml with its pages, its name, its paths."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

from mkdocs.utils.meta import get_data
from mkdocs.utils.yaml import yaml_load

from calc.frame.language import ENGLISH, literal, term

from . import language_sites, machine, making
from .edition import BRAND, Edition
from .language_sites import Spoken

SETTINGS = "mkdocs.yml"
STOCK_SITE = Spoken(ENGLISH)
PART = "part"  # in a page's front matter: which part of the guide it stands in


def write(made: Edition, folder: Path, site: Spoken = STOCK_SITE) -> Path:
    """Put the settings and all pages of an edition into a folder; returns the settings' file.

    The words of the settings are in the language that is spoken.
    """
    docs = merged(made, folder / "docs", site.catalogue.code)
    settings: dict[str, Any] = yaml_load((machine.ROOT / SETTINGS).read_text("utf-8"))
    home = Path(__file__).parent
    settings["docs_dir"] = str(docs)
    settings["theme"]["custom_dir"] = str(home / "theme")
    settings["hooks"] = [str(home / "hooks.py")]
    for extension in settings["markdown_extensions"]:
        if isinstance(extension, dict) and "pymdownx.snippets" in extension:
            extension["pymdownx.snippets"]["base_path"] = [str(docs / "pictures")]
    settings["site_name"] = made.name
    if made.description:
        settings["site_description"] = made.description
    else:
        settings["site_description"] = literal(settings["site_description"])
    if made.address:
        settings["site_url"] = f"{made.address}{site.place}"
    settings["nav"] = _in_language(_with_own(settings["nav"], made, site.catalogue.code))
    settings["theme"]["language"] = site.theme
    for look in settings["theme"]["palette"]:
        look["toggle"]["name"] = literal(look["toggle"]["name"])
    settings["plugins"] = [
        {"search": {"lang": [site.stemmer]}} if one == "search" else one
        for one in settings["plugins"]
    ]
    path = folder / SETTINGS
    path.write_text(json.dumps(settings, ensure_ascii=False), "utf-8")  # JSON is YAML
    return path


def _in_language(nav: Any) -> Any:
    """The table of contents with its titles in the language that is spoken."""
    if isinstance(nav, list):
        return [_in_language(one) for one in nav]
    if isinstance(nav, dict):
        return {term(title): _in_language(inside) for title, inside in nav.items()}
    return nav


def merged(made: Edition, target: Path, code: str = "en") -> Path:
    """All pages in one folder, the edition's over the stock's, those in a language over all, with
    its brand's files."""
    shutil.copytree(making.STOCK_PAGES, target)
    if made.pages:
        shutil.copytree(made.pages, target, dirs_exist_ok=True)
    if own := language_sites.pages_of(made, code):
        shutil.copytree(own, target, dirs_exist_ok=True)
    brand = made.folder / BRAND if made.folder else None
    if brand and brand.is_dir():
        shutil.copytree(brand, target / BRAND, dirs_exist_ok=True)
    return target


def _with_own(nav: list[Any], made: Edition, code: str) -> list[Any]:
    """The table of contents with the pages that only the edition has, each in its part."""
    there = set(_files(nav))
    parts = {name: inside for one in nav if isinstance(one, dict) for name, inside in one.items()}
    for name, path in sorted(language_sites.own_pages(made, code).items()):
        if name in there:
            continue
        part = part_of(path.read_text("utf-8-sig")) or made.name
        if not isinstance(parts.get(part), list):
            parts[part] = []
            nav.append({part: parts[part]})
        parts[part].append(name)
    return nav


def _files(nav: Any) -> list[str]:
    if isinstance(nav, str):
        return [nav]
    inside = nav.values() if isinstance(nav, dict) else nav
    return [name for one in inside for name in _files(one)]


def part_of(page: str) -> str:
    """The part of the guide that a page's front matter names, "" if it names none."""
    said = get_data(page)[1].get(PART)
    return said if isinstance(said, str) else ""
