"""A surface cut along a level line, so that what is poured to that level is exact on it."""

import numpy as np

from plankwright.physics.surface import Surface

_HAIR_MM = 1e-6  # readings exactly on the level count as a hair below it


def cut_at_level(surface: Surface, level_mm: float) -> Surface:
    """The same surface with points added wherever a triangle's side crosses the level.

    No triangle of the result has corners on both sides of the level. The level is moved up by a
    millionth of a millimeter where a reading lies exactly on it.
    """
    if np.any(np.abs(surface.heights - level_mm) < _HAIR_MM):
        level_mm += 2.0 * _HAIR_MM
    above = surface.heights > level_mm
    cut = _Cutter(surface, level_mm)
    triangles = [
        part
        for a, b, c in surface.triangles.tolist()
        for part in cut.parts(_lone_first((a, b, c), above.tolist()), above.tolist())
    ]
    points = np.concatenate([surface.points, np.array(cut.points).reshape(-1, 2)])
    heights = np.concatenate([surface.heights, np.full(len(cut.points), level_mm)])
    return Surface(points, heights, np.array(triangles, dtype=np.int64))


Corners = tuple[int, int, int]


def _lone_first(corners: Corners, above: list[bool]) -> Corners:
    """The triangle turned so that the corner alone on its side of the level comes first."""
    a, b, c = corners
    if above[a] == above[b]:
        return (c, a, b)
    return (a, b, c) if above[b] == above[c] else (b, c, a)


class _Cutter:
    """The points added so far, one for each side that crosses the level."""

    def __init__(self, surface: Surface, level_mm: float) -> None:
        self._surface, self._level = surface, level_mm
        self._numbers: dict[tuple[int, int], int] = {}
        self.points: list[tuple[float, float]] = []

    def parts(self, corners: Corners, above: list[bool]) -> list[Corners]:
        """The triangle in parts that lie on one side of the level each."""
        a, b, c = corners
        if above[a] == above[b] == above[c]:
            return [corners]
        p, q = self._crossing(a, b), self._crossing(a, c)
        return [(a, p, q), (p, b, c), (p, c, q)]

    def _crossing(self, a: int, b: int) -> int:
        low, high = sorted((a, b))
        if (low, high) not in self._numbers:
            heights, points = self._surface.heights, self._surface.points
            share = (self._level - heights[low]) / (heights[high] - heights[low])
            x, y = points[low] + share * (points[high] - points[low])
            self._numbers[low, high] = len(points) + len(self.points)
            self.points.append((float(x), float(y)))
        return self._numbers[low, high]
