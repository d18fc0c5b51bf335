"""The survey in the room table of a job file, as a person would say it."""

import tomllib

import pytest

from plankwright.errors import InputError
from plankwright.files.job_survey import read_survey
from plankwright.files.survey_file import read_survey_job
from plankwright.model.survey import BelievedAngle, Distance, StringLine, Survey, Tape, WallDistance
from plankwright.units import Unit


def read(text: str, unit: Unit = "mm") -> Survey:
    survey = read_survey(tomllib.loads(text), unit)
    assert survey is not None
    return survey


def test_everything_at_once() -> None:
    survey = read(
        """
        order = "clockwise"
        walls = { A-B = "14' 2", B-C = "11' 9 3/4", D-A = 142, C-D = "4.3 m" }
        diagonals = { A-C = ["18' 5 1/4", "18' 5 3/8"] }
        angles = { A = "square", B = 135, C = "unknown" }
        tape = { sd = "1/16", sd_per_m = 0.5 }
        [string_lines.A-B]
        block = "3/4"
        offsets = [["4'", "1/2"], ["8'", 1]]
        [ties]
        post = { A = 100, B-C = "5'" }
        """,
        "in",
    )
    inch = 25.4
    assert survey.corners == ("A", "B", "C", "D")
    assert survey.clockwise
    assert survey.distances[0] == Distance("A", "B", 170 * inch)
    assert survey.distances[3] == Distance("C", "D", 4300.0)
    assert survey.distances[4].length_mm == pytest.approx(221.25 * inch)
    assert survey.distances[5].length_mm == pytest.approx(221.375 * inch)
    assert survey.distances[6] == Distance("A", "post", 100 * inch)
    assert survey.wall_distances == (WallDistance("post", "B", "C", 60 * inch),)
    assert survey.angles == (BelievedAngle("A", 90.0), BelievedAngle("B", 135.0))
    assert survey.tape == Tape(inch / 16, 0.5)
    (line,) = survey.string_lines
    assert line == StringLine("A", "B", ((1219.2, 12.7), (2438.4, 25.4)), 19.05)


def test_walls_in_order_with_a_gap() -> None:
    survey = read('walls = [4200, 3600, "unknown", 3605]\nangles = "square"')
    assert [d.name for d in survey.distances] == ["A-B", "B-C", "D-A"]
    assert len(survey.angles) == 4


@pytest.mark.parametrize("name", ["A-C", "C-A", "AC", "A to C", "A – C", "A/C"])
def test_ways_to_write_a_pair(name: str) -> None:
    survey = read(f'walls = [4200, 3600, 4195, 3605]\ndiagonals = {{ "{name}" = 5530 }}')
    assert survey.distances[-1].pair == {"A", "C"}


def test_own_names_with_their_order() -> None:
    survey = read(
        'corners = ["door", "window", "stove"]\n'
        "walls = { window-door = 4200, window-stove = 3600, stove-door = 4195 }"
    )
    assert survey.corners == ("door", "window", "stove")


def test_no_survey_is_none() -> None:
    assert read_survey({"outline": [[0, 0], [1, 0], [1, 1]], "name": "room"}, "mm") is None


def test_other_keys_of_the_room_are_not_ours() -> None:
    text = '[room]\nname = "den"\nwalls = [4200, 3600, 4195, 3605]\nfixed = []\n[rules]\ngap = 10\n'
    job = read_survey_job(text, "job.toml", name="job")
    assert job.rules.gap_mm == 10.0
    assert job.name == "job"
    with pytest.raises(InputError, match="wals"):
        read_survey_job("[room]\nwals = [1, 2, 3]", "job.toml")
