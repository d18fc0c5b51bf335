"""The shape of a piece with notches or holes in words: its corners, one after another.

Corners are told along from the near end and across from the wall side, by the names that end and
side have on the board. Where the outline runs round a pipe the circle is told, not its corners.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from plankwright.application.buy_job import is_round
from plankwright.geometry.frame import Frame
from plankwright.guide.cards import Card, Ring
from plankwright.model.board import Profile
from plankwright.model.plan import Plan
from plankwright.paper.material import Material

ON_CIRCLE_MM = 1.0
Circle = tuple[float, float, float]  # along, across, radius


def shape_words(material: Material, card: Card) -> list[str]:
    """A line on how to read the shape, then one for each ring; none for a plain piece."""
    if not card.shape:
        return []
    circles = _circles(material.plan, card)
    end, side = _corner_names(material.plan)
    told = [f"Corners, along from {end} × across from {side}:"]
    for number, ring in enumerate(card.shape):
        words = "; ".join(_ring_words(material, ring, circles))
        told.append(f"Hole: {words}" if number else words)
    return told


def _corner_names(plan: Plan) -> tuple[str, str]:
    near = plan.board.near_end(plan.laying.laid)
    if near is None:
        return "the end laid first", "the start wall's side"
    end: Profile = near
    return f"its end toward the {end} end", f"its edge toward the {plan.board.start_side} side"


def _ring_words(material: Material, ring: Ring, circles: Sequence[Circle]) -> Iterator[str]:
    """The ring's corners in order, each arc as the circle it belongs to."""
    owners = [_circle_at(corner, circles) for corner in ring]
    if len(set(owners)) == 1 and owners[0] is not None:
        yield _circle_words(material, circles[owners[0]])
        return
    start = next(i for i, owner in enumerate(owners) if owner is None)
    order = [(start + i) % len(ring) for i in range(len(ring))]
    inside = False
    for place, index in enumerate(order):
        owner = owners[index]
        after = owners[order[(place + 1) % len(order)]]
        if owner is None or not inside or after is None:
            along, across = ring[index]
            yield _spot(material, along, across)
        if owner is not None and not inside:
            yield f"round {_circle_words(material, circles[owner])} to"
        inside = owner is not None


def _spot(material: Material, along: float, across: float) -> str:
    """A corner by its two figures, which no line break parts."""
    told = f"{material.figure(along)} × {material.figure(across)}"
    return told.replace(" ", "\u00a0")


def _circle_words(material: Material, circle: Circle) -> str:
    along, across, radius = circle
    return (
        f"circle {material.figure(2.0 * radius)} across, middle at {_spot(material, along, across)}"
    )


def _circle_at(corner: tuple[float, float], circles: Sequence[Circle]) -> int | None:
    for index, (along, across, radius) in enumerate(circles):
        if abs(math.dist(corner, (along, across)) - radius) <= ON_CIRCLE_MM:
            return index
    return None


def _circles(plan: Plan, card: Card) -> list[Circle]:
    """Round fixed things with their gap, in the piece's own coordinates."""
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    piece = next(piece for piece in plan.pieces if piece.id == card.piece)
    u0, v0, *_ = axes.to_plan(piece.outline).bounds
    found: list[Circle] = []
    for thing in plan.fixed:
        if is_round(thing):
            outline = axes.to_plan(thing.outline)
            u, v = outline.centroid.coords[0]
            corners = np.asarray(outline.exterior.coords)[:, :2]
            radius = float(np.hypot(*(corners - (u, v)).T).max()) + thing.gap_mm
            found.append((u - u0, v - v0, radius))
    return found
