"""Pairs of crooked walls, by hand."""

from dataclasses import replace

import pytest
from shapely import Polygon

from plankwright.application.crooked import crooked_walls, crooked_words
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.room import Room
from plankwright.model.rules import Rules

FT, IN = 304.8, 25.4
RULES = Rules(gap_mm=0.5 * IN, trim_cover_mm=0.75 * IN)


def job(wider_in: float, rules: Rules = RULES) -> Job:
    """15 ft deep at one end, ``wider_in`` more at the other, 20 ft long."""
    far = 15 * FT + wider_in * IN
    room = Room(Polygon([(0, 0), (20 * FT, 0), (20 * FT, far), (0, 15 * FT)]))
    return Job(room, Board(48 * IN, 7.5 * IN), rules, unit="in")


def test_a_room_of_15_feet_and_15_feet_2_inches() -> None:
    [pair] = crooked_walls(job(2.0))
    assert set(pair.walls) == {"A-B", "C-D"}
    # square to the mean of both walls a hair less than along the side walls
    widths = sorted((pair.across.near_mm, pair.across.far_mm))
    assert widths == pytest.approx([15 * FT, 15 * FT + 2 * IN], abs=0.5)
    assert pair.across.taper_mm == pytest.approx(2 * IN, abs=0.5)
    assert pair.across.length_mm == pytest.approx(20 * FT, abs=25.0)
    by_name = {way.name: way for way in pair.ways}
    assert by_name["split the difference"].seen_mm == pytest.approx(1 * IN, abs=0.3)
    assert not by_name["even gaps"].passes  # the planned gap is the least one


def test_the_leaflets_least_gap_lets_the_gaps_hide_more() -> None:
    # from 1/4 to 3/4 on both sides: 1 in of taper is hidden, and told so
    [pair] = crooked_walls(job(0.99, replace(RULES, least_gap_mm=0.25 * IN)))
    assert {way.name: way.passes for way in pair.ways}["even gaps"]
    told = crooked_words(pair, "in")
    assert told[0].startswith("Walls ")
    assert told[0].endswith("of taper.")
    assert 'gaps of 1/4" at the narrow end and 3/4" at the wide one' in told[1]


def test_a_true_room_has_nothing_to_tell() -> None:
    assert crooked_walls(job(0.0)) == ()
    assert crooked_walls(job(0.1)) == ()  # 2.5 mm
