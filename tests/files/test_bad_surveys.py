"""Surveys typed badly: refused with place and remedy, or a finding one understands when tired."""

import pytest

from plankwright.application.measure_room import measure_room
from plankwright.application.measured_room import MeasuredRoom
from plankwright.errors import InputError
from plankwright.files.survey_file import read_survey_job

GOOD = "walls = { A-B = 4200, B-C = 3600, C-D = 4195, D-A = 3605 }"
BOTH = "diagonals = { A-C = 5530, B-D = 5533 }"
SQUARE = 'angles = "square"'


def room(*lines: str, unit: str = "mm") -> str:
    return "\n".join([f'[job]\nunit = "{unit}"\n[room]', *lines])


# name, text, and what the message must say
REFUSED: list[tuple[str, str, tuple[str, ...]]] = [
    ("a corner named twice", room('corners = ["A", "B", "C", "B"]', GOOD), ("B is named twice",)),
    ("a wall to itself",
     room('corners = ["A", "B", "C", "D"]', "walls = { A-A = 4200, B-C = 3600 }"),
     ("two different points", "A-A")),
    ("lengths that cannot close",
     room("walls = { A-B = 14200, B-C = 3600, C-D = 4195, D-A = 3605 }"),
     ("A-B cannot be 14200 mm", "the way round by A-D, D-C, C-B is only 11400 mm", "again")),
    ("feet for meters, one wall, nothing to tell it by",
     room("walls = { A-B = 13.8, B-C = 3.6, C-D = 4.195, D-A = 3.605 }", unit="m"),
     ("A-B cannot be 13.800 m", "measured in feet?")),
    ("feet for meters, all",
     room("walls = { A-B = 138, B-C = 118, C-D = 138, D-A = 118 }", unit="m"),
     ("no tape reaches", "unit")),
    ("a negative length", room("walls = { A-B = -4200, B-C = 3600, C-D = 4195 }"), ("negative",)),
    ("a length of nothing", room("walls = { A-B = 0, B-C = 3600, C-D = 4195, D-A = 3605 }"),
     ("at least 1 mm", "A-B")),
    ("a comma that can be read in two ways",
     room('walls = { A-B = "4,200", B-C = 3600, C-D = 4195, D-A = 3605 }'),
     ("two ways", "A-B", "4,200")),
    ("words for a length", room('walls = { A-B = "about 4 m", B-C = 3600, C-D = 4195 }'),
     ("cannot read this as a length", "A-B", "about 4 m")),
    ("not a number", room("walls = { A-B = nan, B-C = 3600, C-D = 4195, D-A = 3605 }"),
     ("finite", "A-B")),
    ("a diagonal among the walls",
     room("walls = { A-B = 4200, A-C = 5530, B-C = 3600, C-D = 4195, D-A = 3605 }"),
     ("A-C is no wall", "under diagonals")),
    ("a corner that is not there",
     room('corners = ["A", "B", "C", "D"]', GOOD, "diagonals = { A-E = 5530 }"),
     ("no corner E", "Known here: A, B, C, D")),
    ("corners named as one pleases, without their order",
     room("walls = { door-window = 4200, window-stove = 3600, stove-door = 4195 }"),
     ("not named A, B, C", "corners =")),
    ("fewer walls than corners",
     room('corners = ["A", "B", "C", "D"]', "walls = [4200, 3600, 4195]"),
     ("3 walls for 4 corners", "unknown")),
    ("two corners", room("walls = { A-B = 4200 }"), ("three corners",)),
    ("no walls", room(SQUARE), ("nothing was measured", "walls =")),
    ("no room", '[job]\nunit = "mm"', ("[room] is missing",)),
    ("walls as a number", room("walls = 4200"), ("lengths by name",)),
    ("a misspelled key", room(GOOD, "diagonal = { A-C = 5530 }"), ("diagonal", "diagonals")),
    ("a misspelled angle", room(GOOD, 'angles = { A = "sqare" }'), ("angle", "sqare", "square")),
    ("a belief about everything that is no belief",
     room(GOOD, 'angles = "fine"'), ("fine", "square")),
    ("an angle of 400 degrees", room(GOOD, "angles = { A = 400 }"), ("355", "400")),
    ("angles of no room", room(GOOD, "angles = { A = 120, B = 120, C = 120, D = 120 }"),
     ("4 corners make 360 degrees", "unknown")),
    ("five square corners", room("walls = [4200, 3600, 2000, 2000, 3000]", SQUARE),
     ("5 corners make 540 degrees",)),
    ("an angle at no corner", room(GOOD, 'angles = { E = "square" }'), ("no corner E",)),
    ("an offset beyond the wall",
     room(GOOD, "string_lines = { A-B = { offsets = [[5200, 10]] } }"),
     ("5200 mm along a wall of 4200 mm",)),
    ("an offset that is no pair", room(GOOD, "string_lines = { A-B = { offsets = [1200] } }"),
     ("pairs [along, gap]",)),
    ("a string along no wall", room(GOOD, "string_lines = { A-C = { offsets = [[1200, 5]] } }"),
     ("A-C is no wall",)),
    ("a post tied to one corner", room(GOOD, SQUARE, "ties = { post = { A = 2100 } }"),
     ("post is not placed", "one more corner")),
    ("ties that do not meet", room(GOOD, SQUARE, "ties = { post = { A = 1100, C = 1200 } }"),
     ("post cannot be 1100 mm from A and 1200 mm from C", "apart", "too short")),
    ("walls and diagonals confused",
     room("walls = { A-B = 4200, B-C = 5530, C-D = 4195, D-A = 5532 }",
          "diagonals = { A-C = 3600, B-D = 3605 }"),
     ("walls cross", "B-C and D-A", "order of the corners")),
    ("a tape that never errs", room(GOOD, "tape = { sd = 0 }"), ("above 0",)),
    ("an order that is none", room(GOOD, 'order = "left"'), ("clockwise or anticlockwise",)),
    ("a unit nobody knows", room(GOOD, unit="yards"), ("unknown unit", "yards")),
]  # fmt: skip

