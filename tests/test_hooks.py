"""What MkDocs' hooks refuse."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from mkdocs.exceptions import PluginError
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
