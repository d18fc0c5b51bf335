"""Blunders: which measurement does not fit, found by its standardized residual.

Data snooping after W. Baarda, *A Testing Procedure for Use in Geodetic Networks* (1968): with
redundancy number r, a blunder shows in its own residual as r times itself, so w = v / (sd sqrt r)
is standard normal while all is well. The critical value is set so that a survey without any
blunder is accused with the chance :data:`FALSE_ALARM`, whatever its number of measurements.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from plankwright.model.survey import Survey
from plankwright.survey.adjust import Adjustment
from plankwright.survey.equations import Equations, Floats
from plankwright.survey.network import Length, Observation, Turn, describe, value_of
from plankwright.survey.quantiles import (
    chi_square_quantile,
    family_chance,
    normal_two_sided,
)
from plankwright.survey.shape import Shape, adjust_from, find_shape
from plankwright.survey.slips import recognize_slip
from plankwright.units import Unit

T = TypeVar("T")

FALSE_ALARM = 0.02
BAARDA_POWER = 0.8416  # normal quantile of 80 %: the chance with which a blunder shall be seen
LEAST_REDUNDANCY = 0.01  # below it nothing checks the measurement
SAME_SIGHT = 0.5  # residuals correlated more than this point at each other as well as themselves
LIKELY = 6.0  # leaving out the other fits less well by so much chi-square: 20 times less likely
AS_LIKELY = 2.0  # within this the slips decide
ODDER = 1.0  # without this one the room is a usual one, without that one it is not
MOST_SUSPECTS = 3
HOPELESS = 0.9999  # chi-square beyond this chance: the wrong measurement was left out


@dataclass(frozen=True, slots=True)
class Suspect:
    """A measurement or belief that does not fit.

    Parameters
    ----------
    name : ``"A-D"`` or ``"angle at C"``.
    row : its place among the observations of the survey as it was given.
    written, fits, fits_sd : what was written and what the others say [mm or deg].
    size : its standardized residual, without sign.
    or_else : names of what may be wrong instead, as far as this survey can tell.
    is_belief : a believed angle, not a measurement.
    left_out : the room was computed without it.
    """

    name: str
    row: int
    written: float
    fits: float
    fits_sd: float
    size: float
    or_else: tuple[str, ...]
    is_belief: bool
    left_out: bool

    @property
    def error(self) -> float:
        """Written less fitting: positive when too long [mm or deg]."""
        return self.written - self.fits


def critical_size(adjusted: Adjustment, rows: int) -> float:
    """The standardized residual that only :data:`FALSE_ALARM` of good surveys exceed."""
    tests = int((adjusted.redundancy[:rows] > LEAST_REDUNDANCY).sum())
    return normal_two_sided(family_chance(1.0 - FALSE_ALARM, tests))


def detectable(adjusted: Adjustment, rows: int) -> Floats:
    """The smallest blunder (m,) [mm or deg] that would be seen with a chance of 80 %.

    Baarda's inner reliability; infinite for what nothing checks.
    """
    root = np.sqrt(adjusted.redundancy[:rows])
    limit = critical_size(adjusted, rows) + BAARDA_POWER
    with np.errstate(divide="ignore"):
        return np.where(
            adjusted.redundancy[:rows] > LEAST_REDUNDANCY, limit * adjusted.sd[:rows] / root, np.inf
        )


def sight(adjusted: Adjustment) -> Floats:
    """Correlation (m, m) of the residuals: how far two blunders look alike."""
    root = np.sqrt(np.diag(adjusted.spread).clip(min=1e-12))
    return np.asarray(adjusted.spread / np.outer(root, root))


def find_blunders(
    survey: Survey, shape: Shape, unit: Unit = "mm"
) -> tuple[tuple[Suspect, ...], Shape]:
    """What does not fit, worst first, and the shape without it.

    Where several look just alike, one that a usual slip explains is named first (``unit`` is the
    one that people wrote in), and all of them stay in.
    """
    suspects: list[Suspect] = []
    kept = list(range(shape.room.measured + shape.room.believed))
    current, rest = survey, shape
    while len(suspects) < MOST_SUSPECTS:
        row, others = _worst(rest, unit)
        if row is None:
            break
        row, others, without = _choose(current, rest, row, others)
        if without is None:
            suspects.append(_suspect(rest, None, row, kept, others))
            break
        row, current, new = without
        suspects.append(_suspect(rest, new, row, kept, ()))
        del kept[row]
        rest = new
    return tuple(suspects), rest


def _choose(
    survey: Survey, shape: Shape, row: int, others: list[int]
) -> tuple[int, list[int], tuple[int, Survey, Shape] | None]:
    """Which row to name, what else it may be, and what is left without it (None: keep it in)."""
    if row >= shape.room.measured and _is_hopeless(shape):
        # Angles bend where a length is grossly wrong: ask first whether one length explains all.
        lengths = _mending_lengths(survey, shape)
        if lengths:
            first = lengths[0]
            return first[0], [i for i, _, _ in lengths[1:]], first if len(lengths) == 1 else None
    if others:
        plain = _plainest(survey, shape, [row, *others])
        return (plain[0], [], plain) if plain else (row, others, None)
    without = _without(survey, shape, row)
    return (without[0], [], without) if without else (row, [], None)


def _mending_lengths(survey: Survey, shape: Shape) -> list[tuple[int, Survey, Shape]]:
    """The lengths without any one of which the rest agrees, the best agreement first."""
    tries = [
        (i, *tried)
        for i in range(shape.room.measured)
        if (tried := _leave_out(survey, shape, i, afresh=True)) is not None
    ]
    mended = [tried for tried in tries if not _is_hopeless(tried[2])]
    return sorted(mended, key=lambda tried: _rank(tried[2]))


def _worst(shape: Shape, unit: Unit) -> tuple[int | None, list[int]]:
    """The row that fits worst and those as likely to be wrong; None when all is well."""
    adjusted = shape.adjusted
    rows = shape.room.measured + shape.room.believed
    sizes = np.abs(adjusted.standardized()[:rows])
    sizes[adjusted.redundancy[:rows] <= LEAST_REDUNDANCY] = 0.0
    if not sizes.size or sizes.max() <= critical_size(adjusted, rows):
        return None, []
    row = int(sizes.argmax())
    # Leaving out row i takes w2 of i from chi-square.
    behind = sizes[row] ** 2 - sizes**2
    alike = (np.abs(sight(adjusted)[row, :rows]) >= SAME_SIGHT) & (behind < LIKELY)
    group = [i for i in range(rows) if alike[i] or i == row]
    slipped = [i for i in group if behind[i] < AS_LIKELY and _is_slip(adjusted, i, unit)]
    group.sort(key=lambda i: (i not in slipped, behind[i]))
    return group[0], group[1:]


def _is_slip(adjusted: Adjustment, row: int, unit: Unit) -> bool:
    """Whether a telling slip explains the row's error closely."""
    observation = adjusted.observations[row]
    if not isinstance(observation, Length):
        return False
    fits, fits_sd = _without_itself(adjusted, row)
    slip = recognize_slip(observation.length_mm, fits, fits_sd, unit)
    return slip is not None and slip.telling


