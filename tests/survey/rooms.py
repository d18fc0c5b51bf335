"""Small rooms and their surveys for tests."""

import math

from plankwright.model.survey import BelievedAngle, Distance, Survey

Corner = tuple[float, float]

RECTANGLE: tuple[Corner, ...] = ((0, 0), (4200, 0), (4200, 3600), (0, 3600))
CROOKED: tuple[Corner, ...] = ((0, 0), (4200, 0), (4180, 3600), (20, 3590))
L_ROOM: tuple[Corner, ...] = (
    (0, 0), (5000, 0), (5000, 3000), (3000, 3000), (3000, 4500), (0, 4500),
)  # fmt: skip
CLIPPED: tuple[Corner, ...] = ((0, 0), (4000, 0), (4000, 2000), (3000, 3000), (0, 3000))
TWELVE: tuple[Corner, ...] = (
    (0, 0), (6000, 0), (6000, 1500), (7500, 1500), (7500, 4000), (5200, 4000),
    (5200, 5500), (3000, 5500), (3000, 4200), (1200, 4200), (1200, 3000), (0, 3000),
)  # fmt: skip


def names_of(room: tuple[Corner, ...]) -> tuple[str, ...]:
    return tuple(chr(ord("A") + i) for i in range(len(room)))


def taped(
    room: tuple[Corner, ...],
    diagonals: str = "",
    *,
    square: str = "",
    left_out: str = "",
    wrong: dict[str, float] | None = None,
    clockwise: bool = False,
) -> Survey:
    """A survey without noise: all walls but those left out, and diagonals such as ``"AC BD"``.

    ``wrong`` adds an error [mm] to a length, by its name.
    """
    names = names_of(room)
    places = dict(zip(names, room, strict=True))
    walls = [a + b for a, b in zip(names, names[1:] + names[:1], strict=True)]
    pairs = [wall for wall in walls if wall not in left_out.split()] + diagonals.split()
    errors = wrong or {}
    return Survey(
        corners=names,
        distances=tuple(
            Distance(pair[0], pair[1], _apart(places, pair) + errors.get(pair, 0.0))
            for pair in pairs
        ),
        angles=tuple(BelievedAngle(corner, 90.0) for corner in square),
        clockwise=clockwise,
    )


def _apart(places: dict[str, Corner], pair: str) -> float:
    return math.dist(places[pair[0]], places[pair[1]])
