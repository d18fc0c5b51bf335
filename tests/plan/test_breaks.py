"""Expansion breaks: sums on paper, every subset of thresholds of thirty real dwellings."""

import json
import math
from functools import cache
from itertools import combinations
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon, affinity, box
from tests.data import data_file

from plankwright.geometry.floating import extent_of, necks
from plankwright.model.limits import Limits
from plankwright.plan.breaks import (
    EXACT_MM,
    Gate,
    Parting,
    breaks_needed,
    is_at_limit,
    part_floor,
)

FT = 304.8


def floor(*parts: Polygon) -> MultiPolygon:
    return MultiPolygon(list(parts))


def limits(along: float | None, across: float | None, **more: Any) -> Limits:
    return Limits(along, across, **more)


# --- on paper ----------------------------------------------------------------------------------


def test_45_and_30_ft_with_limits_of_40_and_30_ft() -> None:
    # along: 45 > 40, one break leaves 22 1/2 ft; across: 30 is not over 30, but just at it
    parting = part_floor(floor(box(0, 0, 45 * FT, 30 * FT)), [], limits(40 * FT, 30 * FT))
    assert parting.count == 1
    assert [e.along_mm for e in parting.extents] == pytest.approx([22.5 * FT] * 2, abs=0.1)
    assert not any(is_at_limit(e.along_mm, 40 * FT) for e in parting.extents)
    assert all(is_at_limit(e.across_mm, 30 * FT) for e in parting.extents)
    assert (breaks_needed(45 * FT, 40 * FT), breaks_needed(30 * FT, 30 * FT)) == (1, 0)


def test_30_and_a_half_ft_with_a_limit_of_27() -> None:
    parting = part_floor(floor(box(0, 0, 30.5 * FT, 10 * FT)), [], limits(27 * FT, None))
    assert parting.count == 1
    assert parting.field == (((15.25 * FT, 0.0), (15.25 * FT, 10 * FT)),)


def test_two_breaks_where_one_is_not_enough() -> None:
    # 25 m in parts of at most 10: three parts, so two breaks, at thirds
    parting = part_floor(floor(box(0, 0, 25_000, 4_000)), [], limits(10_000, 8_000))
    assert [line[0][0] for line in parting.field] == pytest.approx([25_000 / 3, 50_000 / 3])


def test_a_break_goes_where_the_floor_is_narrowest() -> None:
    # 16 m long, waist of 900 mm from 7 to 7.4 m; anywhere from 6 to 10 m would do
    waist = box(0, 0, 16_000, 4_000).difference(box(7_000, 900, 7_400, 4_000))
    parting = part_floor(floor(waist), [], limits(10_000, 8_000, neck_mm=100.0))
    (((u0, _), (u1, _)),) = parting.field
    assert (u0, u1) == (u0, u0)
    assert 7_000 <= u0 <= 7_400
    # seen as a neck it is parted in its middle
    parting = part_floor(floor(waist), [], limits(10_000, 8_000))
    assert parting.field == ()
    assert parting.gates[0].line == ((7_200.0, 0.0), (7_200.0, 900.0))


def test_a_short_floor_needs_no_break_unless_the_leaflet_wants_one() -> None:
    two = box(0, 0, 3_000, 3_000).union(box(3_000, 1_000, 3_100, 1_800))
    two = two.union(box(3_100, 0, 6_000, 3_000))
    door = Gate(((3_050, 1_000), (3_050, 1_800)))
    assert part_floor(floor(two), [door], limits(10_000, 8_000)).count == 0
    wanted = Gate(door.line, wanted=True)
    parting = part_floor(floor(two), [wanted], limits(10_000, 8_000))
    assert parting.gates == (wanted,)
    assert [round(e.along_mm) for e in parting.extents] == [3050, 2950]
    # the same doorway, not told, is found as a neck
    parting = part_floor(floor(two), [], limits(None, None, in_necks=True))
    assert [gate.line for gate in parting.gates] == [((3_050.0, 1_000.0), (3_050.0, 1_800.0))]


def test_a_niche_is_no_neck() -> None:
    niche = box(0, 0, 4_000, 3_000).union(box(4_000, 1_000, 4_600, 1_800))
    assert necks(niche, 1_200.0) == []


