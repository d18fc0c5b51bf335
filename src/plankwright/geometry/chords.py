"""Chords: what a line along the rows cuts from the stretches.

Draw a line along every board at the same distance y from its wall side. On the floor it lies at
(row's wall line) + y in every piece whose place across its board is fixed: pieces as wide as a
board, and pieces joined on a long side. Along it the pieces lie one after another, on the floor as
in the boards, whatever their outlines. So the boards needed for the chords alone are a lower
bound for the floor, for every y, rips, jogs and slanted ends included.

A line may have a *reach* to both sides, together narrower than a kerf: then no two pieces of a
board that it meets lie side by side, since a rip between them takes a kerf. Pieces nested by true
shape still keep a cut between them, of which along the row at least :func:`cut_along` is left.
"""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from plankwright.geometry.profile import Interval, Profile, met_lengths, profile_of
from plankwright.geometry.rows import Contact, Stretch, joined

ROUNDING_MM = 0.05
SHORTEST_CHORD_MM = 0.5
NOISE_MM = 0.005  # coordinates are rounded to 0.001 mm: a line must meet a stretch by as much
TOUCH_MM = 1.0  # contacts shorter than this hold nothing
REACH_MM = 0.06  # more than rounding can part two edges on one line
NARROWER_MM = 0.2  # by which a line with its reach is narrower than the kerf
MOST_HEIGHTS = 80  # of more corners, only some give lines
TRIED = 24  # lines of which the chords are looked at, by their length


AtHand = tuple[float, float, float]
"""A length that is at hand, and between which lines across a board it lies [mm]."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line at ``y`` from the boards' wall sides with a reach to both sides of it [mm]."""

    y: float
    reach: float = 0.0


@dataclass(frozen=True, slots=True)
class Chord:
    """Part of a stretch on a line, from ``u0`` to ``u1`` [mm]; ``stretch`` is its index."""

    stretch: int
    u0: float
    u1: float


def cut_along(cut: float, line: Line) -> float:
    """What is left along the row, at the least, of a cut between two pieces that a line meets."""
    return math.sqrt(max(cut**2 - (2.0 * line.reach) ** 2, 0.0))


@dataclass(frozen=True, slots=True)
class _Across:
    """A stretch, and where along it the place across its boards is known.

    ``zones`` are the parts [mm from its near end] in which every piece is joined on a long side; a
    loose rectangle may lie anywhere, but covers the middle of its boards, from ``middle[0]`` to
    ``middle[1]``, when it is wider than half of it.
    """

    index: int
    u0: float
    profile: Profile
    zones: tuple[Interval, ...]
    middle: Interval

    def at(self, line: Line) -> list[Interval]:
        """What a line is sure to meet, near to far."""
        if self.middle[0] < line.y < self.middle[1]:
            return [(0.0, self.profile.length)]
        met = joined(self.profile.met(line.y, line.reach - NOISE_MM), NOISE_MM)
        parts = [
            (max(low, first), min(high, last)) for low, high in met for first, last in self.zones
        ]
        return sorted(part for part in parts if part[1] - part[0] > SHORTEST_CHORD_MM)


