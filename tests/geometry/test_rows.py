"""Rows, stretches and contacts of floors that can be drawn on squared paper."""

import pytest
import shapely
from shapely import MultiPolygon, Polygon, box

from plankwright.geometry.floor import build_floor
from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import Contact, Stretch, contacts, cut_rows
from plankwright.model.rules import Rules
from plankwright.testing.zoo import zoo

# A floor of 2000 x 450 in rows 200 wide: 200 + 200 + 50.
PLAIN = box(0, 0, 2000, 450)


def rows_of(floor: Polygon | MultiPolygon, start_line: float = 0.0) -> list[Stretch]:
    parts = floor if isinstance(floor, MultiPolygon) else MultiPolygon([floor])
    return cut_rows(parts, 200.0, start_line)


def extents(stretches: list[Stretch]) -> list[tuple[int, int, float, float]]:
    return [(s.row, s.number, s.u0, s.u1) for s in stretches]


def test_rows_of_a_rectangle() -> None:
    found = rows_of(PLAIN)
    assert extents(found) == [(1, 1, 0, 2000), (2, 1, 0, 2000), (3, 1, 0, 2000)]
    assert [s.polygon.bounds[3] - s.polygon.bounds[1] for s in found] == [200, 200, 50]
    assert all(s.is_rectangle for s in found)
    assert (found[2].wall_line, found[2].room_line) == (400.0, 600.0)
    assert contacts(found) == [Contact(0, 1, 0, 2000), Contact(1, 2, 0, 2000)]


def test_a_start_line_before_the_floor_narrows_row_one() -> None:
    # row 1 covers v -150 to 50: 50 of it is floor, then 200 + 200
    found = rows_of(PLAIN, -150.0)
    assert [s.polygon.bounds[3] - s.polygon.bounds[1] for s in found] == [50, 200, 200]


def test_a_post_parts_a_row_in_two_stretches() -> None:
    # the post stands across row 2 and reaches 20 into row 1 and row 3
    found = rows_of(PLAIN.difference(box(900, 180, 1000, 420)))
    assert extents(found) == [
        (1, 1, 0, 2000), (2, 1, 0, 900), (2, 2, 1000, 2000), (3, 1, 0, 2000),
    ]  # fmt: skip
    assert [s.is_rectangle for s in found] == [False, True, True, False]
    # it stands on both row lines, so each contact stops at it and goes on behind it
    assert contacts(found) == [
        Contact(0, 1, 0, 900), Contact(0, 2, 1000, 2000), Contact(1, 3, 0, 900),
        Contact(2, 3, 1000, 2000),
    ]  # fmt: skip


def test_a_post_on_a_row_line_parts_the_contact_not_the_stretches() -> None:
    found = rows_of(PLAIN.difference(box(900, 180, 1000, 220)))
    assert [s.number for s in found] == [1, 1, 1]
    assert contacts(found)[:2] == [Contact(0, 1, 0, 900), Contact(0, 1, 1000, 2000)]


def test_a_post_within_a_row_leaves_both() -> None:
    found = rows_of(PLAIN.difference(box(900, 220, 1000, 380)))
    assert [s.number for s in found] == [1, 1, 1]
    assert contacts(found) == [Contact(0, 1, 0, 2000), Contact(1, 2, 0, 2000)]


def test_a_jog_ends_a_contact() -> None:
    # from u = 1200 on the floor is only one row deep
    ell = PLAIN.difference(box(1200, 200, 2000, 450))
    found = rows_of(ell)
    assert extents(found) == [(1, 1, 0, 2000), (2, 1, 0, 1200), (3, 1, 0, 1200)]
    assert contacts(found) == [Contact(0, 1, 0, 1200), Contact(1, 2, 0, 1200)]


def test_two_stretches_side_by_side_touch_one() -> None:
    u = PLAIN.difference(box(800, 200, 1300, 450))
    assert contacts(rows_of(u))[:2] == [Contact(0, 1, 0, 800), Contact(0, 2, 1300, 2000)]


def test_a_slanted_wall_gives_stretches_that_are_no_rectangles() -> None:
    # the near wall leans 100 over 400: row 1 begins at 0 and 50, row 2 at 50 and 100
    found = rows_of(Polygon([(0, 0), (2000, 0), (2000, 400), (100, 400)]))
    assert extents(found) == [(1, 1, 0, 2000), (2, 1, 50, 2000)]
    assert not any(s.is_rectangle for s in found)
    assert contacts(found) == [Contact(0, 1, 50, 2000)]


def test_several_floors_share_the_row_lines() -> None:
    two = MultiPolygon([box(1000, 100, 2000, 300), box(0, 0, 800, 200)])
    found = rows_of(two)
    assert extents(found) == [(1, 1, 0, 800), (1, 2, 1000, 2000), (2, 1, 1000, 2000)]
    assert contacts(found) == [Contact(1, 2, 1000, 2000)]


def test_scraps_are_no_floor_and_no_phantom_rows() -> None:
    noisy = PLAIN.union(box(500, 450, 1500, 600.3))  # 0.3 mm beyond the third row line
    assert max(s.row for s in rows_of(noisy)) == 3
    assert rows_of(MultiPolygon()) == []
    # a floor that ends on a row line, but for float noise, gives no further row
    assert len(rows_of(box(0, 0, 2000, 400 + 1e-9))) == 2


@pytest.mark.parametrize("name", zoo())
@pytest.mark.parametrize("angle", [0.0, 17.3])
def test_the_zoo_cut_into_rows_is_still_the_floor(name: str, angle: float) -> None:
    floor = build_floor(zoo()[name], Rules()).parts
    seen = Frame(angle, "left-to-right").to_plan_grid(floor)
    start = seen.bounds[1] - 40.0 if not seen.is_empty else 0.0
    found = cut_rows(seen, 192.0, start)
    area = sum(stretch.polygon.area for stretch in found)
    assert area == pytest.approx(seen.area, abs=0.5 * seen.length + 1.0)  # scraps left out
    for stretch in found:
        _, v0, _, v1 = stretch.polygon.bounds
        assert stretch.wall_line - 1e-6 <= v0 < v1 <= stretch.room_line + 1e-6
        assert stretch.polygon.is_valid
        assert stretch.slabs()
    for contact in contacts(found):
        low, high = found[contact.wall_side], found[contact.room_side]
        assert high.row == low.row + 1
        assert contact.u0 < contact.u1
        line = shapely.LineString(
            [(contact.u0 + 0.01, low.room_line), (contact.u1 - 0.01, low.room_line)]
        )
        assert seen.buffer(0.01).covers(line)
