"""The tape survey of a room, as a person would say it: corners, lengths, beliefs, ties.

Corners are named in the order in which one passes them walking along the walls. A *wall* joins two
corners that follow each other, a *diagonal* any two others; both are a :class:`Distance`. A *tie*
is a distance to a point that is no corner: the middle of a post, a drain.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from plankwright.errors import RoomError

MOST_SURVEY_CORNERS = 60
LONGEST_TAPE_MM = 100_000.0
SHORTEST_TAPE_MM = 1.0


@dataclass(frozen=True, slots=True)
class Tape:
    """How well the tape measures: standard deviation = ``sd_mm`` + ``sd_mm_per_m`` for each meter.

    The defaults (2 mm and 0.3 mm/m) are common practice for one careful reading in a room.
    """

    sd_mm: float = 2.0
    sd_mm_per_m: float = 0.3

    def __post_init__(self) -> None:
        if not (math.isfinite(self.sd_mm) and 0.0 < self.sd_mm <= 100.0):
            raise RoomError(
                "the tape's standard deviation must be above 0 and at most {0}",
                lengths_mm=(100.0,),
                where="tape.sd",
                value_mm=self.sd_mm,
            )
        if not (math.isfinite(self.sd_mm_per_m) and 0.0 <= self.sd_mm_per_m <= 10.0):
            raise RoomError(
                "the tape's standard deviation must grow by 0 to 10 mm a meter",
                where="tape.sd_per_m",
                value=self.sd_mm_per_m,
            )

    def sd_of_mm(self, length_mm: float) -> float:
        """Standard deviation [mm] of one reading of ``length_mm``."""
        return self.sd_mm + self.sd_mm_per_m * length_mm / 1000.0


@dataclass(frozen=True, slots=True)
class Distance:
    """A length measured between two points.

    Parameters
    ----------
    start, end : names of the points.
    length_mm : what the tape said.
    sd_mm : its standard deviation, or None for the tape's.
    """

    start: str
    end: str
    length_mm: float
    sd_mm: float | None = None

    def __post_init__(self) -> None:
        if self.start == self.end:
            raise RoomError(
                "a distance needs two different points", where=self.name, value=self.start
            )
        _require_length(self.length_mm, self.name)
        _require_sd(self.sd_mm, self.name)

    @property
    def name(self) -> str:
        """``"A-B"``."""
        return f"{self.start}-{self.end}"

    @property
    def pair(self) -> frozenset[str]:
        """The two points, in no order."""
        return frozenset((self.start, self.end))


@dataclass(frozen=True, slots=True)
class BelievedAngle:
    """What the person believes about the angle between the walls at a corner, never measured.

    Parameters
    ----------
    corner : its name.
    degrees : inside the room. Up to 180, the corner may also be an outside corner of
        360 - ``degrees`` (a *square* corner has 90 or 270), and the lengths decide which; but
        who writes any outside corner as such (270) is taken at his word for all.
    sd_deg : how far the belief is trusted, as a standard deviation.
    """

    corner: str
    degrees: float
    sd_deg: float = 1.0

    def __post_init__(self) -> None:
        where = f"angles.{self.corner}"
        if not (math.isfinite(self.degrees) and 5.0 <= self.degrees <= 355.0):
            raise RoomError(
                "an angle between walls must be from 5 to 355 degrees",
                where=where,
                value=self.degrees,
                remedy='Write 90 or "square" for a square corner, "unknown" if you cannot tell.',
            )
        if not (math.isfinite(self.sd_deg) and 0.0 < self.sd_deg <= 90.0):
            raise RoomError(
                "the standard deviation of an angle must be above 0 and at most 90 degrees",
                where=where,
                value=self.sd_deg,
            )


@dataclass(frozen=True, slots=True)
class StringLine:
    """A string stretched along a wall from corner to corner, to see how far the wall bows.

    Parameters
    ----------
    start, end : the wall's corners.
    offsets : pairs (along_mm, gap_mm): how far from ``start``, and from string to wall there.
    block_mm : how far the string is held off the wall at both corners by blocks. A gap larger
        than the block means that the wall bows out of the room, a smaller one into it.
    """

    start: str
    end: str
    offsets: tuple[tuple[float, float], ...]
    block_mm: float = 0.0

    def __post_init__(self) -> None:
        where = f"string line {self.name}"
        if not self.offsets:
            raise RoomError("a string line needs at least one offset", where=where)
        if not (math.isfinite(self.block_mm) and 0.0 <= self.block_mm <= 1000.0):
            raise RoomError(
                "a block must be from 0 to {0}",
                lengths_mm=(1000.0,),
                where=where,
                value_mm=self.block_mm,
            )
        for along_mm, gap_mm in self.offsets:
            _require_length(along_mm, where)
            if not (math.isfinite(gap_mm) and abs(gap_mm) <= 2000.0):
                raise RoomError(
                    "an offset from a string cannot be more than {0}",
                    lengths_mm=(2000.0,),
                    where=where,
                    value_mm=gap_mm,
                )

    @property
    def name(self) -> str:
        """``"A-B"``."""
        return f"{self.start}-{self.end}"


@dataclass(frozen=True, slots=True)
class WallDistance:
    """How far a point stands from a wall, measured square to the wall, into the room."""

    point: str
    start: str
    end: str
    distance_mm: float
    sd_mm: float | None = None

    def __post_init__(self) -> None:
        _require_length(self.distance_mm, self.name)
        _require_sd(self.sd_mm, self.name)

    @property
    def name(self) -> str:
        """``"post from A-B"``."""
        return f"{self.point} from {self.start}-{self.end}"


@dataclass(frozen=True, slots=True)
class Survey:
    """Everything that was measured and believed about one room.

    Parameters
    ----------
    corners : at least three names, in walking order.
    distances : walls, diagonals and ties.
    angles : beliefs, at most one for a corner; a corner without one is unknown.
    string_lines : bows of walls.
    points : what is no corner: posts, pipes, drains.
    wall_distances : their distances from walls.
    tape : how well the tape measures.
    clockwise : the corners run clockwise, seen from above. Facing wall A-B from inside the room,
        A is at the left hand when they do, and at the right hand when they do not.
    """

    corners: tuple[str, ...]
    distances: tuple[Distance, ...]
    angles: tuple[BelievedAngle, ...] = ()
    string_lines: tuple[StringLine, ...] = ()
    points: tuple[str, ...] = ()
    wall_distances: tuple[WallDistance, ...] = ()
    tape: Tape = Tape()
    clockwise: bool = False

    def __post_init__(self) -> None:
        self._require_corners()
        self._require_known_names()
        self._require_ties()
        self._require_string_lines()

    def walls(self) -> Iterator[tuple[str, str]]:
        """The pairs of corners that follow each other, from the first corner on."""
        following = (*self.corners[1:], self.corners[0])
        return zip(self.corners, following, strict=True)

    def is_wall(self, start: str, end: str) -> bool:
        """Whether two corners follow each other, in either order."""
        return any({start, end} == set(wall) for wall in self.walls())

    def neighbors(self, corner: str) -> tuple[str, str]:
        """The corners before and after one."""
        i = self.corners.index(corner)
        return self.corners[i - 1], self.corners[(i + 1) % len(self.corners)]

    @property
    def is_literal(self) -> bool:
        """Whether angles are meant as written: some outside corner is given as such."""
        return any(angle.degrees > 180.0 for angle in self.angles)

    def senses(self, angle: BelievedAngle) -> tuple[float, ...]:
        """The angles [deg] a belief may mean: as given, and round the other side."""
        if self.is_literal or angle.degrees >= 180.0:
            return (angle.degrees,)
        return angle.degrees, 360.0 - angle.degrees

    def sd_of_mm(self, measured: Distance | WallDistance) -> float:
        """Standard deviation [mm] of a measurement: its own or the tape's."""
        if measured.sd_mm is not None:
            return measured.sd_mm
        length_mm = measured.length_mm if isinstance(measured, Distance) else measured.distance_mm
        return self.tape.sd_of_mm(length_mm)

    def _require_corners(self) -> None:
        number = len(self.corners)
        if number < 3:
            raise RoomError("a room needs at least three corners", where="corners", value=number)
        if number > MOST_SURVEY_CORNERS:
            raise RoomError(
                f"more than {MOST_SURVEY_CORNERS} corners measured by tape",
                where="corners",
                value=number,
                remedy="Give the outline as coordinates, or leave out the smallest jogs.",
            )
        for name in (*self.corners, *self.points):
            if (*self.corners, *self.points).count(name) > 1:
                raise RoomError(
                    f"{name} is named twice",
                    where="corners",
                    value=list(self.corners),
                    remedy="Give every corner a name of its own.",
                )

    def _require_known_names(self) -> None:
        known = {*self.corners, *self.points}
        for distance in self.distances:
            for name in (distance.start, distance.end):
                self._require_name(name, known, distance.name)
        for believed in self.angles:
            self._require_name(believed.corner, set(self.corners), "angles")
        named = [believed.corner for believed in self.angles]
        for corner in named:
            if named.count(corner) > 1:
                raise RoomError("two angles for one corner", where="angles", value=corner)
        for tie in self.wall_distances:
            self._require_name(tie.point, set(self.points), tie.name)
            self._require_wall(tie.start, tie.end, tie.name)

    def _require_name(self, name: str, known: set[str], where: str) -> None:
        if name not in known:
            raise RoomError(
                f"there is no corner {name}",
                where=where,
                value=name,
                remedy="Known here: " + ", ".join(n for n in self._names() if n in known) + ".",
            )

    def _names(self) -> tuple[str, ...]:
        return (*self.corners, *self.points)

    def _require_wall(self, start: str, end: str, where: str) -> None:
        for name in (start, end):
            self._require_name(name, set(self.corners), where)
        if not self.is_wall(start, end):
            raise RoomError(
                f"{start}-{end} is no wall: {start} and {end} do not follow each other",
                where=where,
                value=f"{start}-{end}",
                remedy="Walls here: " + ", ".join(f"{a}-{b}" for a, b in self.walls()) + ".",
            )

    def _require_ties(self) -> None:
        for point in self.points:
            ties = sum(point in distance.pair for distance in self.distances)
            ties += sum(tie.point == point for tie in self.wall_distances)
            if ties < 2:
                raise RoomError(
                    f"{point} is not placed: it needs distances from two corners or walls",
                    where=f"ties.{point}",
                    value=ties,
                    remedy="Measure it from one more corner.",
                )

    def _require_string_lines(self) -> None:
        for line in self.string_lines:
            where = f"string line {line.name}"
            self._require_wall(line.start, line.end, where)
            ends = {line.start, line.end}
            measured = [d.length_mm for d in self.distances if d.pair == ends]
            beyond = [along for along, _ in line.offsets if measured and along >= measured[0]]
            if beyond:
                raise RoomError(
                    "an offset lies {0} along a wall of {1}",
                    lengths_mm=(beyond[0], measured[0]),
                    where=where,
                    value_mm=beyond[0],
                    remedy="Count along the wall from its first corner.",
                )


def _require_length(length_mm: float, where: str) -> None:
    if not (math.isfinite(length_mm) and length_mm >= SHORTEST_TAPE_MM):
        raise RoomError(
            "a measured length must be at least {0}",
            lengths_mm=(SHORTEST_TAPE_MM,),
            where=where,
            value_mm=length_mm,
            remedy="Leave out what was not measured.",
        )
    if length_mm > LONGEST_TAPE_MM:
        raise RoomError(
            "longer than {0}, no tape reaches that",
            lengths_mm=(LONGEST_TAPE_MM,),
            where=where,
            value_mm=length_mm,
            remedy="Check the number and its unit.",
        )


def _require_sd(sd_mm: float | None, where: str) -> None:
    if sd_mm is not None and not (math.isfinite(sd_mm) and 0.0 < sd_mm <= 10_000.0):
        raise RoomError(
            "a standard deviation must be above 0 and at most {0}",
            lengths_mm=(10_000.0,),
            where=where,
            value_mm=sd_mm,
        )
