"""Panels that a unit stands on: natural frequencies, stiffness, mobility.

SI units: lengths in m, stiffnesses in N/m, frequencies in Hz, mobilities in m/(N s). A plate's x
edges are those at x = 0 and x = length.
"""

import math
import operator
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from calc.physics._require import positive
from calc.physics.beams import Resonator, beam_shape
from calc.physics.sections import Edges, Section, bending_stiffness, isotropic_section


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
        positive(min(self.length, self.width), "panel size")
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
    moved = _moved(
        panel.x_edges,
        panel.y_edges,
        tuple([(x / panel.length, y / panel.width) for x, y in places]),
        len(along),
        len(athwart),
    )
    modes = mode_frequencies(panel, along, athwart)
    return tuple(
        [
            Resonator((2 * math.pi * mode.frequency) ** 2, square / mass)
            for mode, square in zip(modes, moved, strict=True)
        ]
    )


@lru_cache(maxsize=16)  # thicker or stiffened, a panel still moves in the same shapes
def _moved(
    x_edges: Edges, y_edges: Edges, places: tuple[tuple[float, float], ...], along: int, across: int
) -> list[float]:
    """Σφ² over places on 0..1 of all shapes, in the order of `mode_frequencies`."""
    xs = [_squares(x_edges, n, [x for x, _ in places]) for n in range(1, along + 1)]
    ys = [_squares(y_edges, n, [y for _, y in places]) for n in range(1, across + 1)]
    return [sum(map(operator.mul, x, y)) for x in xs for y in ys]


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
    response: Sequence[Resonator], loss_factor: float, frequencies: Sequence[float], mass: float
) -> list[Driven]:
    """A panel or beam of a mass [kg] driven at frequencies [Hz], from its modes.

    Mobility jω Σ φ²/(M (ω²ₙ(1 + jη) - ω²)); velocity ω² Σ φ²/(M² |ω²ₙ(1 + jη) - ω²|²): the modes
    add in the mean over the area, to which they are orthogonal, and forces that keep no time with
    each other add by their squares. Source: L. Cremer, M. Heckl, E. E. Ungar, Structure-Borne
    Sound, ch. IV.
    """
    modes = [
        (square, weight, loss_factor * square, (loss_factor * square) * (loss_factor * square))
        for square, weight in response
    ]
    found = []
    for frequency in frequencies:
        w = 2 * math.pi * frequency
        w2 = w * w
        lost = stored = squared = 0.0
        for square, weight, damped, damped_squared in modes:
            apart = square - w2
            share = weight / (apart * apart + damped_squared)
            lost += share * damped
            stored += share * apart
            squared += share
        found.append(Driven(complex(w * lost, w * stored), w2 * squared / mass))
    return found


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
    positive(stiffness, "bending stiffness")
    positive(mass_per_area, "mass per area")
    return 1 / (8 * math.sqrt(stiffness * mass_per_area))
