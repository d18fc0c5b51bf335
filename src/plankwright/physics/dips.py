"""Dips and humps: the connected places of a slab that get material or lose it."""

from dataclasses import dataclass

import numpy as np

from plankwright.physics.arrays import Flags, Floats, Ints
from plankwright.physics.surface import Surface

NOTICED_MM = 0.3  # a thinner smear of patch belongs to no dip


@dataclass(frozen=True, slots=True)
class Place:
    """One connected place to fill or to grind.

    Parameters
    ----------
    deepest_mm : greatest thickness there [mm].
    at : where that is, ``(x, y)`` [mm].
    liters : volume [L].
    area_m2 : area the place stands for [m²].
    nodes : the readings that belong to it.
    """

    deepest_mm: float
    at: tuple[float, float]
    liters: float
    area_m2: float
    nodes: tuple[int, ...]


def places_of(surface: Surface, thickness_mm: Floats) -> list[Place]:
    """The connected places with some thickness, the deepest first.

    Deepest first is also the order of work: the thick places need the longest time to dry.

    Parameters
    ----------
    thickness_mm : thickness at each reading [mm].
    """
    areas = surface.point_areas_mm2()
    group = _groups(surface.edges(), thickness_mm > NOTICED_MM)
    places = []
    for number in range(group.max() + 1):
        nodes = np.flatnonzero(group == number)
        deepest = nodes[np.argmax(thickness_mm[nodes])]
        x, y = surface.points[deepest]
        places.append(
            Place(
                deepest_mm=float(thickness_mm[deepest]),
                at=(float(x), float(y)),
                liters=float(thickness_mm[nodes] @ areas[nodes]) * 1e-6,
                area_m2=float(areas[nodes].sum()) * 1e-6,
                nodes=tuple(nodes.tolist()),
            )
        )
    return sorted(places, key=lambda place: -place.deepest_mm)


def _groups(edges: Ints, chosen: Flags) -> Ints:
    """For each node the number of its connected group of chosen nodes; -1 where not chosen."""
    group = np.full(len(chosen), -1)
    neighbors: dict[int, list[int]] = {}
    for a, b in edges[chosen[edges].all(axis=1)].tolist():
        neighbors.setdefault(a, []).append(b)
        neighbors.setdefault(b, []).append(a)
    count = 0
    for start in np.flatnonzero(chosen).tolist():
        if group[start] >= 0:
            continue
        waiting = [start]
        while waiting:
            node = waiting.pop()
            if group[node] < 0:
                group[node] = count
                waiting += neighbors.get(node, [])
        count += 1
    return group