class Chords:
    """The chords of a floor's stretches on any line.

    Parameters
    ----------
    width, kerf, cut : of a board; of a rip; between two pieces along a board [mm].
    shortest : shortest piece [mm].
    without : stretches that are left out, by index.
    """

    def __init__(
        self,
        stretches: Sequence[Stretch],
        contacts: Sequence[Contact],
        width: float,
        shortest: float,
        kerf: float,
        cut: float,
        without: Collection[int] = (),
    ) -> None:
        self._width, self._kerf, self._cut = width, kerf, cut
        self._full: list[Chord] = []
        self._odd: list[_Across] = []
        zones = _zones(stretches, contacts, shortest)
        for index, stretch in enumerate(stretches):
            _, v0, _, v1 = stretch.polygon.bounds
            if index in without:
                continue
            if stretch.is_rectangle and v1 - v0 >= width - ROUNDING_MM:
                self._full.append(Chord(index, stretch.u0, stretch.u1))
                continue
            loose = (width - (v1 - v0), v1 - v0) if stretch.is_rectangle else (width, 0.0)
            profile = profile_of(stretch)
            self._odd.append(_Across(index, stretch.u0, profile, zones[index], loose))

    def at(self, line: Line) -> list[Chord]:
        """What a line cuts from the stretches that it must meet."""
        found = list(self._full)
        for across in self._odd:
            parts = _apart(across.at(line), cut_along(self._cut, line))
            found += [Chord(across.index, across.u0 + a, across.u0 + b) for a, b in parts]
        return sorted(found, key=lambda chord: (chord.stretch, chord.u0))

    def lines(self, most: int, at_hand: Sequence[AtHand] = ()) -> list[Line]:
        """Lines worth trying, the most promising first: that with the greatest length of chords
        beyond what is ``at_hand`` there. No two have the same of both.
        """
        if not self._odd and not at_hand:
            return [Line(self._width / 2.0)] if self._full else []
        tried = self._candidates(at_hand)
        lengths = self._met(tried)
        ready = [_ready(line, at_hand) for line in tried]
        best = np.argsort(-np.round(lengths - np.array(ready)), kind="stable")[:TRIED]
        seen: dict[tuple[int, tuple[tuple[int, int, int], ...]], tuple[float, Line]] = {}
        for i in best:
            line, chords = tried[i], self.at(tried[i])
            lost = (self._cut - cut_along(self._cut, line)) * len(chords)
            worth = round(sum(chord.u1 - chord.u0 for chord in chords) - lost - ready[i])
            key = round(ready[i]), tuple((c.stretch, round(c.u0), round(c.u1)) for c in chords)
            if chords and (key not in seen or seen[key][0] < worth):
                seen[key] = (worth, line)
        ordered = sorted(seen.values(), key=lambda entry: -entry[0])
        return [line for _, line in ordered[:most]]

    def _met(self, lines: Sequence[Line]) -> npt.NDArray[np.float64]:
        """What lines meet of the stretches that are not full, in all [mm]."""
        if not self._odd:
            return np.zeros(len(lines))
        bands = np.array([(line.y, line.reach - NOISE_MM) for line in lines])
        return met_lengths([across.profile for across in self._odd], bands)

    def _candidates(self, at_hand: Sequence[AtHand] = ()) -> list[Line]:
        """Lines in every band between two corners, and lines that reach from one to the next."""
        corners = [y for across in self._odd for y in (*across.profile.heights(), *across.middle)]
        corners += [y for _, low, high in at_hand for y in (low, high)]
        heights = np.unique(np.round(np.clip([0.0, *corners, self._width], 0.0, self._width), 2))
        if len(heights) > MOST_HEIGHTS:
            some = np.linspace(0, len(heights) - 1, MOST_HEIGHTS).round().astype(int)
            heights = heights[some]
        found: list[Line] = []
        for low, high in zip(heights[:-1].tolist(), heights[1:].tolist(), strict=True):
            if high - low > 0.15:
                found += [Line(low + part * (high - low)) for part in (0.5, 0.02, 0.98)]
        for first, low in enumerate(heights.tolist()):
            for high in heights[first:].tolist():
                reach = (high - low) / 2.0 + REACH_MM
                if 2.0 * reach > self._kerf - NARROWER_MM:
                    break
                found.append(Line((low + high) / 2.0, reach))
        return found


def _ready(line: Line, at_hand: Sequence[AtHand]) -> float:
    """The length at hand that a line may meet [mm]."""
    first, last = line.y - line.reach, line.y + line.reach
    return sum(length for length, low, high in at_hand if low <= last and first <= high)


def _apart(parts: Sequence[Interval], cut: float) -> list[Interval]:
    """Parts of one stretch shortened until a cut lies between them, as between pieces."""
    found: list[Interval] = []
    for low, high in parts:
        if found and low - found[-1][1] < cut:
            found[-1] = (found[-1][0], low - cut)
        found.append((low, high))
    return [(low, high) for low, high in found if high - low > SHORTEST_CHORD_MM]


def _zones(
    stretches: Sequence[Stretch], contacts: Sequence[Contact], shortest: float
) -> list[tuple[Interval, ...]]:
    """For each stretch the parts [mm from its near end] in which every piece meets a contact.

    A piece could lie in a part without contacts only if that is as long as the shortest piece.
    """
    runs: list[list[Interval]] = [[] for _ in stretches]
    for contact in contacts:
        if contact.u1 - contact.u0 > TOUCH_MM:
            runs[contact.wall_side].append((contact.u0, contact.u1))
            runs[contact.room_side].append((contact.u0, contact.u1))
    return [
        _zones_of(stretch, joined(touched, 0.0), max(min(shortest, stretch.length), TOUCH_MM))
        for stretch, touched in zip(stretches, runs, strict=True)
    ]


def _zones_of(stretch: Stretch, touched: Sequence[Interval], least: float) -> tuple[Interval, ...]:
    found: list[Interval] = []
    begin = 0.0
    reached = 0.0
    for u0, u1 in (*touched, (stretch.u1, stretch.u1)):
        first, last = u0 - stretch.u0, u1 - stretch.u0
        if first - reached >= least - NOISE_MM:  # a piece may lie loose in between
            if reached > begin:
                found.append((begin, reached - TOUCH_MM))
            begin = first + TOUCH_MM
        reached = max(reached, last)
    if stretch.length > begin:
        found.append((begin, stretch.length))
    return tuple(zone for zone in found if zone[1] > zone[0])
