"""Long floors and several rooms: breaks, findings, plans whose parts keep the limits."""

import json
from dataclasses import replace

import pytest
import shapely
from shapely import Polygon, box
from tests.data import data_file

from plankwright.application.break_advice import with_breaks
from plankwright.application.plan_job import plan_job
from plankwright.application.plan_room import Effort
from plankwright.checker.check import check_plan
from plankwright.errors import FileError, InputError, RoomError
from plankwright.files.geojson import read_rooms
from plankwright.files.job import read_job
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.geometry.floating import extent_of
from plankwright.geometry.frame import Frame
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.job import Job
from plankwright.model.limits import Limits
from plankwright.model.plan import Plan
from plankwright.model.room import Break, Opening, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes

FT = 304.8
BOARD = Board(1285.0, 192.0)
QUICK = Effort(moves=10, looks=0, prove=False)


def hall(length: float, width: float) -> Room:
    return Room(Polygon([(0, 0), (length, 0), (length, width), (0, width)]), name="hall")


def two_rooms(leaf: str = "middle") -> Room:
    """Two rooms of 5 x 4 m with a doorway of 900 in a wall 120 thick between them."""
    outline = shapely.union_all(
        [box(0, 0, 5000, 4000), box(5000, 1500, 5120, 2400), box(5120, 0, 10120, 4000)]
    )
    door = Opening((5060, 1500), (5060, 2400), 120.0, leaf, name="door")  # type: ignore[arg-type]
    assert isinstance(outline, Polygon)
    return Room(outline, name="two rooms", openings=(door,))


def job_of(room: Room, limits: Limits, rules: Rules | None = None) -> Job:
    return Job(room, BOARD, rules or Rules(), Wishes(row_angle_deg=0.0), limits=limits)


def told(plan: Plan, code: str) -> list[Finding]:
    return [finding for finding in plan.findings if finding.code == code]


def assert_kept(plan: Plan, limits: Limits) -> None:
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    for part in frame.to_plan(plan.floor).geoms:
        extent = extent_of(part)
        assert extent.along_mm <= (limits.longest_along_mm or 1e9) + 0.5
        assert extent.across_mm <= (limits.longest_across_mm or 1e9) + 0.5


def test_a_hall_of_45_by_30_ft_is_parted_once_and_flagged_once() -> None:
    limits = Limits(40 * FT, 30 * FT)
    plan = plan_job(job_of(hall(45 * FT, 30 * FT), limits, Rules(gap_mm=0.0)), effort=QUICK)
    assert len(told(plan, "break-proposed")) == 1
    assert [finding.where for finding in told(plan, "run-at-limit")] == ["across the boards"]
    assert_kept(plan, limits)
    (strip,) = [thing for thing in plan.fixed if thing.kind == "expansion break"]
    u0, _, u1, _ = strip.outline.bounds
    assert (u0 + u1) / 2.0 == pytest.approx(22.5 * FT, abs=0.1)
    assert check_plan(load_plan(dump_plan(plan))).ok


def test_nothing_is_parted_that_need_not_be() -> None:
    plan = plan_job(job_of(two_rooms(), Limits(12_000.0, 8_000.0)), effort=QUICK)
    assert len(plan.floor.geoms) == 1
    assert told(plan, "break-proposed") == []
    # rows run through the doorway: pieces lie on both sides of it
    wall = shapely.LineString([(5060, 1500), (5060, 2400)])
    assert sum(piece.outline.crosses(wall) for piece in plan.pieces) >= 3


def test_a_dwelling_is_parted_under_its_door() -> None:
    limits = Limits(8_000.0, 8_000.0)
    plan = plan_job(job_of(two_rooms(), limits), effort=QUICK)
    (finding,) = told(plan, "break-proposed")
    assert finding.where == "door"
    assert "under the closed door" in finding.remedy
    assert len(plan.floor.geoms) == 2
    assert_kept(plan, limits)
    # rows line up: both parts lie on the same row lines
    rows = {piece.row for piece in plan.pieces if piece.outline.centroid.x < 5000}
    assert rows == {piece.row for piece in plan.pieces if piece.outline.centroid.x > 5200}


