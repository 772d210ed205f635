"""A unit as a rigid body on its mounts: how it moves, what its mounts carry, when it stands.

Frequencies in Hz, masses in kg, stiffnesses in N/m, lengths in m. Axes of a unit: x along it, y
across it, z up, origin in the centre of gravity.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from calc.physics._require import positive

Matrix = list[list[float]]


class Mount(NamedTuple):
    """A mount: place from the centre of gravity [m], stiffness along each axis [N/m]."""

    x: float
    y: float
    z: float
    kx: float
    ky: float
    kz: float


@dataclass(frozen=True, slots=True)
class RigidBody:
    """Mass [kg] and moments of inertia [kg m²] about axes through the centre of gravity.

    Products of inertia are ∫xy dm and so on, not their negatives.
    """

    mass: float
    ixx: float
    iyy: float
    izz: float
    ixy: float = 0.0
    ixz: float = 0.0
    iyz: float = 0.0


def box_body(mass: float, length: float, width: float, height: float) -> RigidBody:
    """Rigid body of an even box [kg, m]: I = m(b² + c²)/12 about each axis.

    Source: definition of the moments of inertia.
    """
    positive(mass, "mass")
    x2, y2, z2 = length * length, width * width, height * height
    return RigidBody(mass, mass * (y2 + z2) / 12, mass * (x2 + z2) / 12, mass * (x2 + y2) / 12)


MOTIONS = ("surge", "sway", "heave", "roll", "pitch", "yaw")
"""Motions along and about x, y and z, in the order of a mode's shares."""


class Mode(NamedTuple):
    """A rigid-body mode: frequency [Hz] and each motion's share of its energy (0..1, sum 1).

    shape: displacement [m] and rotation [rad] per unit modal coordinate (modal mass 1 kg).
    """

    frequency: float
    shares: tuple[float, ...]
    shape: tuple[float, ...]

    @property
    def motion(self) -> str:
        """The motion with the largest share."""
        return MOTIONS[max(range(6), key=lambda i: self.shares[i])]


def symmetric_eigen(matrix: Sequence[Sequence[float]]) -> tuple[list[float], Matrix]:
    """Eigenvalues [unit of the matrix], rising, and unit eigenvectors of a symmetric matrix.

    One vector a row; for small matrices. Cyclic Jacobi rotations. Source: G. H. Golub, C. F. Van
    Loan, Matrix Computations, § 8.5.
    """
    n = len(matrix)
    a = [list(row) for row in matrix]
    v = [[1.0 if i == j else 0.0 for j in range(n)] for i in range(n)]
    limit = 1e-26 * sum(x * x for row in a for x in row)
    for _ in range(60):
        if 2 * sum(a[i][j] ** 2 for i in range(n) for j in range(i)) <= limit:
            break
        for p in range(n - 1):
            for q in range(p + 1, n):
                _rotate(a, v, p, q)
    order = sorted(range(n), key=lambda i: a[i][i])
    return [a[i][i] for i in order], [v[i] for i in order]


def _rotate(a: Matrix, v: Matrix, p: int, q: int) -> None:
    """Zero a[p][q] by a rotation; the rows of v turn along."""
    apq = a[p][q]
    if apq == 0.0:
        return
    theta = (a[q][q] - a[p][p]) / (2 * apq)
    t = math.copysign(1.0, theta) / (abs(theta) + math.hypot(theta, 1.0))
    c = 1 / math.hypot(t, 1.0)
    s = t * c
    for row in a:
        x, y = row[p], row[q]
        row[p], row[q] = c * x - s * y, s * x + c * y
    for upper, lower in ((a[p], a[q]), (v[p], v[q])):
        for j, x in enumerate(upper):
            y = lower[j]
            upper[j], lower[j] = c * x - s * y, s * x + c * y


def mount_stiffness_matrix(mounts: Sequence[Mount]) -> Matrix:
    """6 by 6 stiffness of mounts about the centre of gravity (surge … yaw) [N/m, N, N m].

    Source: Harris' Shock and Vibration Handbook, ch. 3, rigid body on resilient supports.
    """
    k = [[0.0] * 6 for _ in range(6)]
    for x, y, z, kx, ky, kz in mounts:
        rows = (
            (kx, ((0, 1.0), (4, z), (5, -y))),
            (ky, ((1, 1.0), (3, -z), (5, x))),
            (kz, ((2, 1.0), (3, y), (4, -x))),
        )
        for stiffness, arms in rows:
            for i, arm in arms:
                row, push = k[i], stiffness * arm
                for j, other in arms:
                    row[j] += push * other
    return k


