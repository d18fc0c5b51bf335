"""Bare wall lines by hand: what encloses a room, what is closed, what stays open."""

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from plankwright.files.tangle import is_tangle
from plankwright.files.wall_lines import enclose


def line(*points: tuple[float, float]) -> LineString:
    return LineString(points)


BOX = line((0, 0), (4000, 0), (4000, 3000), (0, 3000), (0, 0))


def test_a_closed_box() -> None:
    (room,) = enclose([BOX]).rooms
    assert room.equals(shapely.box(0, 0, 4000, 3000))


def test_lines_that_cross_beyond_their_corners() -> None:
    # Overshoots of 100 mm are no walls.
    lines = [
        line((-100, 0), (4100, 0)),
        line((4000, -100), (4000, 3100)),
        line((4100, 3000), (-100, 3000)),
        line((0, 3100), (0, -100)),
    ]
    (room,) = enclose(lines).rooms
    assert room.equals(shapely.box(0, 0, 4000, 3000))
    assert len(room.exterior.coords) == 5


def test_a_partition_makes_two_rooms_and_a_stub_makes_none() -> None:
    assert len(enclose([BOX, line((2000, 0), (2000, 3000))]).rooms) == 2
    (room,) = enclose([BOX, line((2000, 0), (2000, 1500))]).rooms
    assert room.area == 12e6


def test_a_partition_stopped_50_mm_short_is_closed_and_said() -> None:
    found = enclose([BOX, line((2000, 0), (2000, 2950))])
    assert len(found.rooms) == 2
    (closing,) = found.closings
    assert closing.is_slip
    assert closing.gap_mm == 50.0


def test_a_door_in_line_is_closed_a_hall_is_not() -> None:
    def parted(gap: float, *door: LineString) -> int:
        walls = [BOX, line((2000, 0), (2000, 500)), line((2000, 500 + gap), (2000, 3000))]
        return len(enclose(walls, door).rooms)

    assert parted(900) == 2
    assert parted(2000) == 1
    # With a door or window drawn in it, it is an opening all the same.
    assert parted(2000, line((2000, 1500), (1200, 1500))) == 2


def test_a_wall_between_both_ends_keeps_them_apart() -> None:
    walls = [BOX, line((2000, 0), (2000, 1000)), line((2000, 1900), (2000, 3000))]
    across = line((0, 1450), (4000, 1450))
    rooms = enclose([*walls, across]).rooms
    assert len(rooms) in (2, 4)
    assert sum(room.area for room in rooms) == 12e6


def test_the_inside_of_a_wall_is_no_room() -> None:
    outer = line((-200, -200), (4200, -200), (4200, 3200), (-200, 3200), (-200, -200))
    (room,) = enclose([BOX, outer]).rooms
    assert room.area == 12e6


def test_a_post_in_the_room_is_a_hole() -> None:
    post = line((1000, 1000), (1300, 1000), (1300, 1300), (1000, 1300), (1000, 1000))
    (room,) = enclose([BOX, post]).rooms
    assert len(room.interiors) == 1
    assert room.area == 12e6 - 300 * 300


def test_nothing_and_a_tangle() -> None:
    assert enclose([]).rooms == ()
    fan = [line((0, i), (5000, 5000 - i)) for i in range(0, 5000, 20)]
    assert is_tangle(fan)
    assert enclose(fan).rooms == ()
    assert not is_tangle([BOX] * 3)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    cuts=st.lists(st.integers(5, 35), min_size=0, max_size=4, unique=True),
    turn=st.floats(0, 90),
)
def test_partitions_anywhere_at_any_angle_keep_the_floor(cuts: list[int], turn: float) -> None:
    """Full partitions a meter or more apart part a box of 4 x 3 m without losing any of it."""
    kept = [cut for i, cut in enumerate(sorted(cuts)) if i == 0 or cut - sorted(cuts)[i - 1] >= 5]
    lines = [BOX, *(line((100 * cut, 0), (100 * cut, 3000)) for cut in kept)]
    turned = [shapely.affinity.rotate(one, turn, origin=(0, 0)) for one in lines]
    rooms = enclose(turned).rooms
    assert len(rooms) == len(kept) + 1
    assert abs(sum(room.area for room in rooms) - 12e6) < 12e6 * 1e-3
    whole = shapely.affinity.rotate(Polygon(BOX.coords), turn, origin=(0, 0))
    assert shapely.union_all(rooms).symmetric_difference(whole).area < 12e6 * 1e-3