@pytest.mark.parametrize(("leaf", "x"), [("left", 5020.0), ("middle", 5060.0), ("right", 5100.0)])
def test_the_seam_lies_under_the_leaf(leaf: str, x: float) -> None:
    # from (5060, 1500) up: left of it is toward x = 0; a leaf of 40 in the face of a wall of 120
    # has its middle 40 off the wall's
    job, _ = with_breaks(job_of(two_rooms(leaf), Limits(8_000.0, 8_000.0)))
    (line,) = job.room.breaks
    assert line.start[0] == line.end[0] == pytest.approx(x)


def test_the_leaflet_may_want_a_break_in_every_doorway() -> None:
    job, findings = with_breaks(job_of(two_rooms(), Limits(in_doorways=True)))
    assert [line.name for line in job.room.breaks] == ["door"]
    assert [finding.code for finding in findings] == ["break-proposed"]


def test_without_a_leaflet_a_long_floor_is_only_told() -> None:
    job, findings = with_breaks(job_of(hall(12_000.0, 3_000.0), Limits()))
    assert job.room.breaks == ()
    assert [(f.code, f.where) for f in findings] == [("run-too-long", "along the boards")]
    assert with_breaks(job_of(hall(9_000.0, 3_000.0), Limits()))[1] == ()


def test_breaks_of_ones_own_are_kept() -> None:
    own = Break((6_000.0, 0.0), (6_000.0, 3_000.0), name="mine")
    room = replace(hall(12_000.0, 3_000.0), breaks=(own,))
    job, _ = with_breaks(job_of(room, Limits(8_000.0, 8_000.0)))
    assert job.room.breaks == (own,)


def test_the_job_file_has_openings_breaks_and_limits() -> None:
    text = """
[room]
outline = [[0, 0], [10120, 0], [10120, 4000], [0, 4000]]
[[room.opening]]
from = [5060, 0]
to = [5060, 4000]
depth = 120
leaf = "left"
door = false
name = "arch"
[[room.break]]
from = [2000, 0]
to = [2000, 4000]
stem = 10
gap = 9
[slab.movement]
longest_across = "9 m"
[breaks]
longest_along = "30 ft"
in_necks = true
"""
    job = read_job(text, "a.toml")
    assert job.room.openings == (
        Opening((5060, 0), (5060, 4000), 120.0, "left", is_door=False, name="arch"),
    )
    assert job.room.breaks == (Break((2000, 0), (2000, 4000), 10.0, 9.0),)
    assert job.limits == Limits(30 * FT, 9_000.0, in_necks=True)
    with pytest.raises(RoomError, match="two different points"):
        read_job(text.replace("[5060, 4000]", "[5060, 0]"), "a.toml")
    with pytest.raises(InputError, match="above 0"):
        read_job(text.replace('"30 ft"', "0"), "a.toml")


def test_geojson_names_thresholds() -> None:
    ring = [[0, 0], [10, 0], [10, 4], [0, 4], [0, 0]]
    threshold = {"seg": [[5, 0], [5, 4]], "depth_m": 0.1, "kind": "open"}
    feature = {
        "type": "Feature",
        "properties": {"thresholds": [threshold]},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }
    (room,) = read_rooms(feature, "a.geojson")
    assert room.openings == (Opening((5000, 0), (5000, 4000), 100.0, is_door=False),)
    for wrong in ("none", [3], [{"seg": [[5, 0]]}], [{"seg": [[5, 0], [5, 4]], "depth_m": "a"}]):
        feature["properties"] = {"thresholds": wrong}
        with pytest.raises(FileError):
            list(read_rooms(feature, "a.geojson"))


def test_real_dwellings_are_parted_and_planned() -> None:
    limits = Limits(8_000.0, 6_000.0)
    name = "dwellings_agpl.geojson"
    data = json.loads(data_file(name).read_text(encoding="utf-8"))
    data["features"] = data["features"][5::19]
    parted = 0
    for room in read_rooms(data, name):
        plan = plan_job(Job(room, BOARD, limits=limits), effort=QUICK)
        assert_kept(plan, limits)
        parted += bool(told(plan, "break-proposed"))
    assert parted >= 5
