"""In which unit somebody drew: what the header says, held against the drawing's own sizes.

Drawings are often made in one unit under a header that names another. Doors and rooms have the
sizes of people, though: a door that would be 30 mm wide is none.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Point, Polygon

from plankwright.errors import FileError
from plankwright.files.drawing_marks import Marks
from plankwright.files.dxf_layers import is_opening
from plankwright.files.room_names import SizeLabel
from plankwright.model.findings import Finding
from plankwright.units import MM_PER, UNITS, Unit

# $INSUNITS in the DXF reference: the codes of units that houses are drawn in.
UNIT_OF_CODE: dict[int, Unit] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
UNIT_WORDS: dict[Unit, str] = {
    "mm": "millimeters", "cm": "centimeters", "m": "meters", "in": "inches", "ft": "feet",
}  # fmt: skip

# Common practice: door leaves are 0.6 to 1.0 m wide (24 to 36 in), some narrower or wider.
DOOR_MM = (500.0, 1350.0)
# Common practice: the side of a square as large as a room of a dwelling, closets and halls too.
ROOM_SIDE_MM = (1000.0, 15_000.0)
LABEL_SLACK = 0.03  # a room's written size is to the inch or the centimeter
LABEL_SKEW = 0.06  # and both its sides must fit the same unit

# How much each kind of evidence counts when all of it points one way; judged by hand on drawings.
LABELS_WEIGH, DOORS_WEIGH, FEET_WEIGH, ROOMS_WEIGH, HEADER_WEIGHS = 3.0, 2.0, 1.5, 1.0, 0.5
FEWEST_DOORS = 2


@dataclass(frozen=True, slots=True)
class Evidence:
    """The drawing's own sizes, in drawing units.

    Parameters
    ----------
    code : the header's code of the unit.
    doors : radii of the door swings.
    feet : how many dimensions are written in feet and inches.
    rooms : areas of what may be rooms.
    labels : pairs of a written size [mm] and what it is drawn as, in drawing units.
    """

    code: int = 0
    doors: tuple[float, ...] = ()
    feet: int = 0
    rooms: tuple[float, ...] = ()
    labels: tuple[tuple[SizeLabel, tuple[float, float]], ...] = ()

    @property
    def header(self) -> Unit | None:
        """The unit the header names, if it is one of those that houses are drawn in."""
        return UNIT_OF_CODE.get(self.code)

    def fitting_labels(self, unit: Unit) -> int:
        """How many written sizes fit what is drawn, in a unit."""
        return sum(_fits(label, drawn, float(MM_PER[unit])) for label, drawn in self.labels)

    def fitting_doors(self, unit: Unit) -> int:
        """How many door swings are as wide as doors, in a unit."""
        return sum(DOOR_MM[0] <= r * float(MM_PER[unit]) <= DOOR_MM[1] for r in self.doors)

    def fitting_rooms(self, unit: Unit) -> int:
        """How many rooms are as large as rooms, in a unit."""
        sides = (area**0.5 * float(MM_PER[unit]) for area in self.rooms)
        return sum(ROOM_SIDE_MM[0] <= side <= ROOM_SIDE_MM[1] for side in sides)

    def score(self, unit: Unit) -> float:
        """How much speaks for a unit."""
        score = HEADER_WEIGHS if self.header == unit else 0.0
        score += FEET_WEIGH if self.feet and unit == "in" else 0.0
        if self.labels:
            fitting = self.fitting_labels(unit)
            score += LABELS_WEIGH * min(fitting, 3) / 3.0
        if len(self.doors) >= FEWEST_DOORS:
            score += DOORS_WEIGH * self.fitting_doors(unit) / len(self.doors)
        if self.rooms:
            score += ROOMS_WEIGH * self.fitting_rooms(unit) / len(self.rooms)
        return score


def gather(
    marks: Marks, rooms: Sequence[Polygon] = (), labels: Sequence[SizeLabel] = ()
) -> Evidence:
    """The evidence of a drawing, with the outlines that may be rooms, in drawing units."""
    paired = []
    for label in labels:
        homes = [room for room in rooms if room.contains(Point(label.at))]
        if homes:
            x0, y0, x1, y1 = min(homes, key=_area).bounds
            paired.append((label, (x1 - x0, y1 - y0)))
    return Evidence(
        code=marks.insunits,
        doors=_doors(marks),
        feet=marks.architectural,
        rooms=tuple(room.area for room in rooms),
        labels=tuple(paired),
    )


def likeliest(evidence: Evidence) -> Unit:
    """The unit that most speaks for; of equal ones the header's, else the first of mm, cm, m…"""
    return max(UNITS, key=lambda unit: (evidence.score(unit), -UNITS.index(unit)))


