"""A room computed from the tape survey in its job file."""

import math

import pytest

from plankwright.errors import InputError
from plankwright.files.job import read_job

# 4000 x 3000 mm: the diagonal is 5000 (3-4-5); the post's middle 1500 right and 2000 up of A is
# sqrt(1500² + 2000²) = 2500 from A and sqrt(2500² + 2000²) = 3201.56 from B.
SURVEY = """
[room]
walls = { A-B = 4000, B-C = 3000, C-D = 4000, D-A = 3000 }
diagonals = { A-C = 5000, B-D = 5000 }
angles = "square"
ties = { column = { A = 2500, B = 3201.562 } }
gaps = { B-A = 12 }
[[room.fixed]]
kind = "post"
tie = "column"
size = [100, 200]
[[room.door]]
wall = "C-B"
from_corner = 500
width = 800
[board]
length = 1285
width = 192
"""


def test_walls_and_ties_make_the_room() -> None:
    job = read_job(SURVEY, "job.toml")
    assert job.survey is not None
    assert job.room.outline.area == pytest.approx(12e6, rel=1e-6)
    (post,) = job.room.fixed
    assert post.outline.bounds == pytest.approx((1450, 1900, 1550, 2100), abs=0.01)
    assert job.room.edge_gaps == (("A-B", 12.0),)
    (door,) = job.room.doorways
    # 500 from C on a wall of 3000: 3000 - 500 - 800 from B
    assert door.edge == "B-C"
    assert door.from_corner_mm == pytest.approx(1700.0, abs=0.01)
    # nothing checks the two ties, and that is said
    assert [finding.code for finding in job.findings] == ["survey-unchecked"]


def test_a_bowed_wall_is_several_edges_under_one_name() -> None:
    line = "[room.string_lines.A-B]\noffsets = [[2000, 10]]\n"
    text = SURVEY.replace("[[room.fixed]]", line + "[[room.fixed]]")
    text = text.replace('wall = "C-B"\nfrom_corner = 500', 'wall = "A-B"\nfrom_corner = 2600')
    room = read_job(text, "job.toml").room
    # A, the bow's point 10 mm outside, B, C, D: A-B of the survey is A-B and B-C of the outline
    assert room.edge_gaps == (("A-B", 12.0), ("B-C", 12.0))
    (door,) = room.doorways
    half = math.hypot(2000, 10)
    assert door.edge == "B-C"
    assert door.from_corner_mm == pytest.approx(2600 - half, abs=0.01)


@pytest.mark.parametrize(
    ("old", "new", "where", "words"),
    [
        ("[room]", "[room]\noutline = [[0, 0], [1, 0], [0, 1]]", "room", "both an outline and"),
        ('tie = "column"', 'tie = "colum"', "fixed #1: tie", "Did you mean 'column'"),
        ("A-B = 4000, ", "A-B = 400, ", "room", ""),
        ('wall = "C-B"', 'wall = "C-A"', "room: door #1.wall", "no such wall"),
        ("from_corner = 500", "from_corner = 2500", "room: door #1.width", "beyond its wall"),
    ],
)
def test_says_what_is_wrong(old: str, new: str, where: str, words: str) -> None:
    text = SURVEY.replace(old, new)
    assert text != SURVEY
    if words:
        with pytest.raises(InputError, match=words) as caught:
            read_job(text, "job.toml")
        assert where in caught.value.where
    else:
        assert "survey-blunder" in [finding.code for finding in read_job(text, "j").findings]


def test_an_unknown_room_is_not_planned() -> None:
    with pytest.raises(InputError, match="not known yet") as caught:
        read_job('[room]\nwalls = [4000, 3000, 1000, "?", "?", "?"]', "job.toml")
    assert caught.value.remedy


def test_no_board_is_a_finding() -> None:
    text = SURVEY.partition("[board]")[0]
    assert "assumed-board" in [finding.code for finding in read_job(text, "job.toml").findings]
