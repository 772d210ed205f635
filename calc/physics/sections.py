"""What a panel or beam is made of: materials, cores, sections and stiffeners, and how they bend.

SI units: lengths in m, moduli in Pa, densities in kg/m³, stiffnesses in N m.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from calc.physics._require import positive

Edges = Literal["SS", "CC", "CS", "SC", "CF", "FC", "SF", "FS", "FF"]
"""Two opposite edges: S simply supported, C clamped, F free."""

Standing = Literal["published", "computed", "from memory", "common practice"]


class Material(NamedTuple):
    """A panel material at room temperature and moderate moisture.

    loss_factor holds for a fitted panel (joints and all), common practice, no source.
    """

    name: str
    youngs_modulus: float
    density: float
    poisson: float
    loss_factor: float
    source: str
    standing: Standing


MATERIALS = {
    "plywood": Material(
        "plywood",
        9.2e9,
        550,
        0.30,
        0.03,
        "sheathing-grade plywood, materials database sheet: flexural E 8.2 to 10.3 GPa along the"
        " face grain, 400 to 600 kg/m³; middle of the range",
        "published",
    ),
    "grp_csm": Material(
        "solid fibreglass, chopped strand mat",
        6.5e9,
        1480,
        0.33,
        0.02,
        "ISO 12215-5, annex C style, glass mass fraction 0.30",
        "from memory",
    ),
    "grp_woven": Material(
        "solid fibreglass, woven roving",
        14e9,
        1700,
        0.25,
        0.02,
        "ISO 12215-5, annex C style, glass mass fraction 0.48",
        "from memory",
    ),
    "steel": Material("mild steel", 205e9, 7850, 0.30, 0.01, "handbook value", "from memory"),
    "aluminium": Material(
        "marine aluminium", 70e9, 2660, 0.33, 0.01, "handbook value, 5083", "from memory"
    ),
    "softwood": Material(
        "softwood plank, along the grain", 9e9, 450, 0.35, 0.03, "handbook value", "from memory"
    ),
    "hardwood": Material(
        "hardwood plank, along the grain", 12e9, 680, 0.35, 0.03, "handbook value", "from memory"
    ),
}
"""Panel materials; real plywood and laminate scatter by a quarter either way."""


class Core(NamedTuple):
    """A sandwich core: shear modulus [Pa] and density [kg/m³]."""

    name: str
    shear_modulus: float
    density: float
    source: str
    standing: Standing


CORES = {
    "pvc80": Core("PVC foam, 80 kg/m³", 27e6, 80, "ISO 12215-5, annex D style", "from memory"),
    "balsa": Core(
        "end-grain balsa, 150 kg/m³", 150e6, 150, "ISO 12215-5, annex D style", "from memory"
    ),
    "none": Core("foam core with no strength known", 5e6, 60, "no source", "common practice"),
}


# Sections


@dataclass(frozen=True, slots=True)
class Section:
    """Bending of a plate per metre width: stiffness along x and y [N m], twist, mass [kg/m²].

    cross: D·ν; twist: 2·D(1 - ν)/2 as in an isotropic plate; shear: shear stiffness of a
    sandwich [N/m], infinite for a solid plate; thickness overall [m].
    """

    dx: float
    dy: float
    cross: float
    twist: float
    mass: float
    thickness: float
    shear: float = math.inf

    @property
    def mean(self) -> float:
        """Geometric mean of the two bending stiffnesses [N m]."""
        return math.sqrt(self.dx * self.dy)


def bending_stiffness(youngs_modulus: float, thickness: float, poisson: float) -> float:
    """Bending stiffness of a solid plate per metre width [N m]: E h³/(12(1 - ν²)).

    Source: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, eq. (3).
    """
    positive(youngs_modulus, "Young's modulus")
    positive(thickness, "panel thickness")
    return float(youngs_modulus * thickness**3 / (12 * (1 - poisson * poisson)))


def isotropic_section(
    d: float, poisson: float, mass: float, thickness: float, shear: float = math.inf
) -> Section:
    """Section of a panel alike both ways, of a bending stiffness [N m] per width, mass [kg/m²],
    thickness [m] and shear stiffness [N/m]. Source: as `bending_stiffness`."""
    return Section(d, d, poisson * d, (1 - poisson) * d, mass, thickness, shear)


def solid_section(material: Material, thickness: float) -> Section:
    """Section of a solid panel [m]. Source: as `bending_stiffness`."""
    d = bending_stiffness(material.youngs_modulus, thickness, material.poisson)
    return isotropic_section(d, material.poisson, material.density * thickness, thickness)


def layered_section(layers: Sequence[tuple[Material, float]]) -> Section:
    """Section of bonded layers (material, thickness [m]), as a panel with a glued doubler.

    Plane sections about the common neutral axis; Poisson's ratio averaged by stiffness.
    Source: composite beam theory, e.g. R. M. Jones, Mechanics of Composite Materials, ch. 4.
    """
    area = moment = mass = height = ratio = 0.0
    spans = []
    for material, t in layers:
        positive(t, "panel thickness")
        e = material.youngs_modulus / (1 - material.poisson**2)
        spans.append((e, height, height + t))
        area += e * t
        moment += e * t * (height + t / 2)
        ratio += material.poisson * e * t
        mass += material.density * t
        height += t
    axis = moment / area
    d = sum(e * ((top - axis) ** 3 - (low - axis) ** 3) / 3 for e, low, top in spans)
    return isotropic_section(d, ratio / area, mass, height)


def sandwich_section(
    face: Material, face_thickness: float, core: Core, core_thickness: float
) -> Section:
    """Section of two equal faces [m] on a core [m] that carries shear only.

    D of the faces about the middle, shear stiffness G d²/c with d between face middles.
    Source: H. G. Allen, Analysis and Design of Structural Sandwich Panels, ch. 2.
    """
    positive(face_thickness, "face thickness")
    positive(core_thickness, "core thickness")
    e = face.youngs_modulus / (1 - face.poisson**2)
    d = core_thickness + face_thickness
    bending = e * face_thickness * (d * d / 2 + face_thickness**2 / 6)
    mass = 2 * face.density * face_thickness + core.density * core_thickness
    shear = core.shear_modulus * d * d / core_thickness
    return isotropic_section(bending, face.poisson, mass, d + face_thickness, shear)


class Stiffener(NamedTuple):
    """A rectangular batten glued under the panel: material, width and depth [m]."""

    material: Material
    width: float
    depth: float


def stiffened_section(
    plate: Section, modulus: float, stiffener: Stiffener, spacing: float
) -> Section:
    """Section with stiffeners along x smeared over their spacing [m].

    `modulus` [Pa] is the plate's in-plane modulus. The stiffener's eccentricity is counted about
    the common neutral axis. Good for waves much longer than the spacing; between stiffeners use
    the bay as a panel of its own. Source: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates
    and Shells, § 83 (smeared ribs). Raises ValueError for stiffeners that touch each other.
    """
    positive(spacing, "stiffener spacing")
    if not 0 < stiffener.width <= spacing:
        raise ValueError("a stiffener must be narrower than the spacing")
    h, depth = plate.thickness, stiffener.depth
    ea_plate = modulus * h
    ea_rib = stiffener.material.youngs_modulus * stiffener.width * depth / spacing
    arm = (h + depth) / 2
    d = plate.dx + ea_rib * depth**2 / 12 + arm**2 * ea_plate * ea_rib / (ea_plate + ea_rib)
    mass = plate.mass + stiffener.material.density * stiffener.width * depth / spacing
    return replace(plate, dx=d, mass=mass, thickness=h + depth)
