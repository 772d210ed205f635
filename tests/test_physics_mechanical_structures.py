"""Panels, beams, bolts and screws against a Ritz solution by numpy, closed forms and laws."""

import math

import numpy as np
import pytest
import scipy.linalg
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial import Polynomial

from calc.physics import beams, fasteners, plates, sections
from calc.physics.plates import Panel
from calc.physics.sections import MATERIALS

PLY = MATERIALS["plywood"]
SUPPORT = {"S": 1, "C": 2, "F": 0}


def _ritz(x_edges: str, y_edges: str, aspect: float, nu: float = 0.3, terms: int = 9) -> np.ndarray:
    """λ² of a square-norm plate by polynomials that keep the edges, apart from the package."""

    def integrals(edges: str, length: float) -> dict[str, np.ndarray]:
        held = Polynomial([0, 1]) ** SUPPORT[edges[0]] * Polynomial([1, -1]) ** SUPPORT[edges[1]]
        points, weights = np.polynomial.legendre.leggauss(40)
        s, w = (points + 1) / 2, weights / 2
        legendre = [
            Polynomial(np.polynomial.legendre.leg2poly([0] * i + [1])) for i in range(terms)
        ]
        basis = [held * p(Polynomial([-1, 2])) for p in legendre]
        value = [np.array([b.deriv(d)(s) if d else b(s) for b in basis]) for d in range(3)]
        return {
            f"{i}{j}": (value[i] * w) @ value[j].T * length ** (1 - i - j)
            for i in range(3)
            for j in range(3)
        }

    x, y = integrals(x_edges, 1.0), integrals(y_edges, 1 / aspect)
    k = (
        np.kron(x["22"], y["00"])
        + np.kron(x["00"], y["22"])
        + nu * (np.kron(x["20"], y["02"]) + np.kron(x["02"], y["20"]))
        + 2 * (1 - nu) * np.kron(x["11"], y["11"])
    )
    mass = np.kron(x["00"], y["00"])
    values = scipy.linalg.eigh((k + k.T) / 2, (mass + mass.T) / 2, eigvals_only=True)
    return np.sqrt(np.maximum(values, 0))


@pytest.mark.parametrize("aspect", [0.5, 1.0, 1.5])
@pytest.mark.parametrize(
    ("x_edges", "y_edges", "first", "others"),
    [
        ("SS", "SS", 1e-5, 1e-5),
        ("CC", "CC", 0.004, 0.006),
        ("CC", "SS", 0.0045, 0.007),
        ("CS", "SS", 0.006, 0.007),
        ("CS", "CC", 0.005, 0.006),
        ("CS", "CS", 0.006, 0.008),
        ("CC", "CF", 0.015, 0.02),
        ("SS", "SF", 0.01, 0.015),
        ("SS", "CF", 0.026, 0.026),
        ("CC", "FF", 0.015, 0.015),
        ("CF", "FF", 0.02, 0.18),
        ("CF", "CF", 0.08, 0.11),
    ],
)
def test_frequencies_lie_at_or_just_above_a_ritz_solution(
    aspect: float, x_edges: str, y_edges: str, first: float, others: float
) -> None:
    reference = _ritz(x_edges, y_edges, aspect)
    panel = Panel(1.0, 1 / aspect, sections.isotropic_section(1.0, 0.3, 1.0, 0.0), x_edges, y_edges)
    modes = [2 * math.pi * m.frequency for m in plates.panel_modes(panel, 4, 6)]
    for i, (got, exact) in enumerate(zip(modes, reference, strict=False)):
        # Two modes alike split apart in the Ritz solution: the upper one may come out higher there.
        assert exact * (1 - (0.004 if i else 1e-5)) <= got
        assert got <= exact * (1 + (others if i else first))


