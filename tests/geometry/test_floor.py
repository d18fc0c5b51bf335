"""The floor: gaps of their own, corners, fixed things, recesses; sums in the comments."""

import math
from dataclasses import replace

import pytest
from shapely import LineString, Polygon, box

from plankwright.errors import RoomError
from plankwright.geometry.floor import Floor, build_floor, grow, inset
from plankwright.model.room import Break, Doorway, FixedThing, Room
from plankwright.model.rules import Rules
from plankwright.testing.moves import mirrored, turned
from plankwright.testing.zoo import rectangle, zoo

RULES = Rules(gap_mm=8.0)
ELL = Polygon([(0, 0), (4500, 0), (4500, 1700), (2500, 1700), (2500, 3200), (0, 3200)])


def floor_of(room: Room, rules: Rules = RULES) -> Polygon:
    parts = build_floor(room, rules).parts
    assert len(parts.geoms) == 1
    return parts.geoms[0]


def is_same(one: Polygon, other: Polygon) -> bool:
    return bool(one.symmetric_difference(other).area < 1.0)


def codes(floor: Floor) -> list[str]:
    return [finding.code for finding in floor.findings]


def test_a_rectangle_less_its_gap() -> None:
    assert is_same(floor_of(rectangle()), box(8, 8, 3992, 2992))


def test_every_wall_with_a_gap_of_its_own() -> None:
    gaps = (("A-B", 5.0), ("B-C", 10.0), ("C-D", 20.0))
    room = Room(rectangle().outline, edge_gaps=gaps)
    assert is_same(floor_of(room, Rules(gap_mm=8.0, trim_cover_mm=30.0)), box(8, 5, 3990, 2980))


def test_the_wall_is_the_same_whichever_way_round_it_is_listed() -> None:
    clockwise = Polygon([(0, 0), (0, 3000), (4000, 3000), (4000, 0)])  # A-B is the left wall
    room = Room(clockwise, edge_gaps=(("A-B", 15.0),))
    assert is_same(floor_of(room), box(15, 8, 3992, 2992))


def test_a_reflex_corner_is_mitered() -> None:
    # at D (2500, 1700) the gaps of C-D and D-E meet in the point (2500 - 8, 1700 - 8)
    expected = Polygon(
        [(8, 8), (4492, 8), (4492, 1692), (2492, 1692), (2492, 3192), (8, 3192)]
    )  # fmt: skip
    assert is_same(floor_of(Room(ELL)), expected)


def test_a_reflex_corner_between_two_gaps() -> None:
    # C-D keeps 20 and D-E 5: their lines meet in (2500 - 5, 1700 - 20)
    room = Room(ELL, edge_gaps=(("C-D", 20.0), ("D-E", 5.0)))
    expected = Polygon(
        [(8, 8), (4492, 8), (4492, 1680), (2495, 1680), (2495, 3192), (8, 3192)]
    )  # fmt: skip
    found = build_floor(room, RULES)
    assert is_same(found.parts.geoms[0], expected)
    assert [(f.code, f.where) for f in found.findings] == [("gap-uncovered", "C-D")]


def test_the_sharp_tip_of_a_wedge_is_cut_off() -> None:
    """A wall that stands out like a blade: the miter would reach 8 / sin(half its angle)."""
    tip = 12.0  # half the blade's thickness at its root, 600 deep: 8 / sin(atan 0.02) = 400
    outline = Polygon([(0, 0), (2000, 0), (2000, 1500), (1000 + tip, 1500), (1000, 900),
                       (1000 - tip, 1500), (0, 1500)])  # fmt: skip
    floor = floor_of(Room(outline))
    below = floor.intersection(LineString([(1000, 0), (1000, 900)]))
    reach = 900.0 - below.bounds[3]
    assert 8.0 <= reach <= 5.1 * 8.0  # the miter limit is five gaps


