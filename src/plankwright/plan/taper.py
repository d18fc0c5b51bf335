"""Crooked rooms: what can be done with two facing walls that are not parallel.

The room is ``near_mm`` across at the near end of the rows and ``far_mm`` at the far end. What it is
wider at one end, the *taper*, has to go somewhere: into one row, into two, into the gaps behind
the trim, or, with the rows turned, into their ends.

Of gaps (elementary geometry): a field of one width all along leaves the taper to the two gaps. In
the middle of the room each of them changes by half of it; so a taper of 1 in over gaps of 1/2 in
makes 1/4 in at the narrow end and 3/4 in at the wide one, at all four corners, or 1/2 in and 1 in
when the gap at the narrow end is kept.
"""

import math
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import InputError
from plankwright.units import Unit, at_least, at_most, format_length

WayName = Literal[
    "follow the start wall",
    "split the difference",
    "even gaps",
    "gap kept at the narrow end",
    "gaps and the last row",
    "turn the rows",
]
Ends = tuple[float, float]  # at the near and at the far end of the rows [mm]


@dataclass(frozen=True, slots=True)
class Across:
    """Two facing walls: the room's width between them at both ends of the rows.

    Parameters
    ----------
    near_mm, far_mm : wall to wall, at the near and the far end.
    length_mm : along the rows, between the two places.
    """

    near_mm: float
    far_mm: float
    length_mm: float

    def __post_init__(self) -> None:
        sizes = (self.near_mm, self.far_mm, self.length_mm)
        if not all(math.isfinite(size) and size > 0.0 for size in sizes):
            raise InputError(
                "a room's width and length must be above 0",
                where="across",
                value=sizes,
                remedy="Measure from wall to wall at both ends of the rows.",
            )

    @property
    def taper_mm(self) -> float:
        """How much wider the room is at its wide end [mm]."""
        return abs(self.far_mm - self.near_mm)


@dataclass(frozen=True, slots=True)
class GapRules:
    """What a gap may be [mm]: as planned, at the least, and what the trim still covers."""

    planned_mm: float
    least_mm: float
    cover_mm: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.least_mm <= self.planned_mm <= self.cover_mm:
            raise InputError(
                "the least gap, the planned one and what the trim covers must rise in this order",
                where="gap",
                value=(self.least_mm, self.planned_mm, self.cover_mm),
                remedy="Read the least gap off the leaflet and measure the trim.",
            )

    @property
    def hidden_mm(self) -> float:
        """Taper that two gaps can hide: each may run from the least one to what is covered."""
        return 2.0 * (self.cover_mm - self.least_mm)

    @property
    def bow_mm(self) -> float:
        """Bow of one wall that its gap can hide."""
        return self.cover_mm - self.least_mm


@dataclass(frozen=True, slots=True)
class TaperWay:
    """One way to deal with a taper.

    Parameters
    ----------
    name : what is done.
    first_row_mm, last_row_mm : taper that has to be ripped into that row, 0 for none.
    start_gap_mm, last_gap_mm : the gap at the start wall and at the far wall, at both ends.
    slant_mm : how much the ends of a board's width slant; only where the rows are turned.
    fault : what it breaks, or empty when it passes.
    """

    name: WayName
    first_row_mm: float
    last_row_mm: float
    start_gap_mm: Ends
    last_gap_mm: Ends
    slant_mm: float = 0.0
    fault: Literal["", "gap too small", "trim does not cover"] = ""

    @property
    def passes(self) -> bool:
        """Whether every gap is at least the least one and covered by the trim."""
        return not self.fault

    @property
    def seen_mm(self) -> float:
        """The most that one row changes its width along the wall."""
        return max(self.first_row_mm, self.last_row_mm)


def taper_ways(across: Across, gaps: GapRules, board_width_mm: float) -> tuple[TaperWay, ...]:
    """Every way to deal with a taper; those that need no rip first.

    *Gaps and the last row* is told only where the gaps alone cannot hide the taper: they take what
    they can and the last row takes the rest.
    """
    taper, planned = across.taper_mm, gaps.planned_mm
    wide_far = across.far_mm >= across.near_mm
    same = (planned, planned)
    even = _ends(planned - taper / 4.0, planned + taper / 4.0, wide_far)
    kept = _ends(planned, planned + taper / 2.0, wide_far)
    ways = [
        TaperWay("even gaps", 0.0, 0.0, even, even, fault=_fault(even, gaps)),
        TaperWay("gap kept at the narrow end", 0.0, 0.0, kept, kept, fault=_fault(kept, gaps)),
    ]
    rest = taper - gaps.hidden_mm
    if rest > 0.0:
        full = _ends(gaps.least_mm, gaps.cover_mm, wide_far)
        ways.append(TaperWay("gaps and the last row", 0.0, rest, full, full))
    ways += [
        TaperWay("split the difference", taper / 2.0, taper / 2.0, same, same),
        TaperWay("follow the start wall", 0.0, taper, same, same),
        TaperWay("turn the rows", 0.0, 0.0, same, same, taper * board_width_mm / across.length_mm),
    ]
    return tuple(ways)


def way_words(way: TaperWay, unit: Unit) -> str:
    """A way in one sentence, with its figures."""
    narrow, wide = sorted(way.start_gap_mm)
    gap = f"gaps of {format_length(narrow, unit)} at the narrow end and "
    gap += f"{format_length(wide, unit)} at the wide one"
    first, last = (format_length(mm, unit) for mm in (way.first_row_mm, way.last_row_mm))
    told = {
        "even gaps": f"Straight rows, {gap}, at all four corners",
        "gap kept at the narrow end": f"Straight rows, {gap}",
        "gaps and the last row": f"Straight rows, {gap}, and {last} of taper in the last row",
        "split the difference": f"{first} of taper in the first row and {last} in the last one",
        "follow the start wall": f"Row 1 whole along its wall, {last} of taper in the last row",
        "turn the rows": "Rows run from one of these walls to the other; each end is cut "
        f"{format_length(way.slant_mm, unit)} out of square",
    }[way.name]
    faults = {
        "": "",
        "gap too small": "; no: the gap at the narrow end is below the least one",
        "trim does not cover": "; no: the trim does not cover the gap at the wide end",
    }
    return f"{told}{faults[way.fault]}."


def _ends(narrow: float, wide: float, wide_far: bool) -> Ends:
    return (narrow, wide) if wide_far else (wide, narrow)


def _fault(ends: Ends, gaps: GapRules) -> Literal["", "gap too small", "trim does not cover"]:
    if not at_least(min(ends), gaps.least_mm):
        return "gap too small"
    if not at_most(max(ends), gaps.cover_mm):
        return "trim does not cover"
    return ""
