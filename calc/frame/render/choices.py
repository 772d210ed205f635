"""The choices of a list, as HTML."""

from __future__ import annotations

from html import escape


def option(value: str, told: str, *, selected: bool = False, marks: str = "") -> str:
    """A choice: `told` is HTML, and so are the `marks` of a text that may come to be another one.

    HTML takes the text for the value where none is given, its ends and runs of spaces aside, and
    ends a choice where the next one begins; there are twenty thousand in a guide, and most are units.
    """
    plain = escape(value, quote=True)
    same = told == plain and not marks and value == " ".join(value.split())
    own = "" if same else f' value="{plain}"'
    return f"<option{marks}{own}{' selected' if selected else ''}>{told}"
