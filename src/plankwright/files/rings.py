"""Corners as read from a file, made into a polygon."""

from collections.abc import Sequence

from shapely import Polygon

from plankwright.errors import RoomError
from plankwright.model.room import MOST_CORNERS, Point
from plankwright.units import same


def make_polygon(
    shell: Sequence[Point], holes: Sequence[Sequence[Point]] = (), *, where: str
) -> Polygon:
    """A polygon from corners [mm]; a corner given twice in a row, or again at the end, counts once.

    Whether it can be a room is for :class:`plankwright.model.room.Room` to judge.
    """
    rings = [_without_repeats(ring) for ring in (shell, *holes)]
    for ring in rings:
        if len(ring) < 3:
            raise RoomError(
                "an outline needs at least three different corners",
                where=where,
                value=len(ring),
                remedy="List every corner of the walls.",
            )
    return Polygon(rings[0], rings[1:])


def refuse_many(corners: int, where: str) -> None:
    """Refuse an outline with too many corners before time is spent on it."""
    if corners > MOST_CORNERS:
        raise RoomError(
            f"more than {MOST_CORNERS} corners",
            where=where,
            value=corners,
            remedy="Simplify the outline first.",
        )


def _without_repeats(ring: Sequence[Point]) -> list[Point]:
    kept: list[Point] = []
    for corner in ring:
        if not kept or not _same_place(corner, kept[-1]):
            kept.append(corner)
    while len(kept) > 1 and _same_place(kept[0], kept[-1]):
        kept.pop()
    return kept


def _same_place(a: Point, b: Point) -> bool:
    return same(a[0], b[0]) and same(a[1], b[1])
