"""A polygon cut at every corner into slabs across the row: the ground for all row geometry.

A *slab* is the part of a polygon between two neighboring corner positions along u. In it every
connected part is a trapezoid with straight lower and upper lines. From slabs follow: where a
stretch has several prongs, how wide it is everywhere, and where it touches a row line.
"""

from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

EPS_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Trapezoid:
    """One part of a slab: from ``u0`` to ``u1``, its lower and upper v at both ends."""

    u0: float
    u1: float
    low0: float
    low1: float
    high0: float
    high1: float

    @property
    def least_width(self) -> float:
        """The smaller of the widths at its two ends [mm]."""
        return min(self.high0 - self.low0, self.high1 - self.low1)

    def width_at(self, u: float) -> float:
        """Width across at ``u`` [mm]."""
        t = (u - self.u0) / (self.u1 - self.u0)
        low = self.low0 + t * (self.low1 - self.low0)
        return self.high0 + t * (self.high1 - self.high0) - low


def slabs(polygon: Polygon) -> list[list[Trapezoid]]:
    """The slabs of a polygon from least u to greatest, each a list of trapezoids by rising v."""
    segments = [
        (a, b) if a[0] < b[0] else (b, a)
        for ring in (polygon.exterior, *polygon.interiors)
        for a, b in pairwise(ring.coords)
    ]
    cuts = _distinct(sorted(x for segment in segments for x in (segment[0][0], segment[1][0])))
    return [_slab(segments, u0, u1) for u0, u1 in pairwise(cuts)]


Point = tuple[float, ...]


def _slab(segments: list[tuple[Point, Point]], u0: float, u1: float) -> list[Trapezoid]:
    middle = (u0 + u1) / 2.0
    lines = sorted(
        (_v_at(a, b, middle), _v_at(a, b, u0), _v_at(a, b, u1))
        for a, b in segments
        if a[0] < middle < b[0]
    )
    return [
        Trapezoid(u0, u1, low[1], low[2], high[1], high[2])
        for low, high in zip(lines[0::2], lines[1::2], strict=False)
    ]


def _v_at(a: Point, b: Point, u: float) -> float:
    t = (u - a[0]) / (b[0] - a[0])
    return a[1] + min(max(t, 0.0), 1.0) * (b[1] - a[1])


def _distinct(values: list[float]) -> list[float]:
    kept = values[:1]
    for value in values[1:]:
        if value - kept[-1] > EPS_MM:
            kept.append(value)
    return kept


def touching(a: Trapezoid, b: Trapezoid) -> bool:
    """Whether two trapezoids of neighboring slabs (a before b) share more than a point."""
    low, high = max(a.low1, b.low0), min(a.high1, b.high0)
    return high - low > EPS_MM


@dataclass(frozen=True, slots=True)
class Prong:
    """A local end of a stretch: begins at ``tip`` and joins the rest at ``root``."""

    tip: float
    root: float


def near_prongs(cut: list[list[Trapezoid]]) -> list[Prong]:
    """Every near prong: where a part of the stretch begins, and where it joins an earlier one.

    By rising tip. The first part of all joins nothing: its root is the far end of the stretch.
    """
    end = cut[-1][0].u1
    parts: list[float] = []  # tip of each living part, by index
    parent: list[int] = []
    found: list[Prong] = []
    before: list[tuple[Trapezoid, int]] = []

    def root_of(part: int) -> int:
        while parent[part] != part:
            part = parent[part]
        return part

    for slab in cut:
        now: list[tuple[Trapezoid, int]] = []
        for trapezoid in slab:
            touched = sorted(
                {root_of(part) for old, part in before if touching(old, trapezoid)},
                key=lambda part: (parts[part], part),
            )
            if not touched:
                parts.append(trapezoid.u0)
                parent.append(len(parent))
                touched = [len(parent) - 1]
            for younger in touched[1:]:
                parent[younger] = touched[0]
                found.append(Prong(parts[younger], trapezoid.u0))
            now.append((trapezoid, touched[0]))
        before = now
    alive = {root_of(part) for part in range(len(parts))}
    found.extend(Prong(parts[part], end) for part in alive)
    return sorted(found, key=lambda prong: (prong.tip, prong.root))


def mirrored(cut: list[list[Trapezoid]]) -> list[list[Trapezoid]]:
    """The same slabs seen from the far end: u changes its sign."""
    return [
        [Trapezoid(-t.u1, -t.u0, t.low1, t.low0, t.high1, t.high0) for t in slab]
        for slab in reversed(cut)
    ]


def far_prongs(cut: list[list[Trapezoid]]) -> list[Prong]:
    """Every far prong, the farthest first; ``tip`` is its end, ``root`` where it joins the rest."""
    return [Prong(-prong.tip, -prong.root) for prong in near_prongs(mirrored(cut))]


def narrow_runs(cut: list[list[Trapezoid]], width: float) -> list[tuple[float, float]]:
    """Where some part of the stretch is narrower than ``width``: runs (u0, u1), merged."""
    runs: list[tuple[float, float]] = []
    for slab in cut:
        for trapezoid in slab:
            run = _narrow_part(trapezoid, width)
            if run is None:
                continue
            if runs and run[0] <= runs[-1][1] + EPS_MM:
                runs[-1] = (min(runs[-1][0], run[0]), max(runs[-1][1], run[1]))
            else:
                runs.append(run)
    return runs


def _narrow_part(t: Trapezoid, width: float) -> tuple[float, float] | None:
    w0, w1 = t.high0 - t.low0, t.high1 - t.low1
    if min(w0, w1) >= width:
        return None
    if max(w0, w1) < width:
        return (t.u0, t.u1)
    crossing = t.u0 + (t.u1 - t.u0) * (width - w0) / (w1 - w0)
    return (t.u0, crossing) if w0 < width else (crossing, t.u1)
