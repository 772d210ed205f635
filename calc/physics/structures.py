"""Panels and beams that a unit stands on: stiffness, natural frequencies, mobility.

SI units: lengths in m, moduli in Pa, densities in kg/m³, stiffnesses in N/m, frequencies in Hz,
mobilities in m/(N s). A plate's x edges are those at x = 0 and x = length.
"""

import math
import operator
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, NamedTuple

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


def _positive(value: float, what: str) -> None:
    if not value > 0:
        raise ValueError(f"{what} must be greater than zero")


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
    _positive(youngs_modulus, "Young's modulus")
    _positive(thickness, "panel thickness")
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
        _positive(t, "panel thickness")
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
    _positive(face_thickness, "face thickness")
    _positive(core_thickness, "core thickness")
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
    _positive(spacing, "stiffener spacing")
    if not 0 < stiffener.width <= spacing:
        raise ValueError("a stiffener must be narrower than the spacing")
    h, depth = plate.thickness, stiffener.depth
    ea_plate = modulus * h
    ea_rib = stiffener.material.youngs_modulus * stiffener.width * depth / spacing
    arm = (h + depth) / 2
    d = plate.dx + ea_rib * depth**2 / 12 + arm**2 * ea_plate * ea_rib / (ea_plate + ea_rib)
    mass = plate.mass + stiffener.material.density * stiffener.width * depth / spacing
    return replace(plate, dx=d, mass=mass, thickness=h + depth)


# Beam functions: shapes of a strip between two edges, ∫φ²dx = length


class BeamShape(NamedTuple):
    """g4 = (β/π)⁴; h = -∫φφ''/π² and j = ∫φ'²/π² for unit length; φ on 0..1."""

    g4: float
    h: float
    j: float
    at: Callable[[float], float]


_ROOTS_CC = (4.730040745, 7.853204624, 10.99560784, 14.13716549)
_ROOTS_CF = (1.875104069, 4.694091133, 7.854757438, 10.99554073)
_ROOTS_CS = (3.926602312, 7.068582746, 10.21017612, 13.35176878)


def _root(roots: Sequence[float], n: int, shift: float) -> float:
    return roots[n - 1] if n <= len(roots) else (n + shift) * math.pi


@lru_cache(maxsize=256)
def beam_shape(edges: Edges, n: int) -> BeamShape:
    """The n-th shape (from 1) of a strip; free ends count their rigid motions first.

    Source: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, tables 8-1 and app. C.
    """
    if edges in ("SC", "FC", "FS"):
        mirror = beam_shape(edges[::-1], n)
        return mirror._replace(at=lambda s: mirror.at(1 - s))
    if edges == "SS":
        return BeamShape(n**4, n * n, n * n, lambda s: math.sqrt(2) * math.sin(n * math.pi * s))
    if edges == "FF" and n == 1:
        return BeamShape(0.0, 0.0, 0.0, lambda s: 1.0)
    if edges == "FF" and n == 2:
        return BeamShape(0.0, 0.0, 12 / math.pi**2, lambda s: math.sqrt(12) * (s - 0.5))
    if edges == "SF" and n == 1:
        return BeamShape(0.0, 0.0, 3 / math.pi**2, lambda s: math.sqrt(3) * s)
    if edges == "CF":
        b = _root(_ROOTS_CF, n, -0.5)
        lack = (math.sin(b) - math.cos(b) - math.exp(-b)) / (math.sinh(b) + math.sin(b))
        slope, curve, sign, mirrored = 2.0, -2.0, -1.0, False
    else:
        if edges in ("CC", "FF"):
            b = _root(_ROOTS_CC, n - 2 if edges == "FF" else n, 0.5)
            slope, curve = (6.0, -2.0) if edges == "FF" else (-2.0, -2.0)
        else:
            b = _root(_ROOTS_CS, n - 1 if edges == "SF" else n, 0.25)
            slope, curve = (3.0, -1.0) if edges == "SF" else (-1.0, -1.0)
        lack = (math.cos(b) - math.sin(b) - math.exp(-b)) / (math.sinh(b) - math.sin(b))
        sign = 1.0 if edges in ("FF", "SF") else -1.0
        mirrored = edges == "SF"
    ratio = 1 - lack  # σ of the handbooks; 1 - σ is kept apart, it would cancel for high modes
    sb = ratio * b

    def at(s: float) -> float:
        x = b * (1 - s if mirrored else s)
        growing = (lack * math.exp(x) + (2 - lack) * math.exp(-x)) / 2
        return growing + sign * (math.cos(x) - ratio * math.sin(x))

    h, j = sb * (sb + curve), sb * (sb + slope)
    return BeamShape((b / math.pi) ** 4, h / math.pi**2, j / math.pi**2, at)