def test_a_sharp_tip_is_cut_off_alike_where_another_wall_has_a_gap_of_its_own() -> None:
    # the blade's own gaps are 8 as before; that wall A-B keeps 3 must not bring the floor nearer
    outline = Polygon([(0, 0), (2000, 0), (2000, 1500), (1012, 1500), (1000, 900), (988, 1500),
                       (0, 1500)])  # fmt: skip
    alike = floor_of(Room(outline)).intersection(LineString([(1000, 10), (1000, 900)]))
    own = floor_of(Room(outline, edge_gaps=(("A-B", 3.0),)))
    below = own.intersection(LineString([(1000, 10), (1000, 900)]))
    assert below.bounds == pytest.approx(alike.bounds, abs=1.5)  # which side of the limit
    assert own.distance(LineString([(1012, 1500), (1000, 900)])) >= 8.0 - 1e-6


def test_a_hole_is_a_wall_too() -> None:
    room = Room(
        Polygon(box(0, 0, 3000, 2000).exterior.coords, [box(1000, 800, 1400, 1100).exterior.coords])
    )
    expected = box(8, 8, 2992, 1992).difference(box(992, 792, 1408, 1108))
    assert is_same(floor_of(room), expected)
    # corners of a hole are 1A, 1B, … in the order of its ring: 1A-1B is named like a wall
    first = next(edge for edge in room.edges() if edge.name == "1A-1B")
    wide = Room(room.outline, edge_gaps=(("1A-1B", 14.0),))
    lost = floor_of(room).area - floor_of(wide).area
    # 6 more along that edge and past its two mitered corners: 6 x (length + 2 x 8)
    assert lost == pytest.approx(6.0 * (first.length_mm + 16.0), abs=0.5)


def test_a_post_is_cut_out_with_its_gap() -> None:
    post = FixedThing("post", box(1000, 1000, 1100, 1200), 10.0, "post")
    loose = FixedThing("drain", box(2000, 1000, 2100, 1100))  # no gap of its own: the rules'
    found = build_floor(Room(rectangle().outline, fixed=(post, loose)), RULES)
    holes = box(990, 990, 1110, 1210).union(box(1992, 992, 2108, 1108))
    assert is_same(found.parts.geoms[0], box(8, 8, 3992, 2992).difference(holes))
    assert [thing.gap_mm for thing in found.fixed] == [10.0, 8.0]


def test_a_pipe_gets_a_hole_of_its_diameter_and_two_gaps() -> None:
    ring = [
        (2000 + 25 * math.cos(math.tau * i / 64), 1500 + 25 * math.sin(math.tau * i / 64))
        for i in range(64)
    ]
    pipe = FixedThing("pipe", Polygon(ring), 10.0, "riser", (2000.0, 1500.0, 50.0))
    floor = floor_of(Room(rectangle().outline, fixed=(pipe,)))
    (hole,) = floor.interiors
    x0, y0, x1, y1 = hole.bounds
    # 50 + 2 x 10 = 70, a little more where the polygon's miters stand out
    assert x1 - x0 == pytest.approx(70.0, abs=0.2)
    assert y1 - y0 == pytest.approx(70.0, abs=0.2)
    assert Polygon(hole).area == pytest.approx(math.pi * 35.0**2, rel=0.01)


def test_a_hearth_at_the_wall_makes_a_notch() -> None:
    hearth = FixedThing("hearth", box(1000, -50, 2000, 500), 6.0)
    expected = box(8, 8, 3992, 2992).difference(box(994, 0, 2006, 506))
    assert is_same(floor_of(Room(rectangle().outline, fixed=(hearth,))), expected)


@pytest.mark.parametrize(
    ("undercut", "x0", "x1"),
    [
        (0.0, 1008.0, 1792.0),  # the gap at both jambs: 1000 + 8 and 1800 - 8
        (20.0, 988.0, 1812.0),  # 20 under each jamb less the gap behind it: 12 beyond the opening
        (5.0, 1000.0, 1800.0),  # less than the gap: to the jamb's face and no farther
    ],
)
def test_a_doorway_reaches_to_its_transition(undercut: float, x0: float, x1: float) -> None:
    # 60 to the transition's center line, less half its stem and its gap: 60 - 6 - 8 = 46
    doorway = Doorway("A-B", 1000.0, 800.0, depth_mm=60.0, stem_mm=12.0, undercut_mm=undercut)
    found = build_floor(Room(rectangle().outline, doorways=(doorway,)), RULES)
    expected = box(8, 8, 3992, 2992).union(box(x0, -46, x1, 9))
    assert is_same(found.parts.geoms[0], expected)
    assert len(found.recesses) == 1
    assert found.recesses[0].outline.bounds[1] == pytest.approx(-46.0)


