"""Rooms found in somebody else's drawing, and what was taken, left and doubted on the way."""

from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from plankwright.model.findings import Finding
from plankwright.model.room import Room
from plankwright.units import Unit

DOUBTS = frozenset(
    {"import-damaged", "import-unit", "import-gap-closed", "import-size", "import-open"}
)


@dataclass(frozen=True, slots=True, eq=False)
class FoundRoom:
    """One room of a drawing.

    Parameters
    ----------
    id : what the file calls it, or a number; every room of a file has its own.
    room : its outline, fixed things and doorways [mm]; its name is for people.
    origin : what in the file it was taken from, such as ``"LWPOLYLINE EC4 on layer ROOMS"``.
    storey : the storey it lies on, if the file says so.
    texts : the words that stand in it.
    """

    id: str
    room: Room
    origin: str
    storey: str = ""
    texts: tuple[str, ...] = ()

    @property
    def area_m2(self) -> float:
        """Area inside its walls [m2]."""
        return float(self.room.outline.area) / 1e6

    @property
    def extent_m(self) -> tuple[float, float]:
        """Width and depth of the rectangle round it, along the drawing's axes [m]."""
        x0, y0, x1, y1 = self.room.outline.bounds
        return (x1 - x0) / 1e3, (y1 - y0) / 1e3


@dataclass(frozen=True, slots=True, eq=False)
class FoundRooms:
    """What a drawing came to.

    Parameters
    ----------
    rooms : in the order of the file.
    unit : of the drawing's coordinates, as it was understood.
    findings : what was taken, what was left and why, and what is in doubt.
    backdrop : the lines that were looked at [mm], for the picture.
    closings : lines that were added where walls have gaps or openings [mm].
    """

    rooms: tuple[FoundRoom, ...]
    unit: Unit
    findings: tuple[Finding, ...] = ()
    backdrop: tuple[BaseGeometry, ...] = ()
    closings: tuple[BaseGeometry, ...] = ()

    @property
    def job_unit(self) -> Unit:
        """Unit to print lengths in."""
        return job_unit(self.unit)

    def doubts_about(self, room: FoundRoom) -> tuple[Finding, ...]:
        """What is in doubt about one room: what was merely taken and left is no doubt."""
        others = {other.id for other in self.rooms} - {room.id}
        return tuple(f for f in self.findings if f.code in DOUBTS and f.where not in others)


def job_unit(unit: Unit) -> Unit:
    """Unit to print lengths in: inches for drawings in inches or feet, else millimeters."""
    return "in" if unit in ("in", "ft") else "mm"
