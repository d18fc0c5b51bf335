"""How well each corner is known: error ellipses relative to the room as a whole.

A tape survey fixes the room's shape, not where on earth it stands. Errors are therefore told with
the corners' common shift and turn taken out (inner constraints over the corners), so that no
corner looks perfect only because the axes begin at it.
"""

import math
from dataclasses import dataclass

import numpy as np

from plankwright.survey.adjust import Adjustment
from plankwright.survey.equations import Floats
from plankwright.survey.quantiles import chi_square_quantile, fisher_quantile_2

SURE = 0.95  # the chance that a corner lies inside its ellipse


@dataclass(frozen=True, slots=True)
class Ellipse:
    """Half axes [mm] and the direction of the longer one, anticlockwise from +x [deg, 0 to 180)."""

    major_mm: float
    minor_mm: float
    turned_deg: float


def sure_factor(freedom: int | None = None) -> float:
    """Half axes of a 95 % ellipse over those of the standard ellipse.

    With standard deviations known beforehand 2.448 (chi-square); estimated from ``freedom``
    redundant observations, more (Fisher's F).
    """
    if freedom is None:
        return math.sqrt(chi_square_quantile(SURE, 2))
    return math.sqrt(2.0 * fisher_quantile_2(SURE, freedom))


def ellipse(covariance: Floats, factor: float) -> Ellipse:
    """The ellipse of a (2, 2) covariance [mm2], ``factor`` times the standard one."""
    variances, directions = np.linalg.eigh(covariance)
    minor_mm, major_mm = factor * np.sqrt(variances.clip(min=0.0))
    x, y = directions[:, 1]
    turned = math.degrees(math.atan2(y, x)) % 180.0
    return Ellipse(float(major_mm), float(minor_mm), turned if turned < 180.0 else 0.0)


def relative_covariance(adjusted: Adjustment, corners: int) -> Floats:
    """Covariance (2 n, 2 n) [mm2] of all points relative to the first ``corners`` of them."""
    transform = to_inner(adjusted.xy, corners)
    return np.asarray(transform @ adjusted.covariance @ transform.T)


def to_inner(xy: Floats, corners: int) -> Floats:
    """The matrix (2 n, 2 n) that takes common shift and turn of the corners out of small moves."""
    centered = xy - xy[:corners].mean(axis=0)
    moves = np.zeros((xy.size, 3))
    moves[0::2, 0] = moves[1::2, 1] = 1.0
    moves[0::2, 2], moves[1::2, 2] = -centered[:, 1], centered[:, 0]
    base = moves[: 2 * corners]
    part = np.zeros((3, xy.size))
    part[:, : 2 * corners] = np.linalg.solve(base.T @ base, base.T)
    return np.asarray(np.eye(xy.size) - moves @ part)


def point_ellipses(covariance: Floats) -> tuple[Ellipse, ...]:
    """The 95 % ellipse of every point of a covariance (2 n, 2 n), a priori."""
    factor = sure_factor()
    blocks = [covariance[i : i + 2, i : i + 2] for i in range(0, len(covariance), 2)]
    return tuple(ellipse(block, factor) for block in blocks)


def worst_mm(covariance: Floats, corners: int) -> float:
    """The longest half axis [mm] among the corners' 95 % ellipses."""
    return max(e.major_mm for e in point_ellipses(covariance[: 2 * corners, : 2 * corners]))
