"""A person with a saw and only the cards: cuts boards, keeps a shelf, lays pieces.

Nothing of the plan but its head is used (board, rules, laying): what a card does not say cannot
be known here.
"""

from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely import Polygon

from plankwright.guide.cards import Card
from plankwright.model.plan import Plan

SAME_MM = 0.02
CUTS = 4  # no board here gives more pieces one after another


@dataclass(frozen=True)
class Part:
    """A rectangle of a board, in the board's own frame: near, wall side, far, room side."""

    board: int
    u0: float
    v0: float
    u1: float
    v1: float


@dataclass(frozen=True)
class Made:
    """A piece that was cut and laid."""

    id: str
    board: int
    from_near_mm: float
    from_wall_side_mm: float
    outline: Polygon


@dataclass
class Person:
    head: Plan
    shelf: dict[str, Part] = field(default_factory=dict)
    boards: int = 0
    made: list[Made] = field(default_factory=list)

    def follow(self, card: Card) -> None:
        part = self.take(card)
        kept = self.saw(card, part)
        self.put_away(card, part, kept)
        self.lay(card, kept)

    def take(self, card: Card) -> Part:
        take = card.take
        if take.kind == "offcut":
            part = self.shelf.pop(take.label)
        elif take.kind == "shelf":
            part = Part(take.board, 0.0, 0.0, take.length_mm, take.width_mm)
        else:
            self.boards += 1
            board = self.head.board
            part = Part(-self.boards, 0.0, 0.0, board.length_mm, board.width_mm)
        assert self.is_size(part, take.length_mm, take.width_mm)
        return part

    def is_size(self, part: Part, length_mm: float, width_mm: float) -> bool:
        """A plan leaves the allowance beside a cut; who cuts to the millimeter keeps it."""
        over = part.u1 - part.u0 - length_mm
        kept = CUTS * self.head.rules.allowance_mm + SAME_MM
        return -SAME_MM <= over <= kept and abs(part.v1 - part.v0 - width_mm) < SAME_MM

    def saw(self, card: Card, part: Part) -> Part:
        """What is kept, by the end and side that the card says to keep."""
        cut = card.cut
        if cut is None:
            return part
        length, width = max(card.lengths_mm), max(card.widths_mm)
        if card.shape:
            outer = np.array(card.shape[0])
            length, width = np.ptp(outer[:, 0]), np.ptp(outer[:, 1])
        u0 = self._kept_from(cut.end, part.u0, part.u1, length, card)
        v0 = {None: part.v0, "wall": part.v0, "room": part.v1 - width}.get(
            cut.side, part.v0 + cut.piece.from_wall_side_mm - cut.source.v0
        )
        return Part(part.board, u0, v0, u0 + length, v0 + width)

    def _kept_from(
        self, end: str | None, near: float, far: float, length: float, card: Card
    ) -> float:
        cut = card.cut
        assert cut is not None
        match end:
            case None | "near":
                return near
            case "far":
                return far - length
            case "middle":  # the card says where to begin
                return near + cut.piece.from_near_mm - cut.source.u0
            case "cut" if cut.factory_ends[1]:
                return near
            case "cut":
                return far - length
            case _:  # either end: there is no factory end left
                begins = cut.piece.from_near_mm - cut.source.u0
                return near if begins <= self.head.rules.allowance_mm + 0.5 else far - length

    def put_away(self, card: Card, part: Part, kept: Part) -> None:
        """Each offcut that is to be kept must be one of the rectangles that the saw left."""
        kerf = self.head.rules.kerf_mm
        rests = (*_crosscut_first(part, kept, kerf), *_rip_first(part, kept, kerf), part)
        for left in card.left:
            if left.fate != "shelf":
                continue
            fitting = [rest for rest in rests if self.is_size(rest, left.length_mm, left.width_mm)]
            assert fitting, f"{card.piece}: no offcut of that size is left"
            assert left.label not in self.shelf
            self.shelf[left.label] = _by_position(fitting, card, left.label)

    def lay(self, card: Card, kept: Part) -> None:
        outline = self.place(card)
        self.made.append(Made(card.piece, kept.board, kept.u0, kept.v0, outline))

    def place(self, card: Card) -> Polygon:
        """The piece's outline, u along from where rows begin, v across from row 1's wall side."""
        v0 = (card.row - 1) * self.head.board.width_mm + card.across_mm
        rings = card.shape or (_four_corners(card),)
        outline = Polygon(rings[0], rings[1:])
        return shapely.transform(outline, lambda uv: uv + np.array([card.along_mm, v0]))


def _four_corners(card: Card) -> tuple[tuple[float, float], ...]:
    """near wall, far wall, far room, near room from two lengths and two widths."""
    (wall, room), (near, far) = card.lengths_mm, card.widths_mm
    length, width = max(wall, room), max(near, far)
    slanted = card.cut.slanted_end if card.cut else None
    u = (
        [0.0, wall, room, 0.0]
        if slanted != "near"
        else [length - wall, length, length, length - room]
    )
    v = [0.0, 0.0, far, near]
    if card.slanted_side == "wall":
        v = [width - near, width - far, width, width]
    return tuple(zip(u, v, strict=True))


def _crosscut_first(part: Part, kept: Part, kerf: float) -> tuple[Part, ...]:
    return (
        Part(part.board, part.u0, part.v0, kept.u0 - kerf, part.v1),
        Part(part.board, kept.u1 + kerf, part.v0, part.u1, part.v1),
        Part(part.board, kept.u0, part.v0, kept.u1, kept.v0 - kerf),
        Part(part.board, kept.u0, kept.v1 + kerf, kept.u1, part.v1),
    )


def _rip_first(part: Part, kept: Part, kerf: float) -> tuple[Part, ...]:
    return (
        Part(part.board, part.u0, part.v0, part.u1, kept.v0 - kerf),
        Part(part.board, part.u0, kept.v1 + kerf, part.u1, part.v1),
        Part(part.board, part.u0, kept.v0, kept.u0 - kerf, kept.v1),
        Part(part.board, kept.u1 + kerf, kept.v0, part.u1, kept.v1),
    )


def _by_position(parts: list[Part], card: Card, label: str) -> Part:
    """Of two offcuts of one size the picture tells which gets the letter."""
    assert card.cut is not None
    pictured = next(offcut.blank for offcut in card.cut.offcuts if offcut.label == label)
    return min(parts, key=lambda part: abs(part.u0 - pictured.u0) + abs(part.v0 - pictured.v0))
