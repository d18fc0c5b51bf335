"""The closing error of a walk round the room, and the compass rule for closed traverses."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plankwright.errors import InputError

Step = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Closing:
    """Where a walk ends instead of at its start, and how long it was; in the walk's unit."""

    x: float
    y: float
    walked: float

    @property
    def gap(self) -> float:
        """How far the end misses the start."""
        return math.hypot(self.x, self.y)

    @property
    def one_in(self) -> float:
        """The length walked for one of error; infinite when the walk closes."""
        return self.walked / self.gap if self.gap > 0.0 else math.inf


def step(length: float, azimuth_deg: float) -> Step:
    """The step (x, y) of a course, azimuth clockwise from +y."""
    turn = math.radians(azimuth_deg)
    return length * math.sin(turn), length * math.cos(turn)


def closing(steps: Sequence[Step]) -> Closing:
    """The closing error of steps that should lead back to the start.

    >>> closing([(3.0, 0.0), (0.0, 4.0), (-3.0, -4.1)]).gap.__round__(3)
    0.1
    """
    if len(steps) < 2:
        raise InputError("a walk needs at least two steps", value=len(steps))
    walked = sum(math.hypot(*s) for s in steps)
    return Closing(sum(x for x, _ in steps), sum(y for _, y in steps), walked)


def balance(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Steps that close: the error shared out by length (compass rule, N. Bowditch)."""
    error = closing(steps)
    shares = [math.hypot(*s) / error.walked for s in steps]
    return tuple(
        (x - error.x * share, y - error.y * share)
        for (x, y), share in zip(steps, shares, strict=True)
    )


def room_steps(walls_mm: Sequence[float], angles_deg: Sequence[float]) -> tuple[Step, ...]:
    """The walk along walls with the angle inside the room at the end of each, the first along x.

    For an anticlockwise room; a clockwise one is its mirror image and closes as well.
    """
    azimuth, steps = 90.0, []
    for wall_mm, angle in zip(walls_mm, angles_deg, strict=True):
        steps.append(step(wall_mm, azimuth))
        azimuth -= 180.0 - angle
    return tuple(steps)