@pytest.mark.parametrize("edges", ["SS", "CC", "CS", "SC", "CF", "FC", "SF", "FS", "FF"])
@pytest.mark.parametrize("n", [1, 2, 3, 4, 6, 9])
def test_beam_shapes_by_quadrature(edges: str, n: int) -> None:
    shape = beams.beam_shape(edges, n)
    points, weights = np.polynomial.legendre.leggauss(80)
    s, w, h = (points + 1) / 2, weights / 2, 1e-4
    at = np.vectorize(shape.at)
    slope = (at(s + h) - at(s - h)) / (2 * h)
    curve = (at(s + h) - 2 * at(s) + at(s - h)) / h**2
    assert w @ at(s) ** 2 == pytest.approx(1, abs=1e-4)
    assert w @ slope**2 / np.pi**2 == pytest.approx(shape.j, rel=1e-3, abs=1e-6)
    assert -(w @ (at(s) * curve)) / np.pi**2 == pytest.approx(shape.h, rel=1e-3, abs=1e-4)
    assert w @ curve**2 / np.pi**4 == pytest.approx(shape.g4, rel=2e-3, abs=1e-4)


@pytest.mark.parametrize("ends", ["SS", "CC", "CF"])
@pytest.mark.parametrize("mode", [1, 2, 3])
def test_beam_frequencies_solve_the_frequency_equation(ends: str, mode: int) -> None:
    f = beams.beam_frequency(1.0, 1.0, 1.0, 1.0, ends, mode)
    b = math.sqrt(2 * math.pi * f)
    left = {
        "SS": math.sin(b),
        "CC": math.cos(b) - 1 / math.cosh(b),
        "CF": math.cos(b) + 1 / math.cosh(b),
    }[ends]
    assert abs(left) < 1e-6


# Sections


@given(t1=st.floats(0.003, 0.03), t2=st.floats(0.003, 0.03))
def test_glued_layers_of_one_material_are_one_panel(t1: float, t2: float) -> None:
    glued = sections.layered_section([(PLY, t1), (PLY, t2)])
    solid = sections.solid_section(PLY, t1 + t2)
    assert glued.dx == pytest.approx(solid.dx)
    assert glued.mass == pytest.approx(solid.mass)
    assert glued.twist == pytest.approx(solid.twist)


def test_layers_against_a_fine_sum() -> None:
    steel, gap = MATERIALS["steel"], 1e-6
    z = np.arange(0, 0.015, gap) + gap / 2
    e = np.where(z < 0.012, PLY.youngs_modulus / (1 - PLY.poisson**2), steel.youngs_modulus / 0.91)
    axis = (e * z).sum() / e.sum()
    section = sections.layered_section([(PLY, 0.012), (steel, 0.003)])
    assert section.dx == pytest.approx((e * (z - axis) ** 2).sum() * gap, rel=1e-5)


def test_sandwich_with_a_stiff_core_is_its_faces_apart() -> None:
    grp = MATERIALS["grp_woven"]
    section = sections.sandwich_section(grp, 0.002, sections.CORES["balsa"], 0.02)
    void = grp._replace(youngs_modulus=1e-6, density=sections.CORES["balsa"].density)
    layers = sections.layered_section([(grp, 0.002), (void, 0.02), (grp, 0.002)])
    assert section.dx == pytest.approx(layers.dx, rel=1e-6)
    assert section.mass == pytest.approx(layers.mass)


@given(core=st.floats(0.005, 0.05), g=st.floats(1e6, 1e9))
def test_core_shear_lowers_frequencies_as_allen_says(core: float, g: float) -> None:
    foam = sections.Core("test", g, 80, "", "computed")
    section = sections.sandwich_section(MATERIALS["grp_csm"], 0.003, foam, core)
    a, b = 0.7, 0.5
    k2 = math.pi**2 * (1 / a**2 + 1 / b**2)
    expected = math.sqrt(section.dx * k2**2 / (1 + section.dx * k2 / section.shear) / section.mass)
    got = plates.mode_frequency(Panel(a, b, section), 1, 1)
    assert got == pytest.approx(expected / (2 * math.pi))


