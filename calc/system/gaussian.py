"""Small linear algebra of normal distributions, in plain lists: what a diagnosis needs of it."""

from __future__ import annotations

import math
import operator
from collections.abc import Sequence

Row = list[float]
Matrix = list[Row]


def cholesky(matrix: Matrix) -> Matrix:
    """The lower triangle whose square a symmetric matrix is. Raises ValueError unless it is
    positive definite."""
    found: Matrix = []
    for i, row in enumerate(matrix):
        made: Row = []
        for j in range(i):
            other = found[j]
            left = row[j]
            for k in range(j):
                left -= made[k] * other[k]
            made.append(left / other[j])
        square = row[i]
        for one in made:
            square -= one * one
        if square <= 0:
            raise ValueError("the matrix is not positive definite")
        made.append(math.sqrt(square))
        found.append(made)
    return found


def forward(lower: Matrix, right: Sequence[float]) -> Row:
    """x of L x = b."""
    found: Row = []
    for row, value in zip(lower, right, strict=True):
        left = value
        for k, one in enumerate(found):
            left -= row[k] * one
        found.append(left / row[len(found)])
    return found


def log_volume(lower: Matrix) -> float:
    """Half the logarithm of the determinant of what a lower triangle is the root of."""
    return sum(math.log(row[i]) for i, row in enumerate(lower))


def dot(a: Sequence[float], b: Sequence[float]) -> float:
    """The sum of the products."""
    found: float = sum(map(operator.mul, a, b))
    return found


def given(
    cross: Matrix, of_known: Matrix, of_sought: Matrix, off: Sequence[float]
) -> tuple[Row, Matrix]:
    """Mean and covariance of what is sought once something correlated is known: `cross` holds a row
    for each that is sought, `off` how far the known lies off its mean."""
    lower = cholesky(of_known)
    rows = [forward(lower, row) for row in cross]
    white = forward(lower, off)
    mean = [dot(row, white) for row in rows]
    left = [
        [value - dot(rows[i], rows[j]) for j, value in enumerate(line)]
        for i, line in enumerate(of_sought)
    ]
    return mean, left


def between(low: float, high: float) -> float:
    """The logarithm of the share of the standard normal distribution between two values."""
    if low > high:
        low, high = high, low
    if low > 0:  # the tails are alike, and this one has more digits
        low, high = -high, -low
    share = 0.5 * (math.erfc(-high / math.sqrt(2)) - math.erfc(-low / math.sqrt(2)))
    if share > 1e-290:
        return math.log(share)
    # Far out: the density over the distance, of the nearer end.
    return -high * high / 2 - math.log(max(-high, 1.0) * math.sqrt(2 * math.pi))


def along(white: Sequence[float], step: Sequence[float]) -> tuple[float, float]:
    """Of residuals that fall by `step` on the way from 0 to 1: the logarithm of the mean of their
    likelihood on it, without its constant, and where on it that is best. Both whitened."""
    square, slope, length = dot(white, white), dot(white, step), dot(step, step)
    if length < 1e-12:
        return -square / 2, 0.5
    best, scale = slope / length, math.sqrt(length)
    least = square - slope * slope / length
    inside = between(-best * scale, (1 - best) * scale)
    found = -least / 2 + inside + 0.5 * math.log(2 * math.pi) - math.log(scale)
    return found, min(1.0, max(0.0, best))


def log_sum(values: Sequence[float]) -> float:
    """The logarithm of the sum of what these are the logarithms of."""
    top = max(values)
    return top + math.log(sum(math.exp(one - top) for one in values))


def solved(matrix: Matrix, right: Sequence[float]) -> Row:
    """x of A x = b, of a matrix that is positive definite."""
    lower = cholesky(matrix)
    half = forward(lower, right)
    found = [0.0] * len(half)
    for i in range(len(half) - 1, -1, -1):
        left = half[i]
        for k in range(i + 1, len(half)):
            left -= lower[k][i] * found[k]
        found[i] = left / lower[i][i]
    return found
