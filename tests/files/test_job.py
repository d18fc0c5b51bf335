"""The job file."""

import math
from importlib import resources
from pathlib import Path

import pytest

from plankwright.errors import InputError
from plankwright.files.job import JobFile, JobTable, open_job, read_job
from plankwright.files.job_board import BoardTable, LayingTable, RulesTable
from plankwright.files.job_door import DoorTable
from plankwright.files.job_fixed import FixedTable
from plankwright.files.job_room import RoomTable
from plankwright.files.table import Table
from plankwright.model.board import Board
from plankwright.model.rules import Rules

ROOM = "[room]\noutline = [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]\n"


def refused(text: str) -> InputError:
    with pytest.raises(InputError) as caught:
        read_job(text, "job.toml")
    assert caught.value.where.startswith("job.toml")
    return caught.value


def test_a_room_is_enough() -> None:
    job = read_job(ROOM, "job.toml", name="den")
    assert job.room.outline.area == 12e6
    assert (job.board, job.rules, job.unit) == (Board(1285, 192), Rules(), "mm")
    assert (job.name, job.room.name) == ("den", "den")


def test_every_table_in_the_unit_of_the_job() -> None:
    job = read_job(
        """
        [job]
        name = "Den"
        unit = "inches"
        [room]
        outline = [[0, 0], ["13' 4\\"", 0], [160, "10 ft"], [0, "3.048 m"]]
        gaps = {"B-A" = "1/2"}
        [[room.fixed]]
        kind = "pipe"
        at = [20, 30]
        diameter = "4"
        gap = "1/2"
        [[room.fixed]]
        kind = "post"
        name = "old post"
        at = [80, 60]
        size = [4, 4]
        [[room.door]]
        wall = "B-C"
        from_corner = 10
        width = "30"
        depth = "2"
        [board]
        length = 48
        width = "7 1/2"
        per_pack = 10
        lock = "reversible"
        [rules]
        gap = "3/8"
        least_gap = "1/4"
        shortest_piece = "1'"
        [laying]
        row_angle = "A-B"
        first_row = "6"
        laid = "right-to-left"
        """,
        "job.toml",
    )
    assert job.unit == "in"
    # 160 in x 120 in
    assert job.room.outline.area == pytest.approx(160 * 120 * 25.4**2)
    assert job.room.edge_gaps == (("A-B", 12.7),)
    assert job.board == Board(1219.2, 190.5, 10, reversible=True)
    assert job.rules == Rules(gap_mm=9.525, shortest_piece_mm=304.8, least_gap_mm=6.35)
    assert (job.wishes.row_wall, job.wishes.first_row_mm) == ("A-B", 152.4)
    pipe, post = job.room.fixed
    assert pipe.circle == (508.0, 762.0, 101.6)
    assert pipe.gap_mm == 12.7
    assert post.outline.area == pytest.approx((4 * 25.4) ** 2)
    assert job.room.doorways[0].width_mm == 762.0


def test_a_round_thing_is_drawn_round_not_inside_its_circle() -> None:
    text = ROOM + '[[room.fixed]]\nkind = "pipe"\nat = [500, 500]\ndiameter = 100\n'
    outline = read_job(text, "job.toml").room.fixed[0].outline
    middles = [
        math.dist((500, 500), ((x0 + x1) / 2, (y0 + y1) / 2))
        for (x0, y0), (x1, y1) in zip(
            outline.exterior.coords, outline.exterior.coords[1:], strict=False
        )
    ]
    assert min(middles) == pytest.approx(50.0)


def test_a_thing_can_stand_askew() -> None:
    text = ROOM + '[[room.fixed]]\nkind = "post"\nat = [500, 500]\nsize = [100, 50]\nturned = 90\n'
    # turned a quarter about its first corner: x from 450 to 500, y from 500 to 600
    assert read_job(text, "job.toml").room.fixed[0].outline.bounds == pytest.approx(
        (450, 500, 500, 600)
    )


def test_a_door_may_be_measured_from_either_corner() -> None:
    door = '[[room.door]]\nwall = "{}"\nfrom_corner = {}\nwidth = 800\n'
    # the wall B-C is 3000 long: 500 from B is 3000 - 800 - 500 = 1700 from C
    forth = read_job(ROOM + door.format("B-C", 500), "job.toml").room.doorways
    back = read_job(ROOM + door.format("C-B", 1700), "job.toml").room.doorways
    assert forth == back


