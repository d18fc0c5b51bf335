"""Profile: a stretch taken apart into trapezoids, counted from its near end and its wall line.

A *band* is a line along the boards at a distance y from their wall sides, with a reach to both
sides of it: 0 for the line itself. The profile tells where along the row a band meets a stretch.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from plankwright.geometry.rows import Stretch
from plankwright.geometry.slabs import Trapezoid

Floats = npt.NDArray[np.float64]
Interval = tuple[float, float]
THIN_MM = 1e-4


@dataclass(frozen=True, slots=True)
class Profile:
    """The trapezoids of a stretch, u from its near end, v from its row's wall line [mm]."""

    length: float
    trapezoids: tuple[Trapezoid, ...]

    def met(self, y: float, reach: float, longer: float = 0.0) -> list[Interval]:
        """Where a band meets the stretch, near to far; one interval for each trapezoid it meets.

        With ``longer`` every end that lies on a slanted edge is put out by so much, measured
        square to that edge and less what it is along the row.
        """
        found: list[Interval] = []
        for t in self.trapezoids:
            begin, end = _both(
                _part(y + reach - t.low0, y + reach - t.low1),
                _part(t.high0 + reach - y, t.high1 + reach - y),
            )
            if begin < end:
                run, more = t.u1 - t.u0, longer * _slack(t) if longer else 0.0
                first = t.u0 + begin * run - (more if begin > 0.0 else 0.0)
                last = t.u0 + end * run + (more if end < 1.0 else 0.0)
                found.append((max(first, 0.0), min(last, self.length)))
        return found

    def heights(self) -> list[float]:
        """Every distance from the wall line at which a corner of a trapezoid lies."""
        return [v for t in self.trapezoids for v in (t.low0, t.low1, t.high0, t.high1)]


def profile_of(stretch: Stretch) -> Profile:
    """The profile of a stretch."""
    u0, v0, u1, v1 = stretch.polygon.bounds
    v = stretch.wall_line
    if stretch.is_rectangle:
        return Profile(u1 - u0, (Trapezoid(0.0, u1 - u0, v0 - v, v0 - v, v1 - v, v1 - v),))
    return Profile(
        u1 - u0,
        tuple(
            Trapezoid(t.u0 - u0, t.u1 - u0, t.low0 - v, t.low1 - v, t.high0 - v, t.high1 - v)
            for slab in stretch.slabs()
            for t in slab
            if t.u1 - t.u0 > THIN_MM
        ),
    )


def met_lengths(profiles: list[Profile], bands: Floats) -> Floats:
    """For each band (a row: y and reach) the lengths it meets of all profiles, added up."""
    rows = [
        (t.u1 - t.u0, t.low0, t.low1, t.high0, t.high1)
        for profile in profiles
        for t in profile.trapezoids
    ]
    run, low0, low1, high0, high1 = np.array(rows).T
    y, reach = bands[:, :1], bands[:, 1:]
    begin, end = np.zeros((len(bands), len(rows))), np.ones((len(bands), len(rows)))
    for near, far in ((y + reach - low0, y + reach - low1), (high0 + reach - y, high1 + reach - y)):
        with np.errstate(divide="ignore", invalid="ignore"):
            crossing = near / (near - far)
        begin = np.where(near < 0.0, np.where(far < 0.0, 1.0, np.maximum(begin, crossing)), begin)
        end = np.where(far < 0.0, np.where(near < 0.0, 0.0, np.minimum(end, crossing)), end)
    lengths: Floats = (np.maximum(end - begin, 0.0) * run).sum(axis=1)
    return lengths


def _part(at_near: float, at_far: float) -> Interval:
    """From 0 to 1, where a value that changes evenly is not below 0."""
    if at_near >= 0.0 and at_far >= 0.0:
        return (0.0, 1.0)
    if at_near < 0.0 and at_far < 0.0:
        return (1.0, 0.0)
    crossing = at_near / (at_near - at_far)
    return (0.0, crossing) if at_near >= 0.0 else (crossing, 1.0)


def _both(one: Interval, other: Interval) -> Interval:
    return max(one[0], other[0]), min(one[1], other[1])


FLAT = 0.18  # a slant flatter than this (10 degrees) keeps apart across, not along


def _slack(t: Trapezoid) -> float:
    """How much longer a width square to a slanted edge is along the row, as a share of it."""
    rise = max(abs(t.low1 - t.low0), abs(t.high1 - t.high0))
    steep = rise / math.hypot(rise, t.u1 - t.u0)
    return 0.0 if steep < FLAT else 1.0 / steep - 1.0
