"""An invented dealer's edition with all that one can have, in English and in a language made by machine."""

from __future__ import annotations

import shutil
from pathlib import Path

import pseudo
import pytest
from test_own_calculators import BUCKET, FUNNEL, OILS, written

from calc import equipment, stock
from calc.frame.guide import Guide
from calc.frame.render.html import controls
from site_build import build, check, edition, own_calculators
from site_build.own_calculators import LIBRARY

DEALER = Path(__file__).parents[1] / "dealer"
OTHER = (
    "fr"  # the code of the language made by machine: numbers, plurals and the theme's words are its
)

# Calculators of its own: those of DEVELOPERS.md, one of them with all of Python's library that it may have.
OWN = {
    "calculators/bucket.py": BUCKET.replace(
        "from ..frame.guide", f"import {', '.join(LIBRARY[1:])}\n\nfrom ..frame.guide", 1
    ),
    "calculators/funnel.py": FUNNEL,
    "equipment/oils.toml": OILS,
    "pages/bucket.md": '# A bucket\n\n```calculator bucket\nboat = "example"\n```\n',
    "pages/funnel.md": '# A funnel\n\n```calculator funnel\noil = "vg-100"\n```\n',
    # A tag is a word that nobody reads: one of the language whose forms search knows.
    f"languages/{OTHER}/pages/quai.md": "---\ntags: [dessalinisateur]\n---\n\n"
    + pseudo.page("# The quay\n\nAt the end of the harbour.\n"),
}


def built(folder: Path, site: Path) -> list[str]:
    """Makes the edition in a folder and builds it into another; what the building told."""
    made = written(Path(shutil.copytree(DEALER, folder)), OWN)
    settings = made / edition.FILE
    both = f'languages = ["en", "{OTHER}"]\n'
    settings.write_text(both + settings.read_text("utf-8"), "utf-8")
    pseudo.translate(made, OTHER)
    told: list[str] = []
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(controls, "LONG_LIST", 15)  # the waters are more
        build.build_edition(made, site, told.append)
    return told


def guide(folder: Path) -> Guide:
    """The edition's guide, in English."""
    made = edition.read(folder)
    own = own_calculators.read(made)
    read = equipment.read([stock.records(), *check.layers(made)], stock.kinds(own.calculators))
    return stock.with_shelves(read.shelves, own.calculators, own.sources)
