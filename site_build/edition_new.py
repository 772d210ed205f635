"""What a new edition begins with: files that say in remarks what may stand in them."""

from __future__ import annotations

from pathlib import Path

from calc import __version__

from .edition import BRAND, EQUIPMENT, FILE, PAGES
from .steps import Trouble

_EDITION = """# Whose guide this is. The command “check” tells what is wrong in here, line by line.
name = {name}
# The version of Brinebook that it was made with; “update” tells what a newer one changes.
base = "{version}"
# The money that prices are in: a sign or three letters.
# currency = "EUR"
# Where it will be hosted.
# address = "https://example.org/water/"
# Pages of other websites that may hold a calculator of this guide: their origins.
# embed_on = ["https://example.org"]
# Pages of the stock that yours does without.
# hide = ["bulkhead.md"]

# How a reader reaches you.
[contact]
# name = "Nell Rowan"
# email = "nell@example.org"
# phone = "+00 12 34 56"

# A logo and a style sheet out of brand/, and colours.
[brand]
# logo = "mark.svg"
# colour = "#0b4f6c"

# The unit and the boats that all pages are filled in with, by their records' keys.
[examples]
# unit = "skerry-45"
# boats = ["ketch", "catamaran"]

# Doubts of “check” that you know better about, each with its reason.
[doubts]
# "unit.petrel-60.mass" = "weighed with its base plate"
"""

_RECORDS = """# Your own records. Each value has its unit. A record that is not there yet:
#
# [motor.gull-11]
# name = "Gull 1.1 kW"
# rated_power = "1.1 kW"
# voltage = "230 V"
# frequency = "50 Hz"
# rated_speed = "1440 rpm"
# efficiency = "77 %"
# power_factor = "93 %"
# mass = "13 kg"
#
# Fields of a record that is there; the others stay ("" leaves one unsaid):
#
# [change.task.oil]
# price = "12 €"
#
# A whole record in place of one that is there:
#
# [replace.bank.lfp-12-400]
# name = "LiFePO4, 12 V 460 Ah"
# chemistry = "lifepo4"
# capacity = "460 Ah"
# voltage = "12 V"
#
# What goes, by its key, or all of a kind:
#
# [drop]
# array = ["roof-1200"]
"""

TO_WRITE = "Write here who you are."
"""What stands for the words that are still to be written."""

_PAGE = """---
description: Who we are, and how to reach us
part: {part}
---

# About us

{to_write} A page can hold a calculator, filled in with your example:

    ```calculator power
    boat = "example"
    ```

without the four spaces before it. A page of the stock is replaced by one of the same name.
"""


def write(folder: Path, name: str) -> None:
    """Make the directory of a new edition. Raises Trouble if there is something already."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Trouble(f"{folder} is there and not empty; name a directory that isn't there yet")
    if not name.isprintable() or not name.strip():
        raise Trouble("--name: must be one line of text")
    for one in (EQUIPMENT, PAGES, BRAND):
        (folder / one).mkdir(parents=True)
    said = '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
    content = _EDITION.format(name=said, version=__version__)
    (folder / FILE).write_text(content, "utf-8", newline="\n")
    (folder / EQUIPMENT / "own.toml").write_text(_RECORDS, "utf-8", newline="\n")
    page = _PAGE.format(part=said, to_write=TO_WRITE)
    (folder / PAGES / "about.md").write_text(page, "utf-8", newline="\n")
