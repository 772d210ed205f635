"""Vibration and rubber against numpy, scipy, closed forms and laws."""

import math
import time

import numpy as np
import pytest
import scipy.linalg
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import rigid_body, rubber, vibration
from calc.physics.rigid_body import Mount, RigidBody

frequencies = st.floats(1, 500)
ratios = st.floats(0.0, 0.5)


@given(fn=st.floats(2, 60), r=st.floats(0.01, 1.41), loss=ratios)
def test_below_root_two_more_is_passed_on_than_comes(fn: float, r: float, loss: float) -> None:
    assert vibration.hysteretic_transmissibility(r * fn, fn, loss) > 1


@given(fn=st.floats(2, 60), r=st.floats(1.42, 50), loss=ratios)
def test_above_root_two_less_is_passed_on(fn: float, r: float, loss: float) -> None:
    assert vibration.hysteretic_transmissibility(r * fn, fn, loss) < 1


def test_mount_in_series_with_a_beam() -> None:
    total = vibration.series_stiffness(100e3, 186.62e3)
    assert total == pytest.approx(65.11e3, rel=1e-4)
    assert vibration.natural_frequency(total, 20) == pytest.approx(9.081, abs=1e-3)


@given(
    mass=st.floats(5, 60),
    k=st.floats(1e4, 1e6),
    f=frequencies,
    soft=st.floats(1e-6, 1e-1),
    stiffer=st.floats(0.01, 1),
)
def test_a_stiffer_floor_never_makes_isolation_worse(
    mass: float, k: float, f: float, soft: float, stiffer: float
) -> None:
    """In the isolating range, over a floor that takes energy away (an endless panel)."""
    if f < 1.5 * vibration.natural_frequency(k, mass):
        return
    on_soft = vibration.isolator_effectiveness(mass, k, 0.0, soft, f)
    on_stiff = vibration.isolator_effectiveness(mass, k, 0.0, soft * stiffer, f)
    assert on_stiff >= on_soft * (1 - 1e-9)


@given(
    mass=st.floats(5, 60),
    k=st.floats(1e4, 1e6),
    loss=st.floats(0, 0.4),
    f=frequencies,
    soft=st.floats(1e-6, 1e-1),
    stiffer=st.floats(0.01, 1),
)
def test_a_stiffer_floor_never_shakes_more(
    mass: float, k: float, loss: float, f: float, soft: float, stiffer: float
) -> None:
    machine = vibration.mass_mobility(mass, f)
    mounts = vibration.spring_mobility(k, loss, f)
    on_soft, on_stiff = [
        abs(machine * floor / (machine + mounts + floor)) for floor in (soft, soft * stiffer)
    ]
    assert on_stiff <= on_soft * (1 + 1e-9)


@given(mass=st.floats(5, 60), k=st.floats(1e4, 1e6), loss=st.floats(0.01, 0.5), f=frequencies)
def test_what_lossy_mounts_pass_to_a_rigid_floor_is_what_they_do_not_gain(
    mass: float, k: float, loss: float, f: float
) -> None:
    gain = vibration.isolator_effectiveness(mass, k, loss, 0.0, f)
    passed = vibration.hysteretic_transmissibility(f, vibration.natural_frequency(k, mass), loss)
    assert passed == pytest.approx(1 / gain)


@given(fn=st.floats(2, 60), loss=st.floats(0.0, 0.5))
def test_a_loss_factor_turns_at_root_two(fn: float, loss: float) -> None:
    assert vibration.hysteretic_transmissibility(math.sqrt(2) * fn, fn, loss) == pytest.approx(1)


# Source lines and ripple


def test_source_lines_of_a_geared_unit() -> None:
    lines = vibration.source_lines(29.0, 24.0, 3, 50.0)
    assert [(line.name, line.frequency) for line in lines] == [
        ("pump crank", 24.0),
        ("motor shaft", 29.0),
        ("plungers", 72.0),
        ("torque at twice the mains", 100.0),
        ("plungers, 2nd harmonic", 144.0),
    ]


def test_direct_drive_has_one_shaft_line_and_direct_current_no_hum() -> None:
    names = [line.name for line in vibration.source_lines(24.0, 24.0, 3)]
    assert names == ["pump crank", "plungers", "plungers, 2nd harmonic"]