def _inverse_cholesky(body: RigidBody) -> Matrix:
    """Inverse of the lower Cholesky factor of the 6 by 6 mass matrix."""
    positive(body.mass, "mass")
    inertia = (
        (body.ixx, -body.ixy, -body.ixz),
        (-body.ixy, body.iyy, -body.iyz),
        (-body.ixz, -body.iyz, body.izz),
    )
    low = [[0.0] * 3 for _ in range(3)]
    for i in range(3):
        for j in range(i + 1):
            rest = inertia[i][j] - sum(low[i][m] * low[j][m] for m in range(j))
            if i == j:
                positive(rest, "every moment of inertia")
                low[i][i] = math.sqrt(rest)
            else:
                low[i][j] = rest / low[j][j]
    inverse = [[0.0] * 6 for _ in range(6)]
    for i in range(3):
        inverse[i][i] = 1 / math.sqrt(body.mass)
        inverse[3 + i][3 + i] = 1 / low[i][i]
    inverse[4][3] = -low[1][0] / (low[0][0] * low[1][1])
    inverse[5][4] = -low[2][1] / (low[1][1] * low[2][2])
    inverse[5][3] = -(low[2][0] / low[0][0] + low[2][1] * inverse[4][3]) / low[2][2]
    return inverse


def rigid_body_modes(body: RigidBody, mounts: Sequence[Mount]) -> tuple[Mode, ...]:
    """The six modes of a rigid unit on mounts, lowest first.

    Frequencies are zero for motions that no mount holds. Raises ValueError for negative
    stiffness, no mounts, or inertias that no body can have. Source: Harris' Shock and Vibration
    Handbook, ch. 3; eigenvalues of L⁻¹KL⁻ᵀ with M = LLᵀ.
    """
    if not mounts:
        raise ValueError("there are no mounts")
    for _, _, _, kx, ky, kz in mounts:
        positive(min(kx, ky, kz), "every stiffness of a mount")
    inverse = [_filled(row) for row in _inverse_cholesky(body)]
    k = mount_stiffness_matrix(mounts)
    half = [[_dot(row, col) for col in k] for row in inverse]
    values, vectors = symmetric_eigen([[_dot(row, r) for row in inverse] for r in half])
    modes = []
    for value, q in zip(values, vectors, strict=True):
        shape = [0.0] * 6
        for row, share in zip(inverse, q, strict=True):
            for j, x in row:
                shape[j] += x * share
        frequency = math.sqrt(max(value, 0.0)) / (2 * math.pi)
        modes.append(Mode(frequency, tuple([x * x for x in q]), tuple(shape)))
    return tuple(modes)


def rigid_body_frequencies(
    mass: float, inertia: Sequence[float], mounts: Sequence[Sequence[float]]
) -> list[float]:
    """Six natural frequencies [Hz] from a mass [kg], (Ixx, Iyy, Izz) and rows of `Mount`.

    Source: as `rigid_body_modes`.
    """
    body = RigidBody(mass, *inertia)
    return [m.frequency for m in rigid_body_modes(body, [Mount(*row) for row in mounts])]


def forces_through_mounts(
    modes: Sequence[Mode],
    mounts: Sequence[Mount],
    load: Sequence[float],
    frequency: float,
    loss_factor: float,
) -> list[tuple[complex, complex, complex]]:
    """Force (x, y, z) [N] that each mount hands a rigid floor, from a shaking load.

    `load` is three force amplitudes [N] and three moments [N m] at the centre of gravity. Sum of
    the modes with structural damping. Source: Harris' Shock and Vibration Handbook, ch. 3.
    """
    w2 = (2 * math.pi * frequency) ** 2
    u = [0j] * 6
    lossy, loaded = 1 + 1j * loss_factor, _filled(load)
    for mode in modes:
        drive = _dot(loaded, mode.shape)
        if drive:
            q = drive / ((2 * math.pi * mode.frequency) ** 2 * lossy - w2)
            for i, x in enumerate(mode.shape):
                u[i] += x * q
    return [
        (
            kx * lossy * (u[0] + u[4] * z - u[5] * y),
            ky * lossy * (u[1] - u[3] * z + u[5] * x),
            kz * lossy * (u[2] + u[3] * y - u[4] * x),
        )
        for x, y, z, kx, ky, kz in mounts
    ]


