"""Room that letters take, and overlaps found."""

import pytest

from plankwright.drawing.lettering import (
    carpenter_figure,
    overlapping_texts,
    text_box,
    text_width_mm,
)
from plankwright.drawing.scene import Text


@pytest.mark.parametrize(
    ("plain", "set_out"),
    [
        ("12' 3 5/8\"", "12′ 3⁵⁄₈″"),
        ('15/16"', "¹⁵⁄₁₆″"),
        ('147"', "147″"),
        ("428 mm", "428 mm"),
        ("sheet 3 of 4", "sheet 3 of 4"),
        ("24/11/2026", "24/11/2026"),  # a date is no fraction
    ],
)
def test_carpenter_figure(plain: str, set_out: str) -> None:
    assert carpenter_figure(plain) == set_out


def test_a_level_box_is_as_wide_as_its_letters() -> None:
    box = text_box(Text((10.0, 20.0), "428", 5.0))
    # three figures of 0.64 em; capitals are 0.73 em high; no descender
    assert box.bounds == pytest.approx((10.0, 20.0 - 3.65, 10.0 + 9.6, 20.0))


def test_anchor_and_level_move_the_box() -> None:
    box = text_box(Text((10.0, 20.0), "428", 5.0, anchor="middle", level="middle"))
    assert box.centroid.coords[0] == pytest.approx((10.0, 20.0))
    box = text_box(Text((10.0, 20.0), "428", 5.0, anchor="end", level="top"))
    assert box.bounds == pytest.approx((10.0 - 9.6, 20.0, 10.0, 23.65))


def test_a_turned_box_reads_up_the_page() -> None:
    box = text_box(Text((10.0, 20.0), "428", 5.0, angle_deg=90.0))
    assert box.bounds == pytest.approx((10.0 - 3.65, 20.0 - 9.6, 10.0, 20.0))


def test_bold_letters_are_wider() -> None:
    assert text_width_mm("row", 4.0, bold=True) > text_width_mm("row", 4.0)


def test_overlaps_are_found_and_named() -> None:
    a, b = Text((0.0, 0.0), "12", 3.6), Text((3.0, 1.0), "13", 3.6)
    far = Text((30.0, 0.0), "14", 3.6)
    assert list(overlapping_texts([a, b, far])) == [(a, b)]
    beside = Text((4.7, 0.0), "13", 3.6)  # 12 ends at 4.61
    assert list(overlapping_texts([a, beside])) == []
    assert list(overlapping_texts([a, beside], clear_mm=0.5)) == [(a, beside)]
