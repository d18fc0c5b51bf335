"""Inch and foot marks, and mixed numbers that do not break."""

import pytest

from plankwright.paper.typography import set_all, set_figures


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ('147 5/8"', "147\u202f5/8″"),
        ("12' 3 5/8\"", "12′ 3\u202f5/8″"),
        ("12'", "12′"),
        ('a "Den" and 3/8"', 'a "Den" and 3/8"'),
        ("the owner's 12 boards", "the owner's 12 boards"),
        ("2 1/2024", "2 1/2024"),
        ("300 mm", "300 mm"),
    ],
)
def test_lengths_get_true_marks_and_words_keep_theirs(typed: str, wanted: str) -> None:
    assert set_figures(typed) == wanted


def test_drawings_are_left_alone() -> None:
    assert set_all({"a": ('3"', 2), "svg": '<svg width="3">'}) == {
        "a": ["3″", 2], "svg": '<svg width="3">'
    }  # fmt: skip