@pytest.mark.parametrize("plungers", [1, 2, 3, 5, 7])
@pytest.mark.parametrize("rod", [0.0, 1 / 6, 0.3])
def test_ripple_against_a_spectrum_by_numpy(plungers: int, rod: float) -> None:
    angle = np.linspace(0, 2 * np.pi, 7 * 5 * 3 * 2 * 48, endpoint=False)
    flow = np.zeros_like(angle)
    for i in range(plungers):
        a = angle + 2 * np.pi * i / plungers
        place = np.cos(a) + np.sqrt(1 / rod**2 - np.sin(a) ** 2) if rod else np.cos(a)
        # The piston runs towards the head while its distance from the crank grows.
        flow += np.maximum(np.gradient(place, angle), 0)
    flow /= flow.mean()
    ripple = vibration.flow_ripple(plungers, rod)
    assert ripple.above == pytest.approx(flow.max() - 1, abs=1e-3)
    assert ripple.below == pytest.approx(1 - flow.min(), abs=1e-3)
    lines = np.abs(np.fft.rfft(flow)) * 2 / len(flow)
    for order, amplitude in enumerate(ripple.harmonics, 1):
        assert amplitude == pytest.approx(lines[order * plungers], abs=1e-3)


# Six modes

positions = st.floats(-0.4, 0.4)
springs = st.floats(1e3, 1e6)
mounts_drawn = st.lists(
    st.builds(Mount, positions, positions, st.floats(-0.3, 0.0), springs, springs, springs),
    min_size=3,
    max_size=6,
)
bodies = st.builds(
    lambda m, a, b, c, tilt: RigidBody(
        m, m * (b * b + c * c), m * (a * a + c * c), m * (a * a + b * b), ixz=tilt * m * a * c
    ),
    st.floats(5, 60),
    st.floats(0.05, 0.3),
    st.floats(0.05, 0.3),
    st.floats(0.05, 0.3),
    st.floats(-0.9, 0.9),
)


def _matrices(body: RigidBody, mounts: list[Mount]) -> tuple[np.ndarray, np.ndarray]:
    """Mass and stiffness by vector algebra, apart from the package's own assembly."""
    mass = np.zeros((6, 6))
    mass[:3, :3] = body.mass * np.eye(3)
    mass[3:, 3:] = [
        [body.ixx, -body.ixy, -body.ixz],
        [-body.ixy, body.iyy, -body.iyz],
        [-body.ixz, -body.iyz, body.izz],
    ]
    stiffness = np.zeros((6, 6))
    for m in mounts:
        place = np.array([m.x, m.y, m.z])
        turn = np.column_stack([np.cross(axis, place) for axis in np.eye(3)])
        move = np.hstack([np.eye(3), turn])
        stiffness += move.T @ np.diag([m.kx, m.ky, m.kz]) @ move
    return mass, stiffness


@given(body=bodies, mounts=mounts_drawn)
def test_six_modes_against_scipy(body: RigidBody, mounts: list[Mount]) -> None:
    mass, stiffness = _matrices(body, mounts)
    values = scipy.linalg.eigh(stiffness, mass, eigvals_only=True)
    expected = np.sqrt(np.maximum(values, 0)) / (2 * np.pi)
    modes = rigid_body.rigid_body_modes(body, mounts)
    got = np.array([m.frequency for m in modes])
    # A free motion is the square root of rounding noise: allow for it on the largest value.
    assert np.allclose(got**2, expected**2, rtol=1e-7, atol=1e-10 * expected.max() ** 2)
    for mode in modes:
        shape = np.array(mode.shape)
        assert shape @ mass @ shape == pytest.approx(1)
        assert sum(mode.shares) == pytest.approx(1)
        residue = stiffness @ shape - (2 * np.pi * mode.frequency) ** 2 * (mass @ shape)
        scale = np.abs(stiffness).max() * np.abs(shape).max()
        assert np.abs(residue).max() <= 1e-8 * scale


@given(
    m=st.floats(5, 60),
    ix=st.floats(0.05, 2),
    iy=st.floats(0.05, 2),
    iz=st.floats(0.05, 2),
    ax=st.floats(0.05, 0.4),
    ay=st.floats(0.05, 0.4),
    k=springs,
    kz=springs,
)
def test_decoupled_modes_are_the_closed_form(
    m: float, ix: float, iy: float, iz: float, ax: float, ay: float, k: float, kz: float
) -> None:
    """Mounts in the plane of the centre of gravity: six motions apart from each other."""
    mounts = [Mount(sx * ax, sy * ay, 0.0, k, k, kz) for sx in (1, -1) for sy in (1, -1)]
    squares = [4 * k / m, 4 * k / m, 4 * kz / m]
    squares += [4 * kz * ay**2 / ix, 4 * kz * ax**2 / iy, 4 * k * (ax**2 + ay**2) / iz]
    expected = sorted(math.sqrt(s) / (2 * math.pi) for s in squares)
    modes = rigid_body.rigid_body_modes(RigidBody(m, ix, iy, iz), mounts)
    assert [mode.frequency for mode in modes] == pytest.approx(expected)


