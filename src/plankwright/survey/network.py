"""A network of points and what was observed between them, in the plane.

x to the right, y up, millimeters. Azimuths and turned angles run clockwise from +y, as surveyors
count them.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from plankwright.errors import InputError

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Length:
    """A distance between two points, with its standard deviation."""

    start: str
    end: str
    length_mm: float
    sd_mm: float


@dataclass(frozen=True, slots=True)
class Turn:
    """An angle turned clockwise at a point, from one point to another."""

    at: str
    start: str
    end: str
    degrees: float
    sd_deg: float


@dataclass(frozen=True, slots=True)
class Bearing:
    """The azimuth from one point to another, clockwise from +y."""

    start: str
    end: str
    degrees: float
    sd_deg: float


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a point lies to the left of the line from ``start`` to ``end`` (right: negative)."""

    point: str
    start: str
    end: str
    reach_mm: float
    sd_mm: float


Observation = Length | Turn | Bearing | Reach


@dataclass(frozen=True, slots=True)
class Network:
    """Points with start coordinates, some of them fixed, and observations.

    Parameters
    ----------
    points : rough coordinates by name; the order is kept.
    observations : what was measured or is believed.
    fixed : names of points that do not move. Without any (and without bearings) the network is
        free: it is adjusted with the smallest total correction to the rough coordinates.
    """

    points: Mapping[str, Point]
    observations: tuple[Observation, ...]
    fixed: frozenset[str] = field(default_factory=frozenset)

    def __post_init__(self) -> None:
        unknown = self.fixed - set(self.points)
        if unknown:
            raise InputError("unknown fixed point", where="network", value=sorted(unknown))
        for x_mm, y_mm in self.points.values():
            if not (math.isfinite(x_mm) and math.isfinite(y_mm)):
                raise InputError("a coordinate is not a number", where="network")
        for observation in self.observations:
            self._require(observation)

    def _require(self, observation: Observation) -> None:
        for name in names_of(observation):
            if name not in self.points:
                raise InputError("unknown point", where=describe(observation), value=name)
        if not (math.isfinite(value_of(observation)) and sd_of(observation) > 0.0):
            raise InputError(
                "an observation needs a value and a standard deviation above 0",
                where=describe(observation),
                value=(value_of(observation), sd_of(observation)),
            )


def names_of(observation: Observation) -> tuple[str, ...]:
    """The points an observation ties together."""
    match observation:
        case Length() | Bearing():
            return observation.start, observation.end
        case Turn():
            return observation.at, observation.start, observation.end
        case Reach():
            return observation.point, observation.start, observation.end


def value_of(observation: Observation) -> float:
    """What was observed, in millimeters or degrees."""
    match observation:
        case Length():
            return observation.length_mm
        case Turn() | Bearing():
            return observation.degrees
        case Reach():
            return observation.reach_mm


def sd_of(observation: Observation) -> float:
    """The standard deviation, in millimeters or degrees."""
    return observation.sd_mm if isinstance(observation, Length | Reach) else observation.sd_deg


def describe(observation: Observation) -> str:
    """What an observation is called: ``A-B``, ``angle at C``, ``post from A-B``."""
    match observation:
        case Length():
            return f"{observation.start}-{observation.end}"
        case Turn():
            return f"angle at {observation.at}"
        case Bearing():
            return f"bearing {observation.start}-{observation.end}"
        case Reach():
            return f"{observation.point} from {observation.start}-{observation.end}"
