"""The largest gap under a straightedge: along a profile, and over a surface in any direction."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from plankwright.errors import InputError
from plankwright.physics.arrays import Floats
from plankwright.physics.flatness_rules import FlatnessRule
from plankwright.physics.straightedge import Placements, Rests
from plankwright.physics.surface import Surface, is_whole, profile_section, sections_along

MOST_LINES = 6_000  # lines through two readings that are tried; beyond it every k-th
CHUNK = 150  # lines evaluated at once, to bound memory
MOST_KEPT = 1_200  # with more lines, placements are made anew each time instead of kept
REFINED = 8  # worst lines that are then shifted and turned a little
LEAST_SHIFT_MM = 1.0  # by smaller and smaller steps down to this

Line = tuple[tuple[float, float], float]  # a point [mm] and an angle [radians]


@dataclass(frozen=True, slots=True)
class Gap:
    """The worst gap found under a straightedge.

    Parameters
    ----------
    gap_mm, allowed_mm : what it is and what is allowed at this distance of contacts.
    low : place of the gap, ``(x, y)`` on a surface, ``(place, 0)`` on a profile [mm].
    left, right : places of the two contacts.
    """

    gap_mm: float
    allowed_mm: float
    low: tuple[float, float]
    left: tuple[float, float]
    right: tuple[float, float]

    @property
    def excess_mm(self) -> float:
        """Gap less what is allowed [mm]; above 0 fails."""
        return self.gap_mm - self.allowed_mm

    @property
    def passes(self) -> bool:
        """Whether the gap is within its limit (to a thousandth of a millimeter)."""
        return self.excess_mm <= 1e-3

    @property
    def line(self) -> "Line":
        """The line along which the edge lies."""
        dx, dy = self.right[0] - self.left[0], self.right[1] - self.left[1]
        return self.left, math.atan2(dy, dx)

    @property
    def span_mm(self) -> float:
        """Distance of the contacts [mm]."""
        return math.dist(self.left, self.right)


def worst_on_profile(
    places_mm: Sequence[float] | Floats, heights_mm: Sequence[float] | Floats, rule: FlatnessRule
) -> Gap | None:
    """The worst gap along a measured profile, relative to the rule; None when no edge can rest.

    The edge may stand anywhere along the profile; heights between readings are interpolated. A
    profile shorter than the edge is judged with an edge as long as the profile.

    Parameters
    ----------
    places_mm : distances of the readings from one end [mm], growing.
    heights_mm : heights there [mm], upward.

    Examples
    --------
    >>> from plankwright.physics.flatness_rules import published_rule
    >>> gap = worst_on_profile([0, 500, 1000, 1500, 2000], [0, -1, -3.5, -2, 1],
    ...                        published_rule("BS 8204 SR2"))
    >>> gap.gap_mm, gap.low
    (4.0, (1000.0, 0.0))
    """
    heights = np.asarray(heights_mm, dtype=float)
    section = profile_section(places_mm)
    if len(heights) != len(section.places) or not np.all(np.isfinite(heights)):
        raise InputError("each place needs one height, a number")
    return _worst(Placements([section], rule), heights, [((0.0, 0.0), 0.0)])


def worst_on_surface(surface: Surface, rule: FlatnessRule) -> Gap | None:
    """The worst gap under a straightedge anywhere on a surface, in any direction.

    Lines through every two readings are examined exactly; the worst of them are then shifted and
    turned until the gap grows no more. The gap returned exists; that no greater one does is
    shown by comparison with brute force, not proven.
    """
    return next(iter(StraightedgeSearch(surface, rule).worst_gaps(surface.heights)), None)


class StraightedgeSearch:
    """The search of :func:`worst_on_surface` for many heights of the same readings.

    Parameters
    ----------
    lines : lines to start from instead of those through every two points of the surface.
    """

    def __init__(
        self, surface: Surface, rule: FlatnessRule, lines: list[Line] | None = None
    ) -> None:
        self._surface, self._rule = surface, rule
        self._edges, self._whole = surface.edges(), is_whole(surface)
        self._lines = lines_through_readings(surface, rule.edge_mm) if lines is None else lines
        self._kept: list[tuple[Placements, list[Line]]] = []

    def placements(self) -> Iterator[tuple[Placements, list[Line]]]:
        """All placements on lines through two readings, by chunks; and each section's line.

        They are kept for the next time unless there are very many.
        """
        if self._kept:
            yield from self._kept
            return
        for start in range(0, len(self._lines), CHUNK):
            chunk = self.placements_on(self._lines[start : start + CHUNK])
            if len(self._lines) <= MOST_KEPT:
                self._kept.append(chunk)
            yield chunk

    def placements_on(self, lines: Sequence[Line]) -> tuple[Placements, list[Line]]:
        """The placements on some lines, and each section's line."""
        pairs = [
            (section, line)
            for line in lines
            for section in sections_along(self._surface, self._edges, *line, whole=self._whole)
        ]
        return Placements([section for section, _ in pairs], self._rule), [
            line for _, line in pairs
        ]

    def worst_gaps(self, heights: Floats) -> list[Gap]:
        """The few worst gaps, on different lines, worst first, for some heights [mm]."""
        refined = [self._refine(heights, gap) for gap in self._on_lines(heights)]
        return sorted(refined, key=lambda gap: -gap.excess_mm)

    def is_flat(self, heights: Floats) -> bool:
        """Whether the worst gap passes; soon told where it does not."""
        found = self._on_lines(heights)
        return all(gap.passes for gap in found) and all(
            self._refine(heights, gap).passes for gap in found
        )

    def _on_lines(self, heights: Floats) -> list[Gap]:
        """The few worst gaps on lines through two readings."""
        found = [
            gap
            for placements, owners in self.placements()
            for gap in _worst_by_section(placements, heights, owners)
        ]
        return sorted(found, key=lambda gap: -gap.excess_mm)[:REFINED]

    def _refine(self, heights: Floats, gap: Gap) -> Gap:
        """Shift the edge's ends sideways, by smaller and smaller steps, while the gap grows."""
        best, step = gap, 0.1 * max(gap.span_mm, 100.0)
        while step > LEAST_SHIFT_MM:
            lines = [_beside(best, step * a, step * b) for a, b in _SIDEWAYS]
            placements, owners = self.placements_on(lines)
            moved = _worst(placements, heights, owners)
            if moved is not None and moved.excess_mm > best.excess_mm + 1e-9:
                best = moved
            else:
                step *= 0.4
        return best