def test_stiffened_section_against_a_tee_section() -> None:
    ply, rib = sections.solid_section(PLY, 0.012), sections.Stiffener(PLY, 0.02, 0.05)
    spacing = 0.3
    section = sections.stiffened_section(ply, PLY.youngs_modulus, rib, spacing)
    parts = [
        (spacing * 0.012, 0.006, spacing * 0.012**3 / 12),
        (0.02 * 0.05, 0.037, 0.02 * 0.05**3 / 12),
    ]
    axis = sum(a * z for a, z, _ in parts) / sum(a for a, _, _ in parts)
    second = sum(i + a * (z - axis) ** 2 for a, z, i in parts)
    # The panel's own bending keeps its 1/(1 - ν²).
    own = ply.dx - PLY.youngs_modulus * 0.012**3 / 12
    assert section.dx == pytest.approx(PLY.youngs_modulus * second / spacing + own, rel=1e-6)
    assert section.dy == ply.dy


# Mobility


def test_mean_mobility_of_a_panel_is_that_of_an_endless_one() -> None:
    """Skudrzyk's mean: over many modes the finite panel swings about the infinite value."""
    section = sections.solid_section(MATERIALS["steel"], 0.002)
    panel = Panel(1.3, 1.0, section)
    endless = plates.infinite_plate_mobility(section.mean, section.mass)
    means = []
    for place in [(0.31, 0.27), (0.53, 0.41), (0.77, 0.33), (0.47, 0.61)]:
        response = plates.panel_response(panel, [place], 24)
        band = np.linspace(300, 900, 400)
        means.append(np.mean([d.mobility.real for d in plates.driven(response, 0.03, band, 1.0)]))
    assert np.mean(means) == pytest.approx(endless, rel=0.1)


@given(f=st.floats(1, 2000), x=st.floats(0.05, 0.55), y=st.floats(0.05, 0.35))
def test_a_panel_takes_energy_and_gives_none(f: float, x: float, y: float) -> None:
    panel = Panel(0.6, 0.4, sections.solid_section(PLY, 0.018), "CC", "SS")
    response = plates.panel_response(panel, [(x, y)])
    assert plates.driven(response, PLY.loss_factor, [f], 1.0)[0].mobility.real > 0


def test_far_below_its_modes_a_panel_is_a_spring() -> None:
    panel = Panel(0.6, 0.4, sections.solid_section(PLY, 0.018))
    response = plates.panel_response(panel, [(0.3, 0.2)])
    y = plates.driven(response, 1e-6, [1.0], 1.0)[0].mobility
    assert y.imag == pytest.approx(2 * math.pi / plates.static_stiffness(response), rel=1e-3)


@given(h=st.floats(0.004, 0.03))
def test_thicker_is_stiffer_higher_and_less_mobile(h: float) -> None:
    thin, thick = (sections.solid_section(PLY, t) for t in (h, 1.1 * h))
    assert thick.dx > thin.dx
    assert plates.infinite_plate_mobility(thick.mean, thick.mass) < (
        plates.infinite_plate_mobility(thin.mean, thin.mass)
    )
    assert plates.mode_frequency(Panel(0.6, 0.4, thick), 1, 1) == pytest.approx(
        1.1 * plates.mode_frequency(Panel(0.6, 0.4, thin), 1, 1)
    )


# Bolts and screws

base = [(0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2)]
forces = st.floats(-500, 500)


@given(fx=forces, fy=forces, fz=forces, cx=st.floats(-0.1, 0.4), cy=st.floats(-0.1, 0.3))
def test_bolt_pulls_balance_the_moments(
    fx: float, fy: float, fz: float, cx: float, cy: float
) -> None:
    height = 0.15
    loads = fasteners.bolt_group_loads((fx, fy, fz), (cx, cy, height), base)
    pulls = np.array([load.tension for load in loads])
    x, y = np.array(base).T
    assert pulls.sum() == pytest.approx(fz, abs=1e-6)
    assert (pulls * x).sum() == pytest.approx(fz * cx - fx * height, abs=1e-6)
    assert (pulls * y).sum() == pytest.approx(fz * cy - fy * height, abs=1e-6)


def test_shear_adds_the_twist() -> None:
    through = fasteners.bolt_group_loads((100, 0, 0), (0.15, 0.1, 0), base)
    beside = fasteners.bolt_group_loads((100, 0, 0), (0.15, 0.2, 0), base)
    assert [b.shear for b in through] == pytest.approx([25] * 4)
    # 10 N m of twist: moving the force to +y adds to it on the far side (+y).
    assert beside[2].shear > 25 > beside[0].shear
    # Shigley: F/n + M r/Σr², along x 25 ± 10·0.1/0.13.
    assert beside[2].shear == pytest.approx(math.hypot(25 + 10 * 0.1 / 0.13, 10 * 0.15 / 0.13))


