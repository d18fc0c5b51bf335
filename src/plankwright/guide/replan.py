"""Planning again from what is on the floor: what lies stays, the rest gets the fewest new boards.

With nothing gone wrong the same plan comes back.
"""

from collections.abc import Callable
from dataclasses import dataclass

from plankwright.guide.as_laid import FloorState, LaidPiece, WallShift
from plankwright.model.plan import Plan, StockBoard
from plankwright.model.room import Room
from plankwright.optimize.solve import Effort, never


@dataclass(frozen=True, slots=True)
class Change:
    """What differs from the old plan at one place, and why."""

    where: str
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class ShelfUse:
    """An offcut at hand and the pieces that are cut from it now; none when it is left over."""

    offcut: StockBoard
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Replanned:
    """The answer of planning again.

    Parameters
    ----------
    plan : complete: the laid pieces as they lie and the rest.
    new_boards : whole new boards that the rest takes, the second batch among them.
    least_new_boards : no plan that keeps what lies takes fewer.
    second_batch_boards : how many of them are of the second batch.
    boards_missing : how many are missing; 0 when they suffice or nobody counted.
    packs_missing : the packs that hold them.
    changes : what differs from the old plan, and why; empty when nothing does.
    shelf : what each offcut at hand is used for.
    """

    plan: Plan
    new_boards: int
    least_new_boards: int
    boards_missing: int = 0
    packs_missing: int = 0
    second_batch_boards: int = 0
    changes: tuple[Change, ...] = ()
    shelf: tuple[ShelfUse, ...] = ()

    @property
    def suffices(self) -> bool:
        """Whether the boards at hand are enough, as far as they were counted."""
        return self.boards_missing == 0

    @property
    def proven(self) -> bool:
        """Whether no plan that keeps what lies takes fewer new boards."""
        return self.new_boards == self.least_new_boards


def plan_again(
    plan: Plan,
    room: Room,
    state: FloorState,
    *,
    effort: Effort | None = None,
    stop: Callable[[], bool] = never,
) -> Replanned:
    """A complete plan from the floor as it is; not yet checked.

    Parameters
    ----------
    plan : the plan that was laid by so far.
    room : the room it was made for.
    state : what lies, what is at hand and what was measured.
    effort : how long to look for fewer boards.
    stop : asked now and then; when it says True the best plan so far is taken.

    Raises
    ------
    InputError : the state names what the plan does not have, or cannot be.
    """
    raise NotImplementedError


__all__ = [
    "Change",
    "FloorState",
    "LaidPiece",
    "Replanned",
    "ShelfUse",
    "WallShift",
    "plan_again",
]
