"""Figures and half-sentences of the how-to: sizes, shapes and counts as people say them."""

import math
from collections import Counter
from itertools import pairwise

from plankwright.application.how_to import HowToSource
from plankwright.application.plan_figures import PlanFigures, plan_figures
from plankwright.application.told import counted
from plankwright.model.room import corner_name
from plankwright.plan.saw_cuts import SawCut, piece_figure, saw_cuts
from plankwright.units import format_length

SQUARE_DEG = 0.15  # a corner this near to square is square


class Facts:
    """What the sentences of the article are filled with; worked out once.

    Parameters
    ----------
    source : what the article is made from.
    """

    def __init__(self, source: HowToSource) -> None:
        self.source = source
        self.job, self.plan, self.unit = source.job, source.plan, source.job.unit
        self.figures: PlanFigures = plan_figures(self.plan)
        self.cuts: tuple[SawCut, ...] = saw_cuts(self.plan)

    # --- sizes ---------------------------------------------------------------------------

    def length(self, mm: float) -> str:
        """A length to the nearest mark."""
        return format_length(mm, self.unit)

    def need(self, mm: float) -> str:
        """A need, rounded up."""
        return format_length(mm, self.unit, rounding="up")

    def piece(self, mm: float) -> str:
        """A size of a piece, rounded down."""
        return piece_figure(mm, self.unit)

    def range(self, sizes: tuple[float, float]) -> str:
        """From the least to the greatest size; once where they are the same on the tape."""
        low, high = (self.piece(size) for size in sizes)
        return low if low == high else f"{low} to {high}"

    def area(self, m2: float) -> str:
        """A floor's area, as one tells it to a neighbor."""
        return f"{m2 / 0.09290304:.0f} sq ft" if self.job.inches else f"{m2:.1f} m²"

    @property
    def board(self) -> str:
        """The board's size."""
        size = self.plan.board
        return f"{self.length(size.length_mm)} x {self.length(size.width_mm)}"

    # --- the room ------------------------------------------------------------------------

    @property
    def obstacles(self) -> str:
        """What the floor goes round: ``"a post and a stair"``; empty for nothing."""
        kinds = Counter(thing.kind for thing in self.plan.fixed)
        words = [f"a {kind}" if n == 1 else f"{n} {kind}s" for kind, n in sorted(kinds.items())]
        return listed(words)

    @property
    def doorways(self) -> int:
        """Doorways, as far as they are known."""
        if self.job.doorways is not None:
            return len(self.job.doorways)
        return sum("door" in recess.kind for recess in self.plan.recesses)

    @property
    def worst_corner(self) -> tuple[str, float]:
        """The corner that is farthest from square, by its letter and degrees off.

        Corners that are meant to be something else, more than 20 degrees off, are left out.
        """
        ring = [(x, y) for x, y, *_ in self.plan.room.exterior.coords[:-1]]
        worst = ("", 0.0)
        for i, corner in enumerate(ring):
            before, after = ring[i - 1], ring[(i + 1) % len(ring)]
            one = math.atan2(before[1] - corner[1], before[0] - corner[0])
            two = math.atan2(after[1] - corner[1], after[0] - corner[0])
            turn = abs(math.degrees(math.remainder(two - one, 2.0 * math.pi)))
            off = abs(turn - 90.0)
            if worst[1] < off < 20.0:
                worst = (corner_name(i), off)
        return worst

    @property
    def longest_wall(self) -> float:
        """Length of the longest wall [mm]."""
        corners = list(self.plan.room.exterior.coords)
        return max(math.dist(a[:2], b[:2]) for a, b in pairwise(corners))

    # --- the work ------------------------------------------------------------------------

    @property
    def shelved(self) -> int:
        """Offcuts that are used again."""
        return sum(cut.label is not None for cut in self.cuts)

    @property
    def shaped(self) -> int:
        """Pieces with a notch or a hole."""
        return sum(cut.shaped for cut in self.cuts)

    @property
    def ripped(self) -> int:
        """Pieces that are ripped."""
        return sum(cut.side is not None for cut in self.cuts)

    @property
    def first_starter(self) -> SawCut | None:
        """The cut that a picture shows best: crosscut, one end kept, an offcut for the shelf."""
        plain = [
            cut
            for cut in self.cuts
            if cut.end in ("near", "far") and cut.side is None and not cut.shaped
        ]
        useful = [cut for cut in plain if any(offcut.label for offcut in cut.offcuts)]
        return next(iter(useful or plain), None)

    @property
    def boards_told(self) -> str:
        """Boards, and what is proven about them."""
        told = counted(self.figures.boards, "board")
        if self.figures.status == "optimal":
            return f"{told}, and no plan with these rows needs fewer"
        return f"{told} (at least {self.figures.bound} are needed)"


def listed(words: list[str]) -> str:
    """Words as a list in a sentence.

    >>> listed(["a post"]), listed(["a post", "a stair", "a pipe"])
    ('a post', 'a post, a stair and a pipe')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
