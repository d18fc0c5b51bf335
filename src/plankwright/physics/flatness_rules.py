"""What a leaflet or a standard allows under a straightedge, with source and tag.

Gaps do not scale with the length of the edge: a limit holds for its own edge only.
"""

from dataclasses import dataclass

import numpy as np

from plankwright.errors import InputError, RangeError
from plankwright.model.sourced import Tag
from plankwright.physics.arrays import Floats


@dataclass(frozen=True, slots=True)
class FlatnessRule:
    """The largest gap allowed under a straightedge.

    Parameters
    ----------
    name : as a person calls it.
    edge_mm : length of the straightedge [mm].
    limits : pairs of a distance between the two contacts and the gap allowed there [mm]; between
        them linear. A single pair holds for every distance up to the edge's length.
    source, tag : where it comes from and how sure we are.
    """

    name: str
    edge_mm: float
    limits: tuple[tuple[float, float], ...]
    source: str
    tag: Tag

    def __post_init__(self) -> None:
        spans = [span for span, _ in self.limits]
        if not self.limits or spans != sorted(spans):
            raise InputError("limits must be given by growing distance", where=self.name)
        if not 100.0 <= self.edge_mm <= 15_000.0:
            raise InputError(
                "a straightedge must be from 100 mm to 15 m long",
                where=self.name,
                value=self.edge_mm,
                remedy="Check the number and its unit.",
            )
        if min(gap for _, gap in self.limits) <= 0.0:
            raise InputError("a gap limit must be above 0", where=self.name)

    @property
    def shortest_mm(self) -> float:
        """Contacts closer than this are not judged [mm]."""
        return self.limits[0][0] if len(self.limits) > 1 else 0.0

    def allowed_mm(self, span_mm: float) -> float:
        """Gap allowed [mm] with contacts ``span_mm`` apart.

        Raises
        ------
        RangeError
            when the distance is outside the published table, or longer than the edge.
        """
        high = self.limits[-1][0] if len(self.limits) > 1 else self.edge_mm
        if not self.shortest_mm <= span_mm <= high:
            raise RangeError(
                "distance of contacts [mm]", span_mm, self.shortest_mm, high, self.source
            )
        return float(self.allowed_many_mm(np.array([span_mm]))[0])

    def allowed_many_mm(self, spans_mm: Floats) -> Floats:
        """The same for an array of distances the caller has kept within the table."""
        spans, gaps = zip(*self.limits, strict=True)
        return np.asarray(np.interp(spans_mm, spans, gaps))


def single_rule(
    name: str, edge_mm: float, gap_mm: float, source: str, tag: Tag = "leaflet"
) -> FlatnessRule:
    """A rule of one gap under one edge, as leaflets have it."""
    return FlatnessRule(name, edge_mm, ((edge_mm, gap_mm),), source, tag)


def _din(line: int, gaps: tuple[float, ...]) -> FlatnessRule:
    spans = (100.0, 1000.0, 4000.0, 10_000.0, 15_000.0)
    return FlatnessRule(
        f"DIN 18202 line {line}", 4000.0, tuple(zip(spans, gaps, strict=True)),
        f"DIN 18202 table 3 line {line}", "retrieved",
    )  # fmt: skip


_IN = 25.4
_WOOD = "US wood flooring trade"
_BS = "BS 8204 (2 m edge; the 1987 edition has the same gaps under 3 m)"

PUBLISHED: tuple[FlatnessRule, ...] = (
    single_rule("ASTM F710", 120 * _IN, 3 / 16 * _IN, "ASTM F710", "secondary"),
    single_rule(
        "wood trade, 10 ft", 120 * _IN, 3 / 16 * _IN, "US wood flooring trade", "secondary"
    ),
    single_rule("wood trade, 6 ft", 72 * _IN, 1 / 8 * _IN, _WOOD, "secondary"),
    single_rule("BS 8204 SR1", 2000.0, 3.0, _BS, "retrieved"),
    single_rule("BS 8204 SR2", 2000.0, 5.0, _BS, "retrieved"),
    single_rule("BS 8204 SR3", 2000.0, 10.0, _BS, "retrieved"),
    _din(3, (2.0, 4.0, 10.0, 12.0, 15.0)),
    # One page of three prints 2 mm instead of 3 at 1 m for line 4.
    _din(4, (1.0, 3.0, 9.0, 12.0, 15.0)),
    single_rule("leaflet habit, 1 m", 1000.0, 2.0, "2 mm per meter", "common practice"),
    single_rule("leaflet habit, 2 m", 2000.0, 3.0, "3 mm in 2 m", "common practice"),
)


def published_rule(name: str) -> FlatnessRule:
    """The published rule of that name.

    Raises
    ------
    InputError
        when there is none; names those there are.
    """
    for rule in PUBLISHED:
        if rule.name == name:
            return rule
    known = "; ".join(rule.name for rule in PUBLISHED)
    raise InputError("no such flatness rule", value=name, remedy=f"Known here: {known}.")
