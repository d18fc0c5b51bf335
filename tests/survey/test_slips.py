"""Slips of tape and pencil, recognized."""

import pytest

from plankwright.survey.slips import recognize_slip
from plankwright.units import Unit, parse_length


@pytest.mark.parametrize(
    ("written", "meant", "unit", "word"),
    [
        ("4.41", "4.31", "m", "wrong ten"),
        ("4410", "4140", "mm", "swapped"),
        ("6300", "3600", "mm", "swapped"),
        ("174", "147", "in", "swapped"),
        ("13' 1 1/2\"", "14' 1 1/2\"", "ft", "wrong foot"),
        ("9' 11\"", "11' 9\"", "ft", "feet and inches were swapped"),
        ("148 5/8", "147 5/8", "in", "whole inch"),
        ("5.20", "4.20", "m", "whole meter"),
        ("11.81", "3.60", "m", "measured in feet"),
        ("420", "4200", "mm", "measured in centimeters"),
        ("4711", "4117", "mm", ""),  # nothing usual
        ("4790", "4190", "mm", "a 1 was read as a 7"),
        ("3640", "3710", "mm", "case of the tape"),
    ],
)
def test_slips(written: str, meant: str, unit: Unit, word: str) -> None:
    written_mm, meant_mm = (float(parse_length(text, unit)) for text in (written, meant))
    slip = recognize_slip(written_mm, meant_mm + 1.0, 4.0, unit)
    if not word:
        assert slip is None
        return
    assert slip is not None
    assert word in slip.reason
    assert slip.meant_mm == pytest.approx(meant_mm, abs=4.0)


def test_no_slip_where_all_is_well_or_nothing_is_known() -> None:
    assert recognize_slip(4200.0, 4203.0, 4.0, "mm") is None
    assert recognize_slip(4200.0, 4300.0, 60.0, "mm") is None