@pytest.mark.parametrize(
    ("text", "where", "words"),
    [
        ("[room", "job.toml", "not valid TOML"),
        ("", "job.toml: room", "this is missing"),
        ("room = 3", "job.toml: room", "expected a table"),
        ("[room]", "job.toml: room.outline", "the room has no walls yet"),
        ("[room]\noutline = 3", "room.outline", "expected a list"),
        ("[room]\noutline = [[0, 0], [1, 2, 3]]", "room.outline #2", "expected two lengths"),
        ("[room]\noutline = [[0, 0], [nan, 2]]", "room.outline #2", "not a finite number"),
        ('[room]\noutline = [[0, 0], ["3,740", 2]]', "room.outline #2", "read in two ways"),
        (ROOM + "[job]\nunit = 'yards'", "job.unit", "unknown unit"),
        (ROOM + "[board]\nlenght = 3", "job.toml: board", "Did you mean 'length'"),
        (ROOM + "[rulse]\ngap = 3", "job.toml", "Did you mean 'rules'"),
        (ROOM + "[board]\nlength = 1000", "board", "give length and width"),
        (ROOM + "[board]\nlength = -3\nwidth = 100", "board.length", "cannot be negative"),
        (ROOM + "[board]\nlength = 0\nwidth = 100", "board.length", "must be from 50"),
        (
            ROOM + "[board]\nlength = 9999\nwidth = 3500",
            "board.width",
            "must be from 10 mm to 2000 mm",
        ),
        (ROOM + "[board]\nper_pack = 'eight'", "board.per_pack", "valid integer"),
        (ROOM + "[board]\nper_pack = 0", "board.per_pack", "from 1 to 1000"),
        (ROOM + "[board]\nend_lock = 'magnet'", "board.end_lock", "not one of the words"),
        (ROOM + "[rules]\ngap = '2 km'", "rules.gap", "unknown unit"),
        (ROOM + "[laying]\nrow_angle = 'uphill'", "laying.row_angle", "not a row angle"),
        (ROOM + "[laying]\nrow_angle = 'A-F'", "laying", "no such wall"),
        (ROOM + "[laying]\nlaid = 'upwards'", "laying.laid", "'left-to-right'"),
        (ROOM + "[room.gaps]\nA-Z = 3", "room: gaps", "no such wall"),
        (ROOM + "[[room.fixed]]\nkind = 'piano'", "room.fixed #1.kind", "'post'"),
        (ROOM + "[[room.fixed]]\nkind = 'post'", "room: fixed #1", "needs one of size"),
        (ROOM + "[[room.fixed]]\nkind='post'\nsize=[9, 9]", "room: fixed #1", "no place"),
        (
            ROOM + "[[room.fixed]]\nkind='post'\nat=[9, 9]\nsize=[0, 9]",
            "room: fixed #1: size",
            "above 0",
        ),
        (
            ROOM + "[[room.door]]\nwall='B-C'\nfrom_corner=0\nwidth=3100",
            "room: door #1.width",
            "its wall, which is 3000 mm long",
        ),
        (
            ROOM + "[[room.door]]\nwall='C-B'\nfrom_corner=9\nwidth=3100",
            "room: door #1.width",
            "beyond its wall",
        ),
        (ROOM + "[[room.door]]\nwall='B-C'\nwidth=800", "room.door #1.from_corner", "missing"),
    ],
)
def test_says_what_is_wrong_and_where(text: str, where: str, words: str) -> None:
    error = refused(text)
    assert where in error.where
    assert words in str(error)


TAPE = """[job]
unit = "in"
[room]
walls = { A-B = 200, B-C = 100, C-D = 200, D-A = 100 }
angles = "square"
"""


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("[[room.door]]\nwall='A-B'\nfrom_corner=190\nwidth=32", 'which is 200" long here (got'),
        ("[room.gaps]\nA-B = 90", '0 to 39 3/8" (got 90")'),  # 1000 / 25.4 = 39.37
        ("[[room.break]]\nfrom=[9,0]\nto=[9,100]\nstem=20", '0.1 mm to 7 7/8"'),
        ("[room.string_lines.A-B]\noffsets=[[300, 1]]", 'lies 300" along a wall of 200"'),
        ("[board]\nwidth = 50\nlength = 400", 'from 1 15/16" to 393 11/16"'),
        ("[board]\nwidth = 101\nlength = 120", 'from 3/8" to 78 3/4"'),
        ("[rules]\nkerf = 500", 'from 0 to 393 11/16"'),
        ("[rules]\nshortest_piece = 80", 'longer than a board, which is 50 9/16"'),
    ],
)
def test_what_is_refused_is_told_in_the_unit_of_the_job(more: str, words: str) -> None:
    error = refused(TAPE + more)
    assert words in str(error)
    assert " mm " not in str(error).replace("0.1 mm", "")
    assert words in str(error.at("elsewhere"))


def test_a_board_wider_than_the_room_is_refused() -> None:
    text = "[room]\noutline = [[0, 0], [4000, 0], [4000, 150], [0, 150]]\n"
    assert "wider than the room, which is 150 mm across" in str(refused(text))


def test_every_field_is_documented() -> None:
    models: list[type[Table]] = [JobFile, JobTable, RoomTable, FixedTable, DoorTable]
    models += [BoardTable, RulesTable, LayingTable]
    for model in models:
        for name, field in model.model_fields.items():
            assert isinstance(field.json_schema_extra, dict), name
            assert field.json_schema_extra["source"], name
            assert (field.description or "").endswith("."), name


def test_the_demo_room_can_be_read() -> None:
    with resources.as_file(resources.files("plankwright") / "data" / "demo_room.toml") as path:
        job = open_job(Path(path))
    assert job.unit == "in"
    assert [thing.kind for thing in job.room.fixed] == ["post", "stair"]
    # about 12 x 17 ft: 204 sq ft
    assert 200 < job.room.outline.area / 304.8**2 < 215