def settle(evidence: Evidence, where: str, named: Unit | None) -> tuple[Unit, tuple[Finding, ...]]:
    """The drawing's unit and the doubt about it.

    Parameters
    ----------
    named : the unit a person gave; nothing is doubted then.

    Raises
    ------
    FileError : neither the header nor the drawing tells.
    """
    if named is not None:
        told = f"read in {UNIT_WORDS[named]}, as you said"
        return named, (Finding("import-took", where, told),)
    unit = likeliest(evidence)
    if evidence.score(unit) < HEADER_WEIGHS:
        raise FileError(
            "neither its header nor its sizes tell in which unit it was drawn",
            where=where,
            remedy="Say it with --unit, such as --unit cm.",
        )
    because = _reasons(evidence, unit)
    if unit == evidence.header:
        told = f"drawn in {UNIT_WORDS[unit]}, as its header says"
        return unit, (Finding("import-took", where, told + (f"; {because}" if because else "")),)
    return unit, (_doubt(evidence, unit, because, where),)


def _doubt(evidence: Evidence, unit: Unit, because: str, where: str) -> Finding:
    if evidence.header:
        says = f"the header says {UNIT_WORDS[evidence.header]}"
        if evidence.doors:
            wide = sorted(evidence.doors)[len(evidence.doors) // 2] * float(MM_PER[evidence.header])
            says += f", but a door would then be {wide:.3g} mm wide"
    elif evidence.code:
        says = f"the header names a unit that no house is drawn in (code {evidence.code})"
    else:
        says = "the header names no unit"
    return Finding(
        "import-unit",
        where,
        f"{says}; it was read in {UNIT_WORDS[unit]}" + (f", since {because}" if because else ""),
        "Hold one length that you know against the drawing, or say the unit with --unit.",
    )


def _reasons(evidence: Evidence, unit: Unit) -> str:
    """What speaks for a unit, in words."""
    told = []
    if fitting := evidence.fitting_labels(unit):
        told.append(f"{fitting} of {len(evidence.labels)} room sizes written in it fit")
    if len(evidence.doors) >= FEWEST_DOORS and (fitting := evidence.fitting_doors(unit)):
        told.append(f"{fitting} of {len(evidence.doors)} door swings are as wide as doors")
    if evidence.feet and unit == "in":
        told.append(f"{evidence.feet} dimensions are written in feet and inches")
    if fitting := evidence.fitting_rooms(unit):
        told.append(f"{fitting} of {len(evidence.rooms)} outlines are as large as rooms")
    return ", ".join(told)


def _doors(marks: Marks) -> tuple[float, ...]:
    """Radii of the door swings: of those on layers called like doors, if there are such."""
    called = [swing for swing in marks.swings if is_opening(swing.layer)]
    return tuple(swing.radius for swing in called or marks.swings)


def _area(room: Polygon) -> float:
    return float(room.area)


def _fits(label: SizeLabel, drawn: tuple[float, float], mm_per: float) -> bool:
    """Whether a drawn room has the written size, either way round."""
    width, depth = drawn[0] * mm_per, drawn[1] * mm_per
    pairs = ((label.width_mm, label.depth_mm), (label.depth_mm, label.width_mm))
    for a, b in pairs:
        across, along = width / a - 1.0, depth / b - 1.0
        if abs(across - along) <= LABEL_SKEW and abs(across + along) / 2.0 <= LABEL_SLACK:
            return True
    return False
