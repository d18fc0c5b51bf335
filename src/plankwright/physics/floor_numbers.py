"""Floor flatness and levelness numbers FF and FL (ASTM E1155), as information only.

From heights at equal steps along a line: curvatures over two steps (24 in) and slopes over ten
(10 ft). The constants 4.57 in and 12.5 in are from memory; 4.57 in is 116.08 mm, while the metric
edition prints 115.8 mm (from memory too, 0.24 % less).
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from plankwright.errors import InputError
from plankwright.physics.psychrometrics import require_within

FLATNESS_MM = 4.57 * 25.4
FLATNESS_METRIC_MM = 115.8
LEVELNESS_MM = 12.5 * 25.4
STEPS_MM = (300.0, 304.8)
SPAN = 10  # readings between the two ends of a slope: 10 ft
SHORTEST_LINE_MM = 3300.0  # ASTM E1155: lines of at least 11 ft (retrieved)


@dataclass(frozen=True, slots=True)
class FloorNumbers:
    """FF and FL of one line; FL is None where the line is too short for two slopes.

    Parameters
    ----------
    flatness, levelness : FF and FL; larger is flatter, nearer to level.
    valid : whether the line is long enough to count at all; a basement's seldom is.
    """

    flatness: float
    levelness: float | None
    valid: bool


def floor_numbers(
    heights_mm: Sequence[float], step_mm: float = 304.8, flatness_mm: float = FLATNESS_MM
) -> FloorNumbers:
    """FF and FL of a line of readings.

    Parameters
    ----------
    heights_mm : at least four readings [mm].
    step_mm : 300 or 304.8 (12 in).
    flatness_mm : the constant, see :data:`FLATNESS_METRIC_MM`.

    Raises
    ------
    RangeError
        when the step is not the standard's.
    InputError
        for fewer than four readings.
    """
    require_within("step of readings [mm]", step_mm, *STEPS_MM, "ASTM E1155, E1155M")
    if len(heights_mm) < 4:
        raise InputError("FF needs four readings or more", value=len(heights_mm))
    h = list(heights_mm)
    curvatures = [h[i] - 2 * h[i - 1] + h[i - 2] for i in range(2, len(h))]
    slopes = [h[i] - h[i - SPAN] for i in range(SPAN, len(h))]
    return FloorNumbers(
        flatness=_number(flatness_mm, curvatures),
        levelness=_number(LEVELNESS_MM, slopes) if len(slopes) > 1 else None,
        valid=(len(h) - 1) * step_mm >= SHORTEST_LINE_MM and len(slopes) > 1,
    )


def _number(constant_mm: float, values: list[float]) -> float:
    spread = 3.0 * statistics.stdev(values) + abs(statistics.fmean(values))
    return constant_mm / spread if spread > 0.0 else float("inf")
