"""A large edition made by machine: hundreds of units, pages that cite them and compute with them, and
languages that no translator wrote. To measure with, and to count what is worked out again.

    python tests/large.py DIR           200 pages with the stock's, 400 units, three languages
    python tests/large.py DIR --time    the same, then checked, built, and built with another price
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import babel
from babel.messages.catalog import Catalog
from pseudo import pseudo_words

from site_build import edition, language, making

UNITS, PAGES, LANGUAGES = 400, 200, ("en", "fr", "pl")
ASKING = ("power", "water", "noise", "mount")  # that a unit's page asks, by turns
HILLS = ("Alder", "Birch", "Cedar", "Dogwood", "Elder", "Fir", "Gorse", "Hazel")

_UNIT = """[motor.m{n}]
name = "Motor {n}"
rated_power = "750 W"
voltage = "230 V"
frequency = "50 Hz"
rated_speed = "{speed} rpm"
efficiency = "76 %"
power_factor = "90 %"
mass = "11 kg"

[unit.u{n}]
name = "{hill} {n}"
motor = "m{n}"
pump = "ness-7"
membranes = "one-40"
pressure = "55 bar"
product_flow = "{flow} L/h"
mass = "{mass} kg"
length = "520 mm"
width = "230 mm"
height = "250 mm"
price = "{price} €"

"""
_PAGE = """---
part: Machines
---

# The {hill} {n}

It works at {{= unit.u{n}.pressure =}}, draws {{= unit.u{n}.motor.rated_power =}} and weighs {{= unit.u{n}.mass =}}.
{words}
"""
_ASKS = """
```calculator {name}
boat = "example"
unit = "u{n}"
```
"""


def large(
    folder: Path, units: int = UNITS, pages: int = PAGES, languages: Sequence[str] = LANGUAGES
) -> Path:
    """Write it; `pages` with those of the stock, every second own one with a calculator."""
    own = pages - len(list(making.STOCK_PAGES.glob("*.md")))
    records = [a_unit(n, 40 + n % 12) for n in range(units)]
    (folder / edition.EQUIPMENT).mkdir(parents=True)
    (folder / edition.EQUIPMENT / "units.toml").write_text("".join(records), "utf-8")
    (folder / edition.PAGES).mkdir()
    for n in range(own):
        words = " ".join(f"Words of page {n}, line {line}." for line in range(40))
        page = _PAGE.format(n=n, hill=HILLS[n % len(HILLS)], words=words)
        if n % 2:
            page += _ASKS.format(name=ASKING[n // 2 % len(ASKING)], n=n)
        (folder / edition.PAGES / f"u{n}.md").write_text(page, "utf-8")
    listed = ", ".join(f'"{code}"' for code in languages)
    (folder / edition.FILE).write_text(
        f'name = "Alder Watermakers"\ncurrency = "€"\nlanguages = [{listed}]\n'
        '\n[examples]\nunit = "u0"\n',
        "utf-8",
    )
    for code in languages:
        if code != "en":
            path = folder / language.FOLDER / code / language.FILE
            path.parent.mkdir(parents=True)
            path.write_bytes(made_by_machine(code))
    return folder


def a_unit(n: int, flow: float) -> str:
    """The records of a unit and its motor; `flow` in L/h."""
    return _UNIT.format(
        n=n,
        hill=HILLS[n % len(HILLS)],
        speed=1430 + n % 20,
        flow=flow,
        mass=21 + n % 5,
        price=3000 + n,
    )


def made_by_machine(code: str) -> bytes:
    """A translator's file with a whole language that no translator wrote."""
    made = Catalog(locale=babel.Locale.parse(code))
    forms = made.num_plurals
    for message in language.template():
        if isinstance(message.id, str) and message.id:
            made.add(message.id, pseudo_words(message.id))
        elif message.id:
            one, many = map(pseudo_words, message.id)
            made.add(message.id, (one, *[many] * (forms - 1)))
    return language.as_file(made)


def reprice(folder: Path, price: str) -> None:
    """Another price for the first unit."""
    path = folder / edition.EQUIPMENT / "units.toml"
    path.write_text(
        path.read_text("utf-8").replace('price = "3000 €"', f'price = "{price}"'), "utf-8"
    )


def _time(what: str, act: Callable[[], object]) -> None:
    wall, cpu = time.monotonic(), time.process_time()
    act()
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    took = time.monotonic() - wall, time.process_time() - cpu
    print(f"{what}: {took[0]:.1f} s, {took[1]:.1f} s of CPU, {most:.0f} MB at most", flush=True)


def _measure(folder: Path) -> None:
    from site_build import build, check

    site = folder / "site"
    _time("check", lambda: check.check(folder))
    _time("build", lambda: build.build_edition(folder, site, lambda _: None))
    _time("build again", lambda: build.build_edition(folder, site, lambda _: None))
    reprice(folder, "2950 €")
    _time("another price", lambda: build.build_edition(folder, site, lambda _: None))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--time", action="store_true")
    options = parser.parse_args()
    if not options.folder.exists():
        large(options.folder)
    if options.time:
        _measure(options.folder)