# name, text, finding and what its message and remedy must say
FOUND: list[tuple[str, str, str, tuple[str, ...]]] = [
    ("a wall missing", room("walls = { A-B = 4200, B-C = 3600, D-A = 3605 }", SQUARE),
     "survey-wall-missing", ("wall C-D was not measured", "make it 4200 mm", "Measure C-D")),
    ("nothing but walls", room(GOOD), "survey-assumed",
     ("A, B, C and D", "taken as square", "may be out by", "Measure A-C")),
    ("walls that hide behind each other",
     room('walls = [5000, "?", 2000, "?", 3000, 4500]', SQUARE),
     "survey-unknown", ("how long B-C and D-E are", "guesses", "Measure")),
    ("a diagonal longer than the room", room(GOOD, "diagonals = { A-C = 9100 }", SQUARE),
     "survey-blunder", ("A-C is probably", "too long", "9100 mm was written", "Measure A-C again")),
    ("square walls that cannot close",
     room("walls = { A-B = 6200, B-C = 3600, C-D = 4195, D-A = 3605 }", SQUARE),
     "survey-blunder", ("A-B", "C-D", "does not fit")),
    ("feet for meters, one wall of a room well measured",
     room("walls = { A-B = 4.2, B-C = 11.81, C-D = 4.195, D-A = 3.605 }",
          "diagonals = { A-C = 5.53, B-D = 5.533 }", SQUARE, unit="m"),
     "survey-blunder", ("B-C", "3.600 m fits, 11.810 m was written", "measured in feet")),
    ("centimeters for millimeters",
     room("walls = { A-B = 420, B-C = 360, C-D = 419, D-A = 361 }", SQUARE),
     "survey-unit", ("420 mm by 361 mm", "unit")),
    ("one wall in centimeters",
     room("walls = { A-B = 420, B-C = 3600, C-D = 4195, D-A = 3605 }", BOTH, SQUARE),
     "survey-blunder", ("A-B", "4200 mm fits, 420 mm was written", "centimeters")),
    ("swapped digits",
     room("walls = { A-B = 4200, B-C = 6300, C-D = 4195, D-A = 3605 }", BOTH, SQUARE),
     "survey-blunder", ("B-C is probably 2700 mm too long", "digits were swapped")),
    ("the wrong foot",
     room("walls = [\"14' 2\", \"11' 9 3/4\", \"13' 1 1/2\", \"11' 10\"]",
          "diagonals = { A-C = \"18' 5 1/4\", B-D = \"18' 5\" }", SQUARE, unit="ft"),
     "survey-blunder",
     ("C-D is probably 1' too short: 14' 1 1/2\" fits, 13' 1 1/2\" was written", "wrong foot")),
    ("one wall read twice, differently",
     room("walls = { A-B = [4200, 4250], B-C = 3600, C-D = 4195, D-A = 3605 }",
          "diagonals = { A-C = 5530 }", SQUARE),
     "survey-blunder", ("A-B was read more than once", "once more")),
    ("a corner believed square that is not",
     room("walls = { A-B = 4000, B-C = 3600, C-D = 3500, D-A = 3635 }",
          "diagonals = { A-C = 5382, B-D = 5021 }", 'angles = { D = "square" }'),
     "survey-belief", ("corner D was believed to have 90 degrees", "drawn as measured")),
    ("a post outside the room", room(GOOD, SQUARE, "ties = { post = { A = 9100, B = 9050 } }"),
     "survey-point", ("post comes to lie outside", "from which corners")),
    ("walls and diagonals confused, corners believed square",
     room("walls = { A-B = 4200, B-C = 5530, C-D = 4195, D-A = 5532 }",
          "diagonals = { A-C = 3600, B-D = 3605 }", SQUARE),
     "survey-blunder", ("B-D is probably", "too short", "Measure B-D again")),
    ("a post in two places", room(GOOD, BOTH, "ties = { post = { A = 2600, C = 3300 } }"),
     "survey-point", ("post could be in two places", "one more corner")),
]  # fmt: skip


@pytest.mark.parametrize(("name", "text", "words"), REFUSED, ids=[case[0] for case in REFUSED])
def test_refused(name: str, text: str, words: tuple[str, ...]) -> None:
    with pytest.raises(InputError) as caught:
        _measure(text)
    message = str(caught.value)
    for word in words:
        assert word in message, name
    assert caught.value.where, name


@pytest.mark.parametrize(("name", "text", "code", "words"), FOUND, ids=[case[0] for case in FOUND])
def test_found(name: str, text: str, code: str, words: tuple[str, ...]) -> None:
    findings = [f for f in _measure(text).findings if f.code == code]
    assert findings, name
    told = f"{findings[0].message} {findings[0].remedy}"
    for word in words:
        assert word in told, name


def test_there_are_thirty_and_more() -> None:
    assert len(REFUSED) + len(FOUND) >= 30


def _measure(text: str) -> MeasuredRoom:
    job = read_survey_job(text, "job.toml")
    return measure_room(job.survey, job.rules, unit=job.unit)
