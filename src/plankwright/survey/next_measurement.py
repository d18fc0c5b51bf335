"""The one further measurement that helps most, again and again until the room is known.

A new length with slopes a and variance s2 takes the covariance Q to Q - Qa aQ / (s2 + aQa): what
it will bring is known before it is measured.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from shapely import LineString, Polygon, prepare

from plankwright.model.survey import Survey
from plankwright.survey.ellipses import relative_covariance, sure_factor
from plankwright.survey.equations import Floats
from plankwright.survey.shape import SAME_SHAPE_MM, Shape

MOST_PROPOSALS = 12
LEAST_GAIN_MM = 0.1  # less is not worth bending down for
SIGHT_SLACK_MM = 5.0  # the tape may graze a wall


@dataclass(frozen=True, slots=True)
class Proposal:
    """A length to measure and what it will bring.

    Parameters
    ----------
    start, end : the corners.
    length_mm : what the tape will say, about.
    before_mm, after_mm : the worst corner's 95 % error without and with it.
    """

    start: str
    end: str
    length_mm: float
    before_mm: float
    after_mm: float

    @property
    def name(self) -> str:
        """``"A-D"``."""
        return f"{self.start}-{self.end}"


def propose(
    survey: Survey,
    shape: Shape,
    enough_mm: float,
    *,
    through_walls: bool = False,
    most: int = MOST_PROPOSALS,
) -> tuple[Proposal, ...]:
    """Lengths to measure, the most helpful first, until the worst corner is known to ``enough_mm``.

    Only pairs of corners that were not measured yet and that see each other, unless
    ``through_walls``.
    """
    xy = shape.adjusted.xy
    corners = len(survey.corners)
    covariance = relative_covariance(shape.adjusted, corners)[: 2 * corners, : 2 * corners]
    pairs = candidate_pairs(survey, xy, through_walls=through_walls)
    proposals: list[Proposal] = []
    worst = float(_longest(_blocks(covariance[None]))[0])
    while worst > enough_mm and pairs and len(proposals) < most:
        slopes, lengths = _slopes(xy[:corners], pairs)
        variances = np.array([survey.tape.sd_of_mm(float(length)) ** 2 for length in lengths])
        after = _after(covariance, slopes, variances)
        best = int(np.round(after, 6).argmin())
        if worst - after[best] < LEAST_GAIN_MM:
            break
        start, end = pairs.pop(best)
        proposals.append(
            Proposal(
                survey.corners[start],
                survey.corners[end],
                float(lengths[best]),
                worst,
                float(after[best]),
            )
        )
        covariance = _updated(covariance, slopes[best], float(variances[best]))
        worst = float(after[best])
    return tuple(proposals)


@dataclass(frozen=True, slots=True)
class Telling:
    """A length [mm] that tells two shapes apart: what the tape says in each."""

    start: str
    end: str
    here_mm: float
    rival_mm: float

    @property
    def apart_mm(self) -> float:
        """How far the two readings differ."""
        return abs(self.here_mm - self.rival_mm)


def tell_apart(survey: Survey, shape: Shape) -> Telling | None:
    """The pair of corners whose distance differs most between the shape and its rival.

    None when there is no rival, or when it is only a point that could be in two places.
    """
    if shape.rival is None:
        return None
    xy, other = shape.adjusted.xy, shape.rival
    pairs = candidate_pairs(survey, xy) or candidate_pairs(survey, xy, through_walls=True)
    told = [
        Telling(survey.corners[i], survey.corners[j], _apart_mm(xy, i, j), _apart_mm(other, i, j))
        for i, j in pairs
    ]
    best = max(told, key=lambda t: t.apart_mm, default=None)
    return best if best is not None and best.apart_mm > SAME_SHAPE_MM else None


def _apart_mm(xy: Floats, i: int, j: int) -> float:
    return float(np.hypot(*(xy[j] - xy[i])))


def candidate_pairs(
    survey: Survey, xy: Floats, *, through_walls: bool = False
) -> list[tuple[int, int]]:
    """Pairs of corners, by number, that were not measured and that see each other."""
    measured = {distance.pair for distance in survey.distances}
    sees = _always if through_walls else _sight(xy[: len(survey.corners)])
    return [
        (i, j)
        for i, j in combinations(range(len(survey.corners)), 2)
        if frozenset((survey.corners[i], survey.corners[j])) not in measured and sees(i, j)
    ]


def _sight(corners: Floats) -> Callable[[int, int], bool]:
    room = Polygon(corners)
    if not room.is_valid:
        return _always
    room = room.buffer(SIGHT_SLACK_MM, join_style="mitre")
    prepare(room)
    return lambda i, j: bool(room.covers(LineString([corners[i], corners[j]])))


def _always(i: int, j: int) -> bool:
    return i != j


def _slopes(corners: Floats, pairs: Sequence[tuple[int, int]]) -> tuple[Floats, Floats]:
    """Slopes (p, 2 n) and lengths (p,) of the distances of pairs."""
    first, second = np.array(pairs, dtype=np.intp).T
    along = corners[second] - corners[first]
    lengths = np.hypot(along[:, 0], along[:, 1])
    unit = along / np.maximum(lengths, 1e-6)[:, None]
    slopes = np.zeros((len(pairs), *corners.shape))
    rows = np.arange(len(pairs))
    slopes[rows, first] = -unit
    slopes[rows, second] = unit
    return slopes.reshape(len(pairs), -1), lengths


def _after(covariance: Floats, slopes: Floats, variances: Floats) -> Floats:
    """The worst corner's 95 % error [mm] with each of the lengths, (p,)."""
    gains = slopes @ covariance
    scale = variances + (gains * slopes).sum(axis=1)
    corners = covariance.shape[0] // 2
    pairs = gains.reshape(len(gains), corners, 2)
    blocks = _blocks(covariance[None])
    smaller = blocks - pairs[:, :, :, None] * pairs[:, :, None, :] / scale[:, None, None, None]
    return _longest(smaller)


def _updated(covariance: Floats, slope: Floats, variance: float) -> Floats:
    gain = covariance @ slope
    return np.asarray(covariance - np.outer(gain, gain) / (variance + slope @ gain))


def _blocks(covariances: Floats) -> Floats:
    """The (2, 2) blocks along the diagonals, (s, n, 2, 2)."""
    n = covariances.shape[1] // 2
    boxes = covariances.reshape(len(covariances), n, 2, n, 2)
    return np.asarray(np.moveaxis(np.diagonal(boxes, axis1=1, axis2=3), -1, 1))


def _longest(blocks: Floats) -> Floats:
    """The longest 95 % half axis of each set of blocks, (s,)."""
    a, b, c = blocks[..., 0, 0], blocks[..., 0, 1], blocks[..., 1, 1]
    variance = (a + c) / 2.0 + np.hypot((a - c) / 2.0, b)
    return np.asarray(sure_factor() * np.sqrt(variance.clip(min=0.0)).max(axis=1))