# Panels


class PanelMode(NamedTuple):
    """A panel mode: frequency [Hz] and number of the shape along x and along y."""

    frequency: float
    nx: int
    ny: int


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangular panel [m] with its section and edges."""

    length: float
    width: float
    section: Section
    x_edges: Edges = "SS"
    y_edges: Edges = "SS"

    def __post_init__(self) -> None:
        _positive(min(self.length, self.width), "panel size")
        if self.section.thickness > min(self.length, self.width):
            raise ValueError("the panel is thicker than it is wide")
        loose = ({"FF"}, {"FF", "SF", "FS"})
        ends = {self.x_edges, self.y_edges}
        if ends <= loose[1] and ends & loose[0]:
            raise ValueError("a panel with these free edges is not held at all")

    @property
    def area(self) -> float:
        """Area [m²]."""
        return self.length * self.width


def mode_frequency(panel: Panel, nx: int, ny: int) -> float:
    """Natural frequency [Hz] of one mode of a panel. Source: as `mode_frequencies`."""
    return mode_frequencies(panel, (nx,), (ny,))[0].frequency


def mode_frequencies(panel: Panel, along: Sequence[int], across: Sequence[int]) -> list[PanelMode]:
    """The modes of a panel of all these shapes along x with all these along y.

    Exact with all edges simply supported; else Rayleigh's quotient with beam functions, which is
    high: by up to 0.8 % with every edge held, 2.5 % with one edge or two opposite edges free, 8 %
    in the first mode and 18 % in others where free edges meet (by a Ritz solution).
    Core shear as a spring in series.
    Source: G. B. Warburton, "The vibration of rectangular plates", Proc. Inst. Mech. Eng. 168
    (1954) 371-384, with the orthotropic form of R. F. S. Hearmon (1959).
    """
    s, a2, b2 = panel.section, panel.length**2, panel.width**2
    columns = []
    for ny in across:
        y = beam_shape(panel.y_edges, ny)
        columns.append((ny, s.dy * y.g4 / (b2 * b2), y.h, y.j, y.j / b2))
    pi4, ab, shear, solid = math.pi**4, a2 * b2, s.shear * math.pi**2, math.isinf(s.shear)
    modes = []
    for nx in along:
        x = beam_shape(panel.x_edges, nx)
        bent_x, sheared_x = s.dx * x.g4 / (a2 * a2), x.j / a2
        cross, twist = s.cross * x.h, s.twist * x.j
        for ny, bent_y, h, j, sheared_y in columns:
            stiffness = pi4 * (bent_x + bent_y + 2 * (cross * h + twist * j) / ab)
            flexibility = 1 / stiffness if stiffness > 0 else math.inf
            if not solid:
                flexibility += 1 / (shear * (sheared_x + sheared_y))
            frequency = math.sqrt(1 / (flexibility * s.mass)) / (2 * math.pi)
            modes.append(PanelMode(frequency, nx, ny))
    return modes


def panel_modes(panel: Panel, count: int = 8, orders: int = 5) -> tuple[PanelMode, ...]:
    """The lowest natural frequencies of a panel, of `orders` shapes each way.

    Source: as `mode_frequency`.
    """
    shapes = range(1, orders + 1)
    return tuple(sorted(mode_frequencies(panel, shapes, shapes))[:count])


def plate_frequency(
    length: float,
    width: float,
    thickness: float,
    youngs_modulus: float,
    density: float,
    poisson: float = 0.3,
    x_edges: Edges = "SS",
    y_edges: Edges = "SS",
    nx: int = 1,
    ny: int = 1,
) -> float:
    """Natural frequency [Hz] of a mode of a solid plate. Source: as `mode_frequency`."""
    section = isotropic_section(
        bending_stiffness(youngs_modulus, thickness, poisson),
        poisson,
        density * thickness,
        thickness,
    )
    return mode_frequency(Panel(length, width, section, x_edges, y_edges), nx, ny)


def frequency_parameter(
    aspect: float,
    x_edges: Edges = "SS",
    y_edges: Edges = "SS",
    nx: int = 1,
    ny: int = 1,
    poisson: float = 0.3,
) -> float:
    """λ² = ω a² √(m/D) [ratio] of a plate with a/b = `aspect`. Source: as `mode_frequency`."""
    section = isotropic_section(1.0, poisson, 1.0, 0.0)
    panel = Panel(1.0, 1 / aspect, section, x_edges, y_edges)
    return 2 * math.pi * mode_frequency(panel, nx, ny)


class Resonator(NamedTuple):
    """Modes as a force at a place meets them: ω² [rad²/s²] and φ²/modal mass [1/kg]."""

    squared: float
    weight: float


def panel_response(
    panel: Panel, places: Sequence[tuple[float, float]], orders: int = 7, across: int = 0
) -> tuple[Resonator, ...]:
    """What a panel's modes do at places (x, y) [m] on it, for `driven`.

    `orders` shapes along x with as many, or `across`, along y. The mean of φ² over the places: an
    upper bound for the mean velocity under forces that are shared evenly, whatever their phases.
    Raises ValueError for places off the panel. Source: as `driven`.
    """
    for x, y in places:
        if not (0 <= x <= panel.length and 0 <= y <= panel.width):
            raise ValueError("a mount stands off the panel")
    mass = panel.section.mass * panel.area * len(places)
    along, athwart = range(1, orders + 1), range(1, (across or orders) + 1)
    xs = [_squares(panel.x_edges, n, [x / panel.length for x, _ in places]) for n in along]
    ys = [_squares(panel.y_edges, n, [y / panel.width for _, y in places]) for n in athwart]
    return tuple(
        [
            Resonator(
                (2 * math.pi * frequency) ** 2,
                sum(map(operator.mul, xs[nx - 1], ys[ny - 1])) / mass,
            )
            for frequency, nx, ny in mode_frequencies(panel, along, athwart)
        ]
    )


def mode_weight(panel: Panel, places: Sequence[tuple[float, float]], nx: int, ny: int) -> float:
    """φ²/modal mass [1/kg] of one mode, the mean over places (x, y) [m].

    Source: definition of modal mass, the shapes' mean square being 1.
    """
    along = _squares(panel.x_edges, nx, [x / panel.length for x, _ in places])
    across = _squares(panel.y_edges, ny, [y / panel.width for _, y in places])
    mass = panel.section.mass * panel.area * len(places)
    return float(sum(map(operator.mul, along, across)) / mass)


def _squares(edges: Edges, n: int, places: Sequence[float]) -> list[float]:
    """φ² of a shape at places on 0..1, of which many are alike."""
    at = beam_shape(edges, n).at
    found = {s: at(s) ** 2 for s in set(places)}
    return [found[s] for s in places]


class Driven(NamedTuple):
    """What forces at its feet do to a panel or beam: point mobility [m/(N s)], and mean square
    velocity over its area per mean square newton [m²/(s² N²)]."""

    mobility: complex
    squared: float


def driven(
    response: Sequence[Resonator], loss_factor: float, frequency: float, mass: float
) -> Driven:
    """A panel or beam of a mass [kg] driven at a frequency [Hz], from its modes.

    Mobility jω Σ φ²/(M (ω²ₙ(1 + jη) - ω²)); velocity ω² Σ φ²/(M² |ω²ₙ(1 + jη) - ω²|²): the modes
    add in the mean over the area, to which they are orthogonal, and forces that keep no time with
    each other add by their squares. Source: L. Cremer, M. Heckl, E. E. Ungar, Structure-Borne
    Sound, ch. IV.
    """
    w = 2 * math.pi * frequency
    w2 = w * w
    lost = stored = squared = 0.0
    for square, weight in response:
        apart, damped = square - w2, loss_factor * square
        share = weight / (apart * apart + damped * damped)
        lost += share * damped
        stored += share * apart
        squared += share
    return Driven(complex(w * lost, w * stored), w2 * squared / mass)


def static_stiffness(response: Sequence[Resonator]) -> float:
    """Stiffness [N/m] at the place of a response: the modes at rest.

    Too stiff by what the modes left out would give: 1 % for 7 by 7 at the middle of a square.
    Source: as `driven`, at frequency 0.
    """
    return 1 / sum(weight / squared for squared, weight in response)


def infinite_plate_mobility(stiffness: float, mass_per_area: float) -> float:
    """Point mobility [m/(N s)] of an endless plate: 1/(8√(B m)).

    The mean about which a finite panel's mobility swings above its first modes. Source:
    L. Cremer, M. Heckl, E. E. Ungar, Structure-Borne Sound, ch. IV.
    """
    _positive(stiffness, "bending stiffness")
    _positive(mass_per_area, "mass per area")
    return 1 / (8 * math.sqrt(stiffness * mass_per_area))


# Beams


def rectangle_second_moment(width: float, depth: float) -> float:
    """Second moment of area [m⁴] of a rectangle [m]: b d³/12.

    Source: definition of the second moment of area.
    """
    _positive(min(width, depth), "beam section")
    return float(width * depth**3 / 12)


def beam_frequency(
    youngs_modulus: float,
    second_moment: float,
    mass_per_length: float,
    length: float,
    ends: Edges = "SS",
    mode: int = 1,
) -> float:
    """Natural frequency [Hz] of a beam: (βL)²/(2πL²) √(EI/m).

    Source: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1.
    """
    _positive(mass_per_length, "mass per length")
    _positive(length, "beam length")
    g2 = math.sqrt(beam_shape(ends, mode).g4)
    return (
        math.pi / 2 * g2 / length**2 * math.sqrt(youngs_modulus * second_moment / mass_per_length)
    )


def beam_response(
    youngs_modulus: float,
    second_moment: float,
    mass_per_length: float,
    length: float,
    places: Sequence[float],
    ends: Edges = "SS",
    modes: int = 7,
) -> tuple[Resonator, ...]:
    """What a beam's modes do at places [m] along it, for `driven`.

    The mean of φ² over the places, as `panel_response`. Raises ValueError for places off the beam.
    Source: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1.
    """
    if not all(0 <= x <= length for x in places):
        raise ValueError("a mount stands off the beam")
    mass = mass_per_length * length * len(places)
    found = []
    for n in range(1, modes + 1):
        f = beam_frequency(youngs_modulus, second_moment, mass_per_length, length, ends, n)
        at = beam_shape(ends, n).at
        weight = sum(at(x / length) ** 2 for x in places) / mass
        found.append(Resonator((2 * math.pi * f) ** 2, weight))
    return tuple(found)


def infinite_beam_mobility(
    bending_stiffness: float, mass_per_length: float, frequency: float
) -> float:
    """Real part of the point mobility [m/(N s)] of an endless beam: 1/(4 m' c), c = (EI/m')¼ √ω.

    EI [N m²], m' [kg/m]; the whole mobility is (1 - j) times this. Source: L. Cremer, M. Heckl,
    E. E. Ungar, Structure-Borne Sound, ch. IV (from memory).
    """
    _positive(bending_stiffness, "beam bending stiffness")
    _positive(mass_per_length, "mass per length")
    _positive(frequency, "frequency")
    speed = (bending_stiffness / mass_per_length) ** 0.25 * math.sqrt(2 * math.pi * frequency)
    return float(1 / (4 * mass_per_length * speed))


# What to change