def test_a_doorway_in_a_wall_with_a_wide_gap() -> None:
    # the recess begins inside the wall's own gap of 15 and keeps 5 at the transition: 60 - 6 - 5
    doorway = Doorway("C-D", 500.0, 900.0, depth_mm=60.0, stem_mm=12.0, gap_mm=5.0)
    room = Room(rectangle().outline, doorways=(doorway,), edge_gaps=(("C-D", 15.0),))
    # C-D runs from (4000, 3000) to the left: the opening lies from x 3500 down to 2600
    expected = box(8, 8, 3992, 2985).union(box(2605, 2984, 3495, 3049))
    assert is_same(floor_of(room), expected)


def test_a_doorway_whose_transition_lies_in_the_gap_adds_nothing() -> None:
    closed = Doorway("A-B", 1000.0, 800.0)
    assert build_floor(Room(rectangle().outline, doorways=(closed,)), RULES).recesses == ()


def test_a_doorway_that_leads_into_the_room_again_is_refused() -> None:
    # the wall round the hole is 100 thick, the transition said to lie 300 deep
    thin = Polygon(box(0, 0, 3000, 2000).exterior.coords, [box(1000, 900, 2000, 1000).exterior])
    long_edge = next(e for e in Room(thin).edges() if e.name[0] == "1" and e.length_mm > 500)
    doorway = Doorway(long_edge.name, 100.0, 800.0, depth_mm=300.0, name="to nowhere")
    with pytest.raises(RoomError, match="into the room again") as caught:
        build_floor(Room(thin, doorways=(doorway,)), RULES)
    assert caught.value.where == "to nowhere"


def test_a_floor_that_vanishes_and_one_that_parts() -> None:
    assert codes(build_floor(zoo()["vanishing"], RULES)) == ["floor-vanishes"]
    parted = build_floor(zoo()["parted"], RULES)
    assert codes(parted) == ["floor-split"]
    assert len(parted.parts.geoms) == 2
    assert "m²" in parted.findings[0].message


def test_gaps_wider_than_the_trim_are_said_of_each_wall_and_thing() -> None:
    post = FixedThing("post", box(1000, 1000, 1100, 1200), 30.0)
    named = FixedThing("post", box(2000, 1000, 2100, 1200), 16.0, "just covered")
    found = build_floor(Room(rectangle().outline, fixed=(post, named)), Rules(gap_mm=17.0))
    assert [f.where for f in found.findings] == ["A-B", "B-C", "C-D", "D-A", "post"]


def test_gaps_below_the_leaflets_least_one_are_said() -> None:
    # 8 planned, 6 at the least: wall A-B keeps 5, wall B-C 6, the pipe 3
    pipe = FixedThing("pipe", box(1000, 1000, 1020, 1020), 3.0, "drain")
    room = Room(rectangle().outline, edge_gaps=(("A-B", 5.0), ("B-C", 6.0)), fixed=(pipe,))
    told = build_floor(room, Rules(gap_mm=8.0, least_gap_mm=6.0)).findings
    assert [(f.code, f.where) for f in told] == [
        ("gap-too-small", "A-B"),
        ("gap-too-small", "drain"),
    ]
    assert build_floor(room, Rules(gap_mm=8.0)).findings == ()


@pytest.mark.parametrize("name", zoo())
def test_the_zoo_keeps_its_gaps_and_its_area_turned_or_mirrored(name: str) -> None:
    room = zoo()[name]
    floor = build_floor(room, RULES)
    assert floor.parts.is_valid
    assert floor.parts.area < room.outline.area
    least = min([8.0, *(gap for _, gap in room.edge_gaps)])
    recesses = [recess.outline.buffer(0.1) for recess in floor.recesses]
    inner = floor.parts
    for recess in recesses:
        inner = inner.difference(recess)
    if not inner.is_empty:
        assert inner.distance(room.outline.boundary) >= least - 0.02
    for thing, kept in zip(room.fixed, floor.fixed, strict=True):
        assert inner.distance(thing.outline) >= kept.gap_mm - 1e-6
    for moved in (turned(room, 77.7), mirrored(room)):
        again = build_floor(moved, RULES)
        # coordinates of a room seven kilometers away have a step of 1e-9 of their own
        assert again.parts.area == pytest.approx(floor.parts.area, abs=0.1)
        assert len(again.parts.geoms) == len(floor.parts.geoms)
        assert codes(again) == codes(floor)