def _plainest(
    survey: Survey, shape: Shape, group: Sequence[int]
) -> tuple[int, Survey, Shape] | None:
    """The one of the group without which the room is a usual one, when only one is so.

    Only asked about blunders gross enough to bend corners by degrees.
    """
    if not _is_hopeless(shape):
        return None
    tries = [
        (i, *tried)
        for i in group
        if (tried := _leave_out(survey, shape, i, afresh=True)) is not None
    ]
    tries.sort(key=lambda tried: _rank(tried[2]))
    if not tries or (len(tries) > 1 and _rank(tries[1][2]) < _rank(tries[0][2]) + ODDER):
        return None
    return tries[0]


def _rank(shape: Shape) -> float:
    return (1e9 if shape.crossed else 0.0) + shape.odd + shape.adjusted.misfit / LIKELY


def _without_itself(adjusted: Adjustment, row: int) -> tuple[float, float]:
    """What the others say a row should read, with standard deviation: v = -r times its error."""
    v, r = adjusted.residuals[row], adjusted.redundancy[row]
    written = value_of(adjusted.observations[row])
    return float(written + v / r), float(adjusted.sd[row] * math.sqrt(max(1.0 / r - 1.0, 0.0)))


def _without(survey: Survey, shape: Shape, row: int) -> tuple[int, Survey, Shape] | None:
    """The survey and shape without the row that does not fit, or None if the room needs it.

    A gross blunder bends the whole room and need not show in its own residual: when leaving out
    the worst does not mend the survey, each measurement is left out in turn.
    """
    best = _leave_out(survey, shape, row, afresh=False)
    if best is not None and not _is_hopeless(best[1]):
        return row, *best
    tries = [
        (i, *tried)
        for i in range(shape.room.measured + shape.room.believed)
        if (tried := _leave_out(survey, shape, i, afresh=True)) is not None
    ]
    mended = [tried for tried in tries if not _is_hopeless(tried[2])]
    if mended:
        return min(mended, key=lambda tried: tried[2].adjusted.misfit)
    return None if best is None else (row, *best)