def _filled(row: Sequence[float]) -> list[tuple[int, float]]:
    """What a row holds, by place, without its zeros: most rows here are nearly empty."""
    return [(i, x) for i, x in enumerate(row) if x]


def _dot(filled: Sequence[tuple[int, float]], other: Sequence[float]) -> float:
    """Scalar product of a row as `_filled` has it with another."""
    total = 0.0
    for i, x in filled:
        total += x * other[i]
    return total


# Statics of the mounts


def mount_loads(
    weight: float,
    centre: Sequence[float],
    places: Sequence[Sequence[float]],
    stiffnesses: Sequence[float] | None = None,
) -> list[float]:
    """Downward load [N] on each mount of a rigid unit of a weight [N].

    `centre` (x, y) and `places` [(x, y), …] in m. Three mounts: statics alone. More: the rigid
    unit settles on springs [N/m] (equal when not given), which is the least-energy share.
    A negative load means that this mount is pulled. Raises ValueError for fewer than three
    mounts or mounts in one line. Source: elastic distribution, e.g. bolt groups in Shigley's
    Mechanical Engineering Design, ch. 8.
    """
    if len(places) < 3:
        raise ValueError("a unit needs at least three mounts")
    springs = [1.0] * len(places) if stiffnesses is None else list(stiffnesses)
    if len(springs) != len(places):
        raise ValueError("give one stiffness for each mount")
    for k in springs:
        positive(k, "stiffness of every mount")
    total = sum(springs)
    mx = sum(k * p[0] for k, p in zip(springs, places, strict=True)) / total
    my = sum(k * p[1] for k, p in zip(springs, places, strict=True)) / total
    arms = [(p[0] - mx, p[1] - my) for p in places]
    sxx = sum(k * x * x for k, (x, _) in zip(springs, arms, strict=True))
    syy = sum(k * y * y for k, (_, y) in zip(springs, arms, strict=True))
    sxy = sum(k * x * y for k, (x, y) in zip(springs, arms, strict=True))
    determinant = sxx * syy - sxy * sxy
    if determinant <= 1e-9 * (sxx + syy) ** 2:
        raise ValueError("the mounts stand in one line: the unit would fall over")
    ex, ey = weight * (centre[0] - mx), weight * (centre[1] - my)
    a = (ex * syy - ey * sxy) / determinant
    b = (ey * sxx - ex * sxy) / determinant
    return [k * (weight / total + a * x + b * y) for k, (x, y) in zip(springs, arms, strict=True)]


def stability_margin(centre: Sequence[float], places: Sequence[Sequence[float]]) -> float:
    """Distance [m] from the centre of gravity (x, y) inwards to the nearest tipping edge.

    Edges are those of the convex outline of the mounts [(x, y), …]. Negative: it tips over. Source:
    statics: a body stands while its weight falls inside what it stands on. Raises ValueError for
    mounts in one line.
    """
    outline = _convex_outline(places)
    if len(outline) < 3:
        raise ValueError("the mounts stand in one line: the unit would fall over")
    margins = []
    for (x1, y1), (x2, y2) in zip(outline, outline[1:] + outline[:1], strict=True):
        cross = (x2 - x1) * (centre[1] - y1) - (y2 - y1) * (centre[0] - x1)
        margins.append(cross / math.hypot(x2 - x1, y2 - y1))
    return min(margins)


def _convex_outline(points: Sequence[Sequence[float]]) -> list[tuple[float, float]]:
    """Corners of the convex outline, anticlockwise (monotone chain)."""
    ordered = sorted({(p[0], p[1]) for p in points})

    def half(seq: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
        chain: list[tuple[float, float]] = []
        for p in seq:
            while (
                len(chain) > 1
                and (
                    (chain[-1][0] - chain[-2][0]) * (p[1] - chain[-2][1])
                    - (chain[-1][1] - chain[-2][1]) * (p[0] - chain[-2][0])
                )
                <= 1e-12
            ):
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])