def test_coupled_modes_are_harris_closed_form() -> None:
    m, ix, iy, iz, ax, ay, h, k, kz = 20, 0.2, 0.35, 0.4, 0.18, 0.11, 0.08, 12e3, 25e3
    squares = [4 * kz / m, 4 * k * (ax**2 + ay**2) / iz]
    for inertia, arm in ((iy, ax), (ix, ay)):
        a, b = 4 * k / m, 4 * k * h / m
        c, d = 4 * (k * h**2 + kz * arm**2) / inertia, 4 * k * h / inertia
        half, root = (a + c) / 2, math.sqrt(((a - c) / 2) ** 2 + b * d)
        squares += [half - root, half + root]
    mounts = [Mount(sx * ax, sy * ay, -h, k, k, kz) for sx in (1, -1) for sy in (1, -1)]
    modes = rigid_body.rigid_body_modes(RigidBody(m, ix, iy, iz), mounts)
    expected = sorted(math.sqrt(s) / (2 * math.pi) for s in squares)
    assert [mode.frequency for mode in modes] == pytest.approx(expected)
    # The unit is narrower than long: rolling with sway is what moves slowest.
    assert modes[0].motion in ("sway", "roll")


def test_a_taller_unit_rocks_more_slowly() -> None:
    def lowest(height: float) -> float:
        mounts = [
            Mount(x, y, -height / 2, 2e4, 2e4, 4e4) for x in (0.15, -0.15) for y in (0.1, -0.1)
        ]
        return rigid_body.rigid_body_modes(rigid_body.box_body(22, 0.45, 0.28, height), mounts)[
            0
        ].frequency

    assert lowest(0.6) < lowest(0.4) < lowest(0.2)


@given(matrix=st.lists(st.floats(-1e6, 1e6), min_size=21, max_size=21))
def test_jacobi_against_numpy(matrix: list[float]) -> None:
    a = np.zeros((6, 6))
    a[np.tril_indices(6)] = matrix
    a = np.tril(a) + np.tril(a, -1).T
    values, vectors = rigid_body.symmetric_eigen(a.tolist())
    scale = max(1.0, np.abs(a).max())
    assert np.allclose(values, np.linalg.eigvalsh(a), atol=1e-9 * scale)
    v = np.array(vectors)
    assert np.allclose(v @ v.T, np.eye(6), atol=1e-10)


@given(body=bodies, mounts=mounts_drawn, f=frequencies, loss=st.floats(0.05, 0.4))
def test_forces_through_mounts_against_a_direct_solution(
    body: RigidBody, mounts: list[Mount], f: float, loss: float
) -> None:
    mass, stiffness = _matrices(body, mounts)
    load = np.array([3.0, -1.0, 5.0, 0.4, 0.7, -0.2])
    w2 = (2 * np.pi * f) ** 2
    dynamic = stiffness * (1 + 1j * loss) - w2 * mass
    if np.linalg.cond(dynamic / np.outer(np.sqrt(np.diag(mass)), np.sqrt(np.diag(mass)))) > 1e8:
        return
    moved = np.linalg.solve(dynamic, load)
    modes = rigid_body.rigid_body_modes(body, mounts)
    forces = rigid_body.forces_through_mounts(modes, mounts, load.tolist(), f, loss)
    total = np.sum(forces, axis=0)
    # What the mounts pass on is the load less what the mass takes.
    expected = load[:3] + w2 * body.mass * moved[:3]
    assert np.allclose(total, expected, rtol=1e-5, atol=1e-6)


# Loads on the mounts

corners = st.lists(
    st.tuples(st.floats(-0.4, 0.4), st.floats(-0.4, 0.4)), min_size=3, max_size=6, unique=True
)


@given(
    weight=st.floats(50, 600),
    centre=st.tuples(st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)),
    places=corners,
    data=st.data(),
)
def test_mount_loads_balance_and_cost_least(
    weight: float,
    centre: tuple[float, float],
    places: list[tuple[float, float]],
    data: st.DataObject,
) -> None:
    k = data.draw(st.lists(st.floats(1e3, 1e6), min_size=len(places), max_size=len(places)))
    p = np.array(places)
    balance = np.vstack([np.ones(len(p)), p.T])
    if np.linalg.svd((p - p.mean(axis=0)), compute_uv=False)[-1] < 0.05:
        return
    loads = rigid_body.mount_loads(weight, centre, places, k)
    wanted = weight * np.array([1.0, *centre])
    assert np.allclose(balance @ loads, wanted, atol=1e-6 * weight)
    # Least elastic energy under the balance: a weighted least-norm solution by numpy.
    root = np.sqrt(np.array(k))
    least = root * np.linalg.lstsq(balance * root, wanted, rcond=None)[0]
    assert np.allclose(loads, least, atol=1e-5 * weight * max(1, np.abs(loads).max() / weight))


