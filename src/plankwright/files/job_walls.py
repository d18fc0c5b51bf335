"""Walls under the names a person gave them; a bowed wall is several edges of the outline."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from plankwright.errors import RoomError
from plankwright.files.suggest import nearest_words
from plankwright.model.room import Edge


@dataclass(frozen=True, slots=True)
class NamedWall:
    """A wall as a person called it.

    Parameters
    ----------
    edges : its edges, in the outline's order.
    turned : the person named it against that order, B-A for A-B.
    """

    edges: tuple[Edge, ...]
    turned: bool

    @property
    def length_mm(self) -> float:
        """Length along the wall [mm]."""
        return sum(edge.length_mm for edge in self.edges)

    def place(self, from_corner_mm: float, width_mm: float) -> tuple[Edge, float]:
        """The edge that holds an opening, and how far along that edge the opening begins [mm].

        ``from_corner_mm`` counts from the corner the person named first.
        """
        if self.turned:
            from_corner_mm = self.length_mm - from_corner_mm - width_mm
        begin_mm, middle_mm = 0.0, from_corner_mm + width_mm / 2.0
        for edge in self.edges[:-1]:
            if middle_mm <= begin_mm + edge.length_mm:
                return edge, from_corner_mm - begin_mm
            begin_mm += edge.length_mm
        return self.edges[-1], from_corner_mm - begin_mm


class NamedWalls:
    """The walls of an outline: by its edges' own names, or by those of a survey.

    Parameters
    ----------
    edges : of the outline.
    names : the wall each edge of the outer ring belongs to; without it each is a wall of its own.
    """

    def __init__(self, edges: Sequence[Edge], names: Sequence[str] | None = None) -> None:
        given = [*(names or ()), *(edge.name for edge in edges[len(names or ()) :])]
        pairs = zip(given, edges, strict=True)
        self._walls = {
            name: tuple(edge for _, edge in group)
            for name, group in groupby(pairs, key=lambda pair: pair[0])
        }

    def find(self, name: str, where: str) -> NamedWall:
        """The wall called ``name``, or named the other way round."""
        turned = "-".join(reversed(name.split("-")))
        if name in self._walls:
            return NamedWall(self._walls[name], turned=False)
        if turned in self._walls:
            return NamedWall(self._walls[turned], turned=True)
        raise RoomError(
            "there is no such wall",
            where=where,
            value=name,
            remedy=nearest_words(name, self._walls),
        )
