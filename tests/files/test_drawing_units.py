"""The unit of a drawing, weighed by hand."""

import pytest

from plankwright.errors import FileError
from plankwright.files.drawing_units import Evidence, likeliest, settle
from plankwright.files.room_names import SizeLabel
from plankwright.units import Unit


@pytest.mark.parametrize(
    ("radius", "unit"), [(800, "mm"), (80, "cm"), (0.8, "m"), (30, "in"), (2.5, "ft")]
)
def test_doors_alone(radius: float, unit: Unit) -> None:
    # 30 in = 762 mm = 2.5 ft: each is a door in one unit only.
    evidence = Evidence(doors=(radius,) * 3)
    assert likeliest(evidence) == unit
    assert [u for u in ("mm", "cm", "m", "in", "ft") if evidence.fitting_doors(u)] == [unit]


def test_the_header_breaks_a_tie() -> None:
    rooms = (500.0 * 400.0,)  # 5 x 4 m in centimeters, 12.7 x 10.2 m in inches
    assert likeliest(Evidence(code=5, rooms=rooms)) == "cm"
    assert likeliest(Evidence(code=1, rooms=rooms)) == "in"


def test_labels_count_either_way_round_and_within_the_inch() -> None:
    label = SizeLabel("13'8 x 14'", 4165.6, 4267.2, (0.0, 0.0))
    assert Evidence(labels=((label, (168.0, 164.0)),)).fitting_labels("in") == 1
    assert Evidence(labels=((label, (168.0, 164.0)),)).fitting_labels("cm") == 0
    assert Evidence(labels=((label, (168.0, 120.0)),)).fitting_labels("in") == 0


def test_one_door_is_no_evidence() -> None:
    assert Evidence(code=5, doors=(800.0,)).score("mm") == 0.0


def test_the_doubt_says_what_the_header_would_make_of_a_door() -> None:
    unit, (finding,) = settle(Evidence(code=4, doors=(30.0,) * 4, feet=6), "a.dxf", None)
    assert unit == "in"
    assert finding.code == "import-unit"
    assert "a door would then be 30 mm wide" in finding.message
    assert "4 of 4 door swings" in finding.message
    assert "6 dimensions are written in feet and inches" in finding.message


def test_nothing_to_go_by() -> None:
    with pytest.raises(FileError, match="--unit"):
        settle(Evidence(), "a.dxf", None)
    unit, _ = settle(Evidence(), "a.dxf", "ft")
    assert unit == "ft"