def test_a_ring_of_rooms_needs_two_breaks() -> None:
    # four cells in a ring: 6 x 6 m in all, parts may be 4 m along: both ways round are closed
    ring = box(0, 0, 6_000, 6_000).difference(box(2_000, 2_000, 4_000, 4_000))
    gates = [
        Gate(((3_000, 0), (3_000, 2_000))), Gate(((3_000, 4_000), (3_000, 6_000))),
        Gate(((0, 3_000), (2_000, 3_000))), Gate(((4_000, 3_000), (6_000, 3_000))),
    ]  # fmt: skip
    parting = part_floor(floor(ring), gates, limits(4_000, 10_000))
    assert parting.gates == (gates[0], gates[1])


def test_doorways_are_parted_rather_than_open_spaces() -> None:
    row = box(0, 0, 12_000, 3_000)
    gates = [Gate(((4_000, 0), (4_000, 3_000)), is_door=False), Gate(((8_000, 0), (8_000, 3_000)))]
    assert part_floor(floor(row), gates, limits(10_000, None)).gates == (gates[1],)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    st.floats(1_000, 40_000), st.floats(1_000, 20_000), st.floats(5_000, 15_000),
    st.floats(5_000, 15_000),
)  # fmt: skip
def test_a_rectangle_is_parted_as_often_as_it_must(
    length: float, width: float, along: float, across: float
) -> None:
    parting = part_floor(floor(box(0, 0, length, width)), [], limits(along, across))
    columns, rows = breaks_needed(length, along) + 1, breaks_needed(width, across) + 1
    assert len(parting.extents) == columns * rows
    assert_kept(parting, limits(along, across))


def assert_kept(parting: Parting, bounds: Limits) -> None:
    for extent in parting.extents:
        assert extent.along_mm <= (bounds.longest_along_mm or math.inf) + EXACT_MM
        assert extent.across_mm <= (bounds.longest_across_mm or math.inf) + EXACT_MM


# --- brute force over thresholds ---------------------------------------------------------------


@cache
def dwellings() -> list[dict[str, Any]]:
    """Dwellings with their thresholds, plan axes along x."""
    text = data_file("dwellings_agpl.geojson").read_text(encoding="utf-8")
    features: list[dict[str, Any]] = json.loads(text)["features"]
    return sorted(features, key=lambda feature: str(feature["id"]))


def scaled(feature: dict[str, Any]) -> tuple[Polygon, list[LineString]]:
    outline = affinity.scale(shapely.from_geojson(json.dumps(feature["geometry"])), 1000, 1000,
                             origin=(0, 0))  # fmt: skip
    lines = [
        LineString([(1000 * x, 1000 * y) for x, y in threshold["seg"]])
        for threshold in feature["properties"]["thresholds"]
    ]
    assert isinstance(outline, Polygon)
    return outline, lines


def fewest_by_trying_all(outline: Polygon, lines: list[LineString], bounds: Limits) -> int | None:
    """The fewest thresholds that must be parted: every subset, the small ones first."""
    for count in range(len(lines) + 1):
        for chosen in combinations(lines, count):
            longer = [affinity.scale(line, *[1 + 120 / line.length] * 2) for line in chosen]
            faces = shapely.get_parts(
                shapely.polygonize([shapely.union_all([outline.boundary, *longer])])
            )
            if all(
                fits(face, bounds) for face in faces if outline.contains(face.point_on_surface())
            ):
                return count
    return None


def fits(part: Polygon, bounds: Limits) -> bool:
    x0, y0, x1, y1 = part.bounds
    along, across = bounds.longest_along_mm, bounds.longest_across_mm
    assert along is not None
    assert across is not None
    return bool(x1 - x0 <= along + EXACT_MM and y1 - y0 <= across + EXACT_MM)


def test_brute_force_over_thresholds_agrees() -> None:
    compared = 0
    counts = set()
    for feature in dwellings():
        outline, lines = scaled(feature)
        gates = [Gate(tuple(line.coords)) for line in lines]
        # limits at which parting matters, from the size of the dwelling
        whole = extent_of(outline)
        bounds = limits(0.62 * whole.along_mm, 0.7 * whole.across_mm)
        parting = part_floor(floor(outline), gates, bounds)
        assert_kept(parting, bounds)
        if parting.field or len(lines) > 8:
            continue  # a room too long by itself, or more subsets than a test has time for
        assert len(parting.gates) == fewest_by_trying_all(outline, lines, bounds), feature["id"]
        compared += 1
        counts.add(len(parting.gates))
        if compared == 30:
            break
    assert compared == 30
    assert len(counts) > 2
