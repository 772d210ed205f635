"""What MkDocs' hooks refuse."""

from __future__ import annotations

import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files
from mkdocs.utils.meta import get_data

from site_build import hooks


def page(tmp_path: Path, text: str) -> tuple[str, Any]:
    """A page as MkDocs hands it to the hook."""
    file = tmp_path / "oil.md"
    file.write_text(text, "utf-8")
    markdown, meta = get_data(text)
    names = SimpleNamespace(src_uri="oil.md", abs_src_path=str(file))
    return markdown, SimpleNamespace(file=names, meta=meta)


def test_front_matter_that_yaml_cannot_read_stops_the_build(tmp_path: Path) -> None:
    markdown, made = page(tmp_path, "---\ndescription: Oil: old and new\n---\n\n# Oil\n")
    with pytest.raises(PluginError, match=r"docs/oil\.md: .* wants quotes"):
        hooks.on_page_markdown(markdown, page=made)


def test_front_matter_that_it_can_read_is_no_words_of_the_page(tmp_path: Path) -> None:
    markdown, made = page(tmp_path, '---\ndescription: "Oil: old and new"\n---\n\n# Oil\n')
    assert hooks.on_page_markdown(markdown, page=made).strip() == "# Oil"


def style_sheets(**texts: str) -> tuple[Files, MkDocsConfig]:
    config = MkDocsConfig()
    config.load_dict({"site_name": "A", "extra_css": ["assets/css/a.css", "assets/css/b.css"]})
    config.validate()
    config.plugins._current_plugin = "hooks"  # as MkDocs does while a hook runs
    files = [
        File.generated(config, f"assets/css/{name}.css", content=text)
        for name, text in texts.items()
    ]
    return Files(files), config


def built(tmp_path: Path, **texts: str) -> tuple[str, str]:
    """The sheet's name in a page, and what is in it, of a site with one page."""
    files, config = style_sheets(**texts)
    config.site_dir = str(tmp_path)
    hooks.on_files(files, config)
    assert config.extra_css == []
    fonts = config.extra["fonts"]
    assert re.fullmatch(r"assets/css/fonts\.[0-9a-f]{12}\.css", fonts), "they come after the paint"
    sheets = [name for name in files.src_uris if name.endswith(".css")]
    assert sheets == ["assets/css/c.css", fonts]
    page = tmp_path / "a.html"
    page.write_text(f'<link rel="stylesheet" href="{config.extra["sheet"]}"><a><b>', "utf-8")
    hooks.on_post_build(config)
    name = page.read_text("utf-8").split('"')[3]
    return name, (tmp_path / name).read_text("utf-8")


def test_style_sheets_become_one_in_their_order_without_what_no_page_uses(tmp_path: Path) -> None:
    name, made = built(tmp_path, b="b{top:0}", c="c {}", a="a{top:0}.of-no-page{top:0}")
    assert re.fullmatch(r"assets/css/guide\.[0-9a-f]{12}\.css", name)
    assert made.endswith("a{top:0}b{top:0}")
    other, _ = built(tmp_path, b="b{top:0}", c="c {}", a="a{top:1px}")
    assert other != name, "another content has another name"


def test_a_style_sheet_that_is_not_there_stops_the_build() -> None:
    with pytest.raises(PluginError, match=r"docs/assets/css/b\.css does not exist"):
        hooks.on_files(*style_sheets(a="a {}"))