def test_no_gap_leaves_the_outline() -> None:
    room = Room(ELL)
    assert inset(room, 0.0).equals(ELL)
    assert grow(box(0, 0, 10, 10), 0.0).equals(box(0, 0, 10, 10))
    assert grow(box(0, 0, 10, 10), 5.0).equals(box(-5, -5, 15, 15))


# --- setbacks, jambs, panels, breaks -----------------------------------------------------------


def test_a_transition_is_kept_off_by_half_its_stem_and_its_gap() -> None:
    # 90 deep to the middle of the transition, stem 12, gap 8: the floor goes 90 - 6 - 8 = 76 out
    door = Doorway("B-C", 1000.0, 800.0, depth_mm=90.0, stem_mm=12.0)
    floor = build_floor(replace(rectangle(), doorways=(door,)), Rules(gap_mm=8.0))
    assert floor.parts.bounds[2] == pytest.approx(4000.0 + 76.0)
    # and keeps the gap off both jambs: 800 - 16
    beyond = floor.parts.intersection(box(4001, 0, 5000, 3000)).bounds
    assert beyond[3] - beyond[1] == pytest.approx(784.0)


def test_under_a_jamb_the_floor_keeps_the_gap_behind_it() -> None:
    door = Doorway("B-C", 1000.0, 800.0, depth_mm=90.0, undercut_mm=25.0, undercut_height_mm=11.0)
    floor = build_floor(replace(rectangle(), doorways=(door,)), Rules(gap_mm=8.0))
    beyond = floor.parts.intersection(box(4001, 0, 5000, 3000)).bounds
    # 25 under each jamb less the gap of 8 behind it
    assert (beyond[1], beyond[3]) == pytest.approx((1000.0 - 17.0, 1800.0 + 17.0))
    assert [over.kind for over in floor.overhangs] == ["jamb", "jamb"]
    assert sorted(over.outline.bounds[1] for over in floor.overhangs) == [983.0, 1800.0]
    assert {over.clearance_mm for over in floor.overhangs} == {11.0}


def test_a_panel_is_floor_with_joints_on_its_edges() -> None:
    panel = FixedThing("panel", box(1000, 1000, 1600, 1500), name="clean-out")
    floor = build_floor(replace(rectangle(), fixed=(panel,)), Rules())
    assert floor.findings == ()
    assert sorted(round(part.area) for part in floor.parts.geoms)[0] == 597 * 497
    # only the saw's width is no floor
    assert floor.parts.area == pytest.approx(3984.0 * 2984.0 - (600 * 500 - 597 * 497))


def test_the_floor_runs_under_radiators_and_toe_kicks() -> None:
    radiator = FixedThing("radiator", box(0, 1000, 120, 2000), clearance_mm=110.0, name="radiator")
    plain = build_floor(rectangle(), Rules())
    floor = build_floor(replace(rectangle(), fixed=(radiator,)), Rules())
    assert floor.parts.equals(plain.parts)
    assert (floor.fixed, [over.name for over in floor.overhangs]) == ((), ["radiator"])


def test_an_expansion_break_parts_the_floor_by_stem_and_two_gaps() -> None:
    line = Break((2000.0, 0.0), (2000.0, 3000.0), stem_mm=10.0)
    floor = build_floor(replace(rectangle(), breaks=(line,)), Rules(gap_mm=8.0))
    assert len(floor.parts.geoms) == 2
    assert floor.findings == ()
    # 8 to the wall, then to 2000 - 5 - 8
    assert sorted(round(part.bounds[0]) for part in floor.parts.geoms) == [8, 2013]
    assert sorted(round(part.bounds[2]) for part in floor.parts.geoms) == [1987, 3992]
