"""The cutting problem in whole numbers: what the search gets to see, and never a polygon.

Unit: the *tick*, 1/10,000 mm. In it 1 mm is 10,000 and 1/16 in is 15,875, both exactly, so that
joints repeated over many boards do not drift. Needs are rounded up and room is rounded down.
"""

from dataclasses import dataclass, replace
from typing import Literal

from plankwright.errors import PlankwrightError

TICKS_PER_MM = 10_000

Role = Literal["plain", "host", "guest"]


@dataclass(frozen=True, slots=True)
class Part:
    """What a lane meets of a stretch: ``low`` to ``high``, from its near end [ticks]."""

    lane: int
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class StretchNeed:
    """A stretch to be filled.

    Parameters
    ----------
    length : extent along the row [ticks], rounded up.
    start : position of its near end along u [ticks], one origin for the whole floor.
    forbidden : open intervals (low, high) of joint positions, counted from the near end [ticks],
        where a joint would leave a prong shorter than the shortest piece.
    role : a *guest* is so narrow that it is cut from the strips left beside the whole boards of
        the *hosts*, which are narrow too and need the other long side; most are plain.
    straight : both ends are square across, so that a whole board lies there uncut.
    parts : what the lanes meet of it; none where every lane meets the whole of it.
    begun : its near end is an end joint with a piece that lies already: it takes no starter.
    """

    length: int
    start: int = 0
    forbidden: tuple[tuple[int, int], ...] = ()
    role: Role = "plain"
    straight: bool = True
    begun: bool = False
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True)
class Contact:
    """Part of a row line between two stretches, ``low`` to ``high`` along u [ticks]."""

    wall_side: int
    room_side: int
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Instance:
    """A floor's stretches and the rules for filling them with boards.

    Parameters
    ----------
    board : length of a board [ticks], rounded down.
    cut : kerf and allowance together [ticks], rounded up.
    shortest : shortest piece [ticks].
    offset : least joint offset [ticks].
    grid : step of the starters that are tried [ticks]: a mark of the tape.
    stretches : in the order in which they are laid.
    contacts : which stretches are neighbors, and where.
    lanes : lines along the boards; in every one the pieces of a board lie one after another, see
        :mod:`plankwright.optimize.lanes`.
    """

    board: int
    cut: int
    shortest: int
    offset: int
    grid: int
    stretches: tuple[StretchNeed, ...]
    contacts: tuple[Contact, ...] = ()
    lanes: int = 1

    def __post_init__(self) -> None:
        if self.board <= 0 or self.grid <= 0:
            raise PlankwrightError("an instance needs a board and a grid above 0")
        if min(self.cut, self.shortest, self.offset) < 0:
            raise PlankwrightError("an instance's rules cannot be negative")
        if any(stretch.length <= 0 for stretch in self.stretches):
            raise PlankwrightError("every stretch needs a length above 0")
        if any(not 0 <= p.lane < self.lanes for s in self.stretches for p in s.parts):
            raise PlankwrightError("a part names a lane that is not there")
        count = len(self.stretches)
        if any(not 0 <= i < count for c in self.contacts for i in (c.wall_side, c.room_side)):
            raise PlankwrightError("a contact names a stretch that is not there")


def in_one_lane(instance: Instance) -> Instance:
    """The same instance with every stretch as wide as a board, so that nothing lies beside it."""
    if instance.lanes == 1:
        return instance
    whole = tuple(replace(stretch, parts=()) for stretch in instance.stretches)
    return replace(instance, stretches=whole, lanes=1)