def _is_hopeless(shape: Shape) -> bool:
    freedom = shape.adjusted.freedom
    if shape.crossed:
        return True
    return freedom > 0 and shape.adjusted.misfit > chi_square_quantile(HOPELESS, freedom)


def _leave_out(
    survey: Survey, shape: Shape, row: int, *, afresh: bool
) -> tuple[Survey, Shape] | None:
    smaller = drop_row(survey, row)
    if smaller is None:
        return None
    new = find_shape(smaller) if afresh else adjust_from(smaller, shape.adjusted.xy)
    needs_more = len(new.room.assumed_corners) > len(shape.room.assumed_corners) or len(
        new.room.guessed_walls
    ) > len(shape.room.guessed_walls)
    return None if needs_more else (smaller, new)


def drop_row(survey: Survey, row: int) -> Survey | None:
    """The survey without its measurement or belief number ``row``; None if a tie hangs on it."""
    lengths, ties = len(survey.distances), len(survey.wall_distances)
    try:
        if row < lengths:
            return replace(survey, distances=_drop(survey.distances, row))
        if row < lengths + ties:
            return replace(survey, wall_distances=_drop(survey.wall_distances, row - lengths))
        return replace(survey, angles=_drop(survey.angles, row - lengths - ties))
    except ValueError:
        return None


def _drop(items: tuple[T, ...], i: int) -> tuple[T, ...]:
    return items[:i] + items[i + 1 :]


def _suspect(
    before: Shape, after: Shape | None, row: int, kept: Sequence[int], others: Sequence[int]
) -> Suspect:
    observation = before.adjusted.observations[row]
    fits, fits_sd = (
        predict(after.adjusted, observation) if after else _without_itself(before.adjusted, row)
    )
    return Suspect(
        name=describe(observation),
        row=kept[row],
        written=value_of(observation),
        fits=fits,
        fits_sd=fits_sd,
        size=float(abs(before.adjusted.standardized()[row])),
        or_else=tuple(describe(before.adjusted.observations[i]) for i in others),
        is_belief=isinstance(observation, Turn),
        left_out=after is not None,
    )


def predict(adjusted: Adjustment, observation: Observation) -> tuple[float, float]:
    """What an observation reads in an adjusted network, with its standard deviation [mm or deg]."""
    equations = Equations(replace(adjusted.network, observations=(observation,)))
    sd = equations.sd[0]
    reading = equations.observed[0] - equations.misfit(adjusted.xy)[0] * sd
    slope = equations.jacobian(adjusted.xy)[0] * sd
    variance = float(slope @ adjusted.covariance @ slope)
    return float(reading), math.sqrt(max(variance, 0.0))
