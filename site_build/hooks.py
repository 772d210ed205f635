"""The hooks that MkDocs calls: pages get their calculators and numbers here."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files

from calc import __version__
from calc.frame.language import chosen, noting_lacking, spoken
from calc.frame.render import spaces, tools
from site_build import brand, embedding, fonts, hidden, language, licences, machine, making, styles
from site_build.pages import Page, PageError, fill, prepare, with_step_cards
from site_build.tables import label_cells
from site_build.told import with_folds

# That pages name beside the engine's own, by what the theme calls them.
SCRIPTS = ("first", "home", "embedded")
BROWSER = Path(__file__).parent / "browser"
SHEET = "assets/css/guide.css"

_pages: dict[str, Page] = {}
_held: dict[str, list[str]] = {}  # what search isn't shown of a page
_templates: list[Any] = []
_sheets: list[str] = []  # the theme's and ours, in their order
_own: list[str] = []  # an edition's


def on_config(config: Any) -> None:
    """A build starts: forget the pages of the last one; every page ends with the settings."""
    _pages.clear()
    _held.clear()
    config.extra["settings"] = tools.settings("metric")
    config.nav = hidden.nav(config.nav)
    made = making.edition()
    config.extra["brand"] = brand.in_templates(made)
    config.extra["brinebook"] = __version__
    config.extra["words"] = language.of_scripts()
    config.extra["language"] = chosen.get().code
    config.extra["direction"] = "rtl" if chosen.get().from_right else "ltr"


def on_env(env: Any, **_: Any) -> None:
    """The theme's own words are in the language of its pages."""
    env.globals["say"] = spoken
    _templates[:] = [env]  # for pages that MkDocs knows nothing of


def on_files(files: Files, config: Any) -> None:
    """All style sheets become one: each more would hold up the first picture. And scripts."""
    made = making.edition().brand
    named = [*_of_theme(files, "stylesheets"), *config.extra_css]
    _sheets[:] = [_taken(files, name) for name in named]
    own = [_taken(files, f"brand/{made.style.name}")] if made.style else []
    _own[:] = [*own, brand.sheet(making.edition())]
    config.extra_css = []
    config.extra["sheet"] = SHEET  # until all pages are there: on_post_build
    faces = fonts.sheet(machine.ROOT / "node_modules")  # after the first picture: theme/main.html
    config.extra["fonts"] = _add(files, config, "assets/css/fonts", ".css", faces)
    config.extra["scripts"] = {
        name: _add(files, config, f"assets/javascripts/{name}", ".js", _script(name))
        for name in SCRIPTS
    }
    config.extra["scripts"]["theme"] = next(_of_theme(files, "javascripts"), "")
    for page in files.documentation_pages():
        if hidden.is_hidden(page.src_uri):
            files.remove(page)
    files.append(File.generated(config, "licences.txt", content=licences.as_text()))


def _of_theme(files: Files, folder: str) -> Iterator[str]:
    """The theme's own sheets or scripts, those that all its pages have, in their order."""
    for name in ("main", "palette", "bundle"):
        named = re.compile(rf"assets/{folder}/{name}\.[0-9a-f]+\.min\.\w+$")
        yield from filter(named.match, list(files.src_uris))


def _taken(files: Files, name: str) -> str:
    """The content of a style sheet, which the site has no longer by itself."""
    sheet = files.get_file_from_path(name)
    if sheet is None:
        raise PluginError(f"mkdocs.yml, extra_css: docs/{name} does not exist")
    files.remove(sheet)
    return sheet.content_string


def _script(name: str) -> str:
    return (BROWSER / f"{name}.js").read_text("utf-8")


def _add(files: Files, config: Any, stem: str, suffix: str, content: str) -> str:
    """A file of the site whose name tells its content."""
    name = styles.named(stem, suffix, content)
    files.append(File.generated(config, name, content=content))
    return name


def on_page_markdown(markdown: str, page: Any, config: Any = None, **_: Any) -> str:
    """Puts placeholders and cited numbers into the Markdown."""
    source = Path(page.file.abs_src_path).read_text("utf-8-sig")
    if source.startswith("---") and not page.meta:
        # MkDocs would print them as words of the page.
        raise PluginError(
            f"docs/{page.file.src_uri}: the lines between --- at its top are no YAML; "
            "a value with a colon in it wants quotes"
        )
    made = Page(page.file.src_uri, _first_line(source, markdown))
    _pages[page.file.src_uri] = made
    try:
        with noting_lacking() as lacking:
            if config is not None:
                config.extra.get("lacking", {})[page.file.src_uri] = lacking
            return hidden.without_links(prepare(markdown, made), made.file)
    except PageError as error:
        raise PluginError(f"docs/{error}") from None


def _first_line(source: str, markdown: str) -> int:
    """The line of the file where the Markdown begins, below its front matter."""
    at = max(0, source.find(markdown[:200]))
    return source.count("\n", 0, at) + 1


def on_page_content(html: str, page: Any, **_: Any) -> str:
    """Puts the calculators where their placeholders stand."""
    made = fill(label_cells(spaces.in_page(html)), _pages[page.file.src_uri])
    try:
        made = with_folds(made)
    except ValueError as error:
        raise PluginError(f"docs/{page.file.src_uri}: {error}") from None
    if page.meta.get("cards"):
        made = with_step_cards(made)
    return _held_back(made, page.file.src_uri)


_EXCLUDED = re.compile(r"(<(form|article)\b[^>]* data-search-exclude\b[^>]*>)(.*?)(?=</\2>)", re.S)
_HELD = re.compile(r"<!--held (\d+)-->")


def _held_back(html: str, name: str) -> str:
    """A page without what search leaves out, which it would take as long to read as all else takes
    to build."""
    parts = _held[name] = []

    def hold(found: re.Match[str]) -> str:
        parts.append(found[3])
        return f"{found[1]}<!--held {len(parts) - 1}-->"

    return _EXCLUDED.sub(hold, html)


def on_page_context(context: Any, page: Any, **_: Any) -> Any:
    """Search has seen the page: what was held back comes into it again."""
    parts = _held[page.file.src_uri]
    page.content = _HELD.sub(lambda found: parts[int(found[1])], page.content)
    return context


def on_post_build(config: Any) -> None:
    """Pages for frames, where an edition lets others show them; no sitemap without addresses.

    Now it is known what the pages use of the style sheets.
    """
    site = Path(config.site_dir)
    if embedding.wanted():
        embedding.write(site, _templates[0], config)
    styles.write(site, SHEET, _sheets, "\n".join(filter(None, _own)))
    if not config.site_url:
        for name in ("sitemap.xml", "sitemap.xml.gz"):
            (site / name).unlink(missing_ok=True)