def test_three_mounts_do_not_ask_for_stiffness() -> None:
    places = [(0.0, 0.0), (0.4, 0.0), (0.1, 0.3)]
    even = rigid_body.mount_loads(200, (0.15, 0.1), places)
    assert rigid_body.mount_loads(200, (0.15, 0.1), places, [1e3, 5e4, 2e5]) == pytest.approx(even)


def test_tipping() -> None:
    square = [(0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2), (0.15, 0.1)]
    assert rigid_body.stability_margin((0.15, 0.1), square) == pytest.approx(0.1)
    assert rigid_body.stability_margin((0.15, 0.25), square) == pytest.approx(-0.05)
    outside = rigid_body.mount_loads(200, (0.15, 0.35), square[:4])
    assert min(outside) < 0


# Bad input

BAD = [
    (lambda: vibration.natural_frequency(0, 20), "stiffness"),
    (lambda: vibration.natural_frequency(1e5, 0), "mass"),
    (lambda: rigid_body.mount_loads(200, (0, 0), [(0, 0), (1, 0)]), "at least three"),
    (lambda: rigid_body.mount_loads(200, (0, 0), [(0, 0), (1, 1), (2, 2)]), "one line"),
    (lambda: rigid_body.mount_loads(200, (0, 0), [(0, 0), (1, 0), (0, 1)], [1, 1]), "one stiff"),
    (lambda: rigid_body.stability_margin((0, 0), [(0, 0), (1, 1), (2, 2)]), "one line"),
    (lambda: rigid_body.rigid_body_modes(RigidBody(20, 1, 1, 1), []), "no mounts"),
    (
        lambda: rigid_body.rigid_body_modes(RigidBody(20, 1, 1, 1), [Mount(0, 0, 0, 0, 1, 1)]),
        "stiffness",
    ),
    (
        lambda: rigid_body.rigid_body_modes(RigidBody(20, 1, 0, 1), [Mount(0, 0, 0, 1, 1, 1)]),
        "inertia",
    ),
    (lambda: vibration.flow_ripple(0), "plunger"),
    (lambda: rubber.modulus_gent(100), "Shore"),
    (lambda: rubber.modulus_ruess(0), "Shore"),
    (lambda: rubber.shape_factor_disc(0.04, 0), "dimension"),
]


@pytest.mark.parametrize(("call", "words"), BAD)
def test_bad_input_is_named(call, words) -> None:
    with pytest.raises(ValueError, match=words):
        call()


# Rubber


@given(shore=st.floats(30, 75))
def test_harder_rubber_is_stiffer_in_every_way(shore: float) -> None:
    softer, harder = rubber.modulus_band(shore), rubber.modulus_band(shore + 1)
    assert softer.low < harder.low and softer.high < harder.high
    assert rubber.dynamic_ratio(shore) <= rubber.dynamic_ratio(shore + 1)
    assert rubber.dynamic_ratio(shore) >= 1


@given(e=st.floats(1e6, 1e7), d=st.floats(0.01, 0.1), h=st.floats(0.005, 0.05))
def test_a_pad_is_softer_in_shear_and_bounded_by_its_bulk(e: float, d: float, h: float) -> None:
    mount = rubber.disc_mount(e, d, h)
    assert mount.shear < mount.compression
    assert rubber.apparent_modulus(e, mount.shape_factor, bulk=1.1e9) < 1.1e9


def test_six_modes_and_a_curve_of_forces_are_quick() -> None:
    mounts = [Mount(x, y, -0.1, 1e4, 1e4, 3e4) for x in (0.15, -0.1) for y in (0.1, -0.12)]
    body = RigidBody(22, 0.3, 0.4, 0.5, ixz=0.05)

    def run() -> float:
        start = time.process_time()
        modes = rigid_body.rigid_body_modes(body, mounts)
        for i in range(100):
            rigid_body.forces_through_mounts(modes, mounts, (0, 0, 1, 0.1, 0, 0), 5 + 2 * i, 0.1)
        return time.process_time() - start

    assert (
        min(run() for _ in range(5)) < 0.08
    )  # ten times a quiet machine: a busy one must not fail