@given(pull=st.floats(-5e3, 5e3), shear=st.floats(0, 5e3))
def test_use_of_a_bolt(pull: float, shear: float) -> None:
    use = fasteners.combined_use(fasteners.BoltLoad(pull, shear), 14e3, 8e3)
    assert use >= max(pull / 14e3, shear / 8e3)
    assert use <= max(pull, 0) / 14e3 + shear / 8e3 + 1e-12


@given(force=st.floats(1, 1e4), allowed=st.floats(1e5, 1e7))
def test_backing_plate_keeps_to_the_pressure(force: float, allowed: float) -> None:
    size = fasteners.washer_for_pressure(force, allowed, 0.0065)
    if size > 0.0065:
        assert fasteners.washer_pressure(force, size, 0.0065) == pytest.approx(allowed, rel=1e-4)


def test_hose_bends() -> None:
    # A full S of two quarter turns moves sideways by two radii.
    assert fasteners.hose_length_for_offset(0.2, 0.1) == pytest.approx(math.pi * 0.1)
    assert fasteners.hose_length_for_offset(0.0, 0.1) == 0
    assert fasteners.hose_loop_length(0.1, 0.05, 180) == pytest.approx(math.pi * 0.1 + 0.1)


BAD = [
    (lambda: Panel(0.01, 0.4, sections.solid_section(PLY, 0.018)), "thicker than it is wide"),
    (lambda: Panel(0, 0.4, sections.solid_section(PLY, 0.018)), "panel size"),
    (lambda: Panel(1, 1, sections.solid_section(PLY, 0.018), "FF", "SF"), "not held"),
    (lambda: sections.solid_section(PLY, 0), "thickness"),
    (
        lambda: plates.panel_response(
            Panel(0.6, 0.4, sections.solid_section(PLY, 0.018)), [(0.7, 0.1)]
        ),
        "off the panel",
    ),
    (lambda: fasteners.bolt_group_loads((0, 0, 1), (0, 0, 0), [(0, 0), (1, 0)]), "at least three"),
    (lambda: fasteners.bolt_group_loads((0, 0, 1), (0, 0, 0), [(0, 0), (1, 0), (2, 0)]), "line"),
    (lambda: fasteners.stress_area("M7"), "no thread M7"),
    (lambda: fasteners.bolt_strength("M6", "C9"), "no bolt class"),
    (lambda: fasteners.wood_screw_withdrawal(0.5, 0, 0.03), "screw size"),
    (lambda: fasteners.washer_pressure(10, 0.006, 0.006), "larger than its hole"),
    (lambda: fasteners.hose_length_for_offset(0.3, 0.1), "two bends"),
]


@pytest.mark.parametrize(("call", "words"), BAD)
def test_bad_input_is_named(call, words) -> None:
    with pytest.raises(ValueError, match=words):
        call()


def test_a_modes_weight_is_its_squared_shape_over_its_modal_mass() -> None:
    """Simply supported, sin · sin: a quarter of the mass counts, all of it at the middle."""
    section = sections.solid_section(PLY, 0.012)
    panel = Panel(0.9, 0.6, section)
    mass = section.mass * 0.9 * 0.6
    middle, quarter, edge = (0.45, 0.3), (0.225, 0.15), (0.0, 0.3)
    assert plates.mode_weight(panel, [middle], 1, 1) == pytest.approx(4 / mass)
    assert plates.mode_weight(panel, [quarter], 1, 1) == pytest.approx(1 / mass)
    assert plates.mode_weight(panel, [quarter], 2, 2) == pytest.approx(4 / mass)
    assert plates.mode_weight(panel, [edge], 1, 1) == pytest.approx(0, abs=1e-12)
    assert plates.mode_weight(panel, [middle, edge], 1, 1) == pytest.approx(2 / mass)