def lines_through_readings(surface: Surface, reach_mm: float, most: int = MOST_LINES) -> list[Line]:
    """Every line through two readings at most ``reach_mm`` apart, each once."""
    points = surface.points
    i, j = np.triu_indices(len(points), 1)
    delta = points[j] - points[i]
    near = np.hypot(*delta.T) <= reach_mm
    i, delta = i[near], delta[near]
    angle = np.mod(np.arctan2(delta[:, 1], delta[:, 0]), np.pi)
    angle[angle > np.pi - 1e-9] = 0.0
    offset = points[i, 1] * np.cos(angle) - points[i, 0] * np.sin(angle)
    key = np.stack([np.round(angle * 1e6), np.round(offset * 1e2)], axis=1)
    _, kept = np.unique(key, axis=0, return_index=True)
    kept = kept[:: max(1, math.ceil(len(kept) / most))]
    return [((float(points[i[k], 0]), float(points[i[k], 1])), float(angle[k])) for k in kept]


def _worst_by_section(placements: Placements, heights: Floats, owners: Sequence[Line]) -> list[Gap]:
    """The few worst gaps, at most one a section."""
    rests = placements.evaluate(heights)
    found: dict[int, Gap] = {}
    for k in np.argsort(-rests.excess, kind="stable")[: 20 * REFINED]:
        number = placements.section_of(int(rests.low[k]))
        if number not in found:
            found[number] = _gap(placements, rests, int(k), owners[number])
        if len(found) == REFINED:
            break
    return list(found.values())


def _worst(placements: Placements, heights: Floats, owners: Sequence[Line]) -> Gap | None:
    if len(placements) == 0:
        return None
    rests = placements.evaluate(heights)
    worst = int(np.argmax(rests.excess))
    return _gap(placements, rests, worst, owners[placements.section_of(int(rests.low[worst]))])


def _gap(placements: Placements, rests: Rests, k: int, line: Line) -> Gap:
    (x, y), angle = line
    along = (math.cos(angle), math.sin(angle))
    low, left, right = (
        (x + place * along[0], y + place * along[1])
        for place in (
            placements.place_of(int(rests.low[k])), float(rests.left[k]), float(rests.right[k]),
        )
    )  # fmt: skip
    gap = max(float(rests.gap[k]), 0.0)
    return Gap(gap, float(rests.allowed[k]), low, left, right)


_SIDEWAYS = ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1))


def _beside(gap: Gap, at_left: float, at_right: float) -> Line:
    """The line that passes the contacts of a gap at these distances."""
    _, angle = gap.line
    side = (-math.sin(angle), math.cos(angle))
    start = (gap.left[0] + at_left * side[0], gap.left[1] + at_left * side[1])
    end = (gap.right[0] + at_right * side[0], gap.right[1] + at_right * side[1])
    return start, math.atan2(end[1] - start[1], end[0] - start[0])
