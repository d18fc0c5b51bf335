"""What trim must cover, and how it is held to the wall and never to the floor."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from plankwright.model.trim import Trim
from plankwright.units import at_least

# Common practice unless said otherwise; none of these replaces local code.
INTO_FRAME_MM = 19.0  # a brad holds when it sits 3/4 in deep in the bottom plate or a stud
SAFE_DEPTH_MM = 32.0  # pipes and cables keep 1 1/4 in behind the face of the frame (NEC 300.4,
# IRC P2603.2.1; from memory): no nail goes deeper
NAIL_STEP_IN_MM, NAIL_STEP_MM = 6.35, 5.0  # brads are sold in steps of 1/4 in, or of 5 mm
NAIL_EVERY_MM = 400.0  # about every stud, 16 in
BEAD_MM = 5.0  # adhesive bead
CARTRIDGE_ML = 290.0


@dataclass(frozen=True, slots=True)
class Cover:
    """One gap against the trim.

    Parameters
    ----------
    where : the wall or fixed thing.
    gap_mm : as planned.
    need_mm : gap and margin: what must be covered.
    covered : whether the trim is thick enough.
    """

    where: str
    gap_mm: float
    need_mm: float
    covered: bool


def covers(gaps: Iterable[tuple[str, float]], trim: Trim) -> tuple[Cover, ...]:
    """Every gap against the trim's thickness; the margin stands for taper, rip error and caulk."""
    return tuple(
        Cover(where, gap, gap + trim.margin_mm, at_least(trim.thickness_mm, gap + trim.margin_mm))
        for where, gap in gaps
    )


def nail_length_mm(trim: Trim, *, inches: bool = False) -> float:
    """The shortest brad that holds: trim, wallboard and 19 mm, up to the next size sold.

    >>> from plankwright.model.trim import StockLength
    >>> nail_length_mm(Trim((StockLength(2438.4),)), inches=True)
    50.8
    """
    through = trim.thickness_mm + trim.wallboard_mm
    step = NAIL_STEP_IN_MM if inches else NAIL_STEP_MM
    return round(math.ceil((through + INTO_FRAME_MM) / step - 1e-6) * step, 3)


def deepest_nail_mm(trim: Trim) -> float:
    """A nail longer than this reaches where pipes and cables may lie."""
    return trim.thickness_mm + trim.wallboard_mm + SAFE_DEPTH_MM


def nails_needed(lengths_mm: Iterable[float]) -> int:
    """Brads: about every stud, and one near each end.

    >>> nails_needed([2400.0, 300.0])
    9
    """
    return sum(max(2, math.ceil(length / NAIL_EVERY_MM - 1e-9) + 1) for length in lengths_mm)


def cartridges_needed(total_mm: float) -> int:
    """Cartridges of adhesive for a bead all along, on masonry.

    >>> cartridges_needed(14_000.0), cartridges_needed(15_000.0)
    (1, 2)
    """
    bead_ml = math.pi / 4.0 * BEAD_MM**2 * total_mm / 1000.0
    return math.ceil(bead_ml / CARTRIDGE_ML)
