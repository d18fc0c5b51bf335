"""What a tape survey came to, as values."""

from dataclasses import dataclass
from typing import Literal

from shapely import Polygon

from plankwright.model.findings import Finding
from plankwright.model.survey import Survey
from plankwright.survey.blunder import Suspect
from plankwright.survey.closing import Closing
from plankwright.survey.ellipses import Ellipse
from plankwright.survey.equations import Floats
from plankwright.survey.next_measurement import Proposal, Telling
from plankwright.survey.squareness import CornerAngle, SquareCheck, Taper
from plankwright.units import Unit

Status = Literal["measured", "assumed", "unknown"]
Kind = Literal["wall", "diagonal", "tie"]


@dataclass(frozen=True, slots=True)
class MeasuredPoint:
    """A corner or another point, with the 95 % ellipse of its error within the room."""

    name: str
    x_mm: float
    y_mm: float
    ellipse: Ellipse


@dataclass(frozen=True, slots=True)
class MeasuredLength:
    """One measured length, before and after the adjustment.

    Parameters
    ----------
    name : ``"A-B"``, or ``"post from A-B"``.
    kind : what it is.
    measured_mm, adjusted_mm, sd_mm : as written, as adjusted, and how well the latter is known.
    redundancy : share of it that the other measurements check, from 0 to 1.
    size : standardized residual, with sign; above about 3 it does not fit.
    unseen_mm : the largest slip that would probably not be noticed; infinite when nothing checks.
    left_out : the room was computed without it.
    """

    name: str
    kind: Kind
    measured_mm: float
    adjusted_mm: float
    sd_mm: float
    redundancy: float
    size: float
    unseen_mm: float
    left_out: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredRoom:
    """What a survey came to; all lengths in millimeters, first corner at the origin.

    Parameters
    ----------
    survey : as it was given.
    status : *measured*; *assumed*: corners were taken as square; *unknown*: a wall is a guess.
    outline : the room, with the bows of its walls.
    edge_walls : the wall each edge of the outline belongs to, in its order.
    corners, points : where they are.
    lengths : every measurement.
    walls_missing : the walls that were not measured, as the others make them.
    angles, tapers, square_checks : how square the room is.
    suspects : what does not fit, worst first.
    telling : the length that tells two shapes apart, if two fit.
    proposals : what to measure next, in order.
    worst_mm, enough_mm : the worst corner's 95 % error, and what gap and trim can hide.
    closing : of the walk round the walls at the believed angles, when all are known.
    s0, freedom : the tape's errors compared with what was expected (1 is as expected; nan when
        nothing is checked), and how many measurements more there are than needed.
    findings : what to check.
    covariance : (2 n, 2 n) of corners and points [mm2], relative to the room.
    """

    survey: Survey
    unit: Unit
    status: Status
    outline: Polygon
    edge_walls: tuple[str, ...]
    corners: tuple[MeasuredPoint, ...]
    points: tuple[MeasuredPoint, ...]
    lengths: tuple[MeasuredLength, ...]
    walls_missing: tuple[MeasuredLength, ...]
    angles: tuple[CornerAngle, ...]
    tapers: tuple[Taper, ...]
    square_checks: tuple[SquareCheck, ...]
    suspects: tuple[Suspect, ...]
    telling: Telling | None
    proposals: tuple[Proposal, ...]
    worst_mm: float
    enough_mm: float
    closing: Closing | None
    s0: float
    freedom: int
    covariance: Floats
    findings: tuple[Finding, ...] = ()

    @property
    def is_sure(self) -> bool:
        """Whether the room may be planned as it is: measured, agreeing and of one shape."""
        wanting = {"survey-blunder", "survey-two-shapes", "survey-assumed", "survey-unknown"}
        return not any(finding.code in wanting for finding in self.findings)
