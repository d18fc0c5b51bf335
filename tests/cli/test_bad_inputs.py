"""Bad input: a message with place, value and remedy, exit code 2, no traceback, at once."""

import json
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from math import nan
from pathlib import Path

import pytest

import plankwright.application.plan_room
import plankwright.cli.overrides  # both loaded before the clock runs  # noqa: F401
from plankwright.cli.app import run

SQUARE = "[room]\noutline = [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]\n"
Writer = Callable[[Path], object]


def geo(coordinates: object, **top: object) -> str:
    geometry = {"type": "Polygon", "coordinates": coordinates}
    return json.dumps({"type": "Feature", "id": "den", "geometry": geometry, **top})


def sparse(size: int) -> Writer:
    def write(path: Path) -> None:
        with path.open("wb") as file:
            file.truncate(size)

    return write


@dataclass(frozen=True)
class Bad:
    """A bad input: what stands in which file, what is typed, what must be said."""

    name: str
    file: str
    content: str | bytes | Writer | None
    where: str
    words: str
    value: str | None = None
    options: list[str] = field(default_factory=list)
    command: str = "plan"


def job(name: str, text: str, where: str, words: str, value: str | None = None) -> Bad:
    return Bad(name, "job.toml", SQUARE + text, where, words, value)


def room(name: str, outline: str, where: str, words: str, value: str | None = None) -> Bad:
    return Bad(name, "job.toml", f"[room]\noutline = {outline}\n", where, words, value)


def option(name: str, options: list[str], where: str, words: str, value: str | None = None) -> Bad:
    return Bad(name, "job.toml", SQUARE, where, words, value, options)


def outline(name: str, text: str | bytes | Writer, where: str, words: str) -> Bad:
    return Bad(name, "den.geojson", text, where, words)


RING = [[0, 0], [4, 0], [4, 3], [0, 3]]

FILES = [
    Bad("missing file", "den.toml", None, "den.toml", "no such file"),
    Bad("a folder", "den.toml", Path.mkdir, "den.toml", "not a file"),
    Bad("unknown ending", "den.docx", "", "den.docx", "not a kind of file", ".docx"),
    Bad("no ending", "den", "", "den", "not a kind of file"),
    outline("wrong JSON", '{"type": ', "den.geojson", "not valid JSON"),
    outline("empty file", "", "den.geojson", "not valid JSON"),
    outline("a list at the top", "[]", "den.geojson", "expected a JSON object"),
    outline("deep nesting", "[" * 200_000, "den.geojson", "nested too deeply"),
    outline("not text", b"\xff\xfe\x00\x01", "den.geojson", "not a text file in UTF-8"),
    outline("50 MB", sparse(50_000_000), "den.geojson", "too large: 50.0 MB, 20 MB"),
    outline(
        "100,000 corners",
        geo([[[i, i % 7] for i in range(100_000)]]),
        "den.geojson: den",
        "more than 5000 corners",
    ),
    Bad(
        "corners", "job.toml", "[room]\noutline = [" + "[1,2]," * 6000 + "]", "outline", "5000 corn"
    ),
    Bad("more corners", "job.toml", "a = [" + "[1,2]," * 100_000 + "]", "job.toml", "too large"),
    Bad("50 MB job", "job.toml", sparse(50_000_000), "job.toml", "too large"),
    Bad("wrong TOML", "job.toml", "[room\n", "job.toml", "not valid TOML"),
    Bad("no drawing at all", "den.dxf", "hello", "den.dxf", "not a DXF file"),
    Bad("a missing drawing", "den.dxf", None, "den.dxf", "no such file"),
    outline("a plan file", '{"format": "plankwright-plan"}', "den.geojson", "this is a plan file"),
    outline("a point", '{"type": "Point"}', "den.geojson: type", "not a GeoJSON room"),
    outline("no rooms", '{"type": "FeatureCollection", "features": []}', "den.geojson", "no poly"),
]

OUTLINES = [
    room(
        "self-crossing",
        "[[0,0],[4000,0],[0,3000],[4000,3000]]",
        "room: outline",
        "crosses or touches",
    ),
    outline(
        "hole outside", geo([RING, [[9, 9], [9.5, 9], [9.5, 9.5]]]), "den: outline", "Hole lies out"
    ),
    outline("NaN", geo([[[0, 0], [nan, 0], [4, 3]]]), "den.geojson", "NaN is not a number"),
    outline("text", geo([[[0, 0], ["4", 0], [4, 3]]]), "den.geojson: den", "corner #2 is not two"),
    outline("two corners", geo([[[0, 0], [4, 0]]]), "den", "three different corners"),
    outline("mm read as meters", geo([[[0, 0], [4000, 0], [0, 3000]]]), "den", "kilometer"),
    outline("meters read as mm", geo([RING], unit="mm"), "den", "encloses almost nothing"),
    outline("unknown unit", geo([RING], unit="furlong"), "den.geojson: unit", "unknown unit"),
    outline("far away", geo([[[9e9, 0], [9e9 + 4, 0], [9e9, 3]]]), "den", "lies too far"),
    room("NaN in a job", "[[0, 0], [nan, 0], [1, 1]]", "room.outline #2", "finite", "nan"),
    room("infinite", "[[0, 0], [inf, 0], [1, 1]]", "room.outline #2", "finite", "inf"),
    room("three lengths", "[[0, 0, 0]]", "room.outline #1", "two lengths", "[0, 0, 0]"),
    room("not a list", '"square"', "room.outline", "expected a list", "square"),
    room("two ways", '[[0, 0], ["3,740", 0]]', "outline #2", "read in two ways", "3,740"),
    room("14 inches", '[[0, 0], ["12\' 14\\"", 0]]', "outline #2", "more than one ft"),
    room("a unit nobody has", '[[0, 0], ["3 yards", 0]]', "outline #2", "unknown unit", "3 yards"),
    Bad("no room", "job.toml", "[job]\n", "job.toml: room", "this is missing"),
    Bad("no walls", "job.toml", "[room]\n", "room.outline", "the room has no walls yet"),
]

FIELDS = [
    job("unknown key", "[board]\nlenght = 1", "job.toml: board", "Did you mean 'length'", "lenght"),
    job("unknown table", "[rulse]\n", "job.toml", "Did you mean 'rules'", "rulse"),
    job("unknown unit of the job", "[job]\nunit = 'yd'", "job.unit", "unknown unit", "yd"),
    job("negative", "[board]\nlength = -1\nwidth = 9", "board.length", "negative", "-1"),
    job("zero", "[board]\nlength = 1285\nwidth = 0", "board.width", "must be from 10", "0"),
    job("absurd", "[board]\nlength = '1 km'\nwidth = 9", "board.length", "unknown unit", "1 km"),
    job("too long", "[board]\nlength = 1e9\nwidth = 9", "board.length", "kilometer", "1000000"),
    job("wider than long", "[board]\nlength = 100\nwidth = 192", "board.width", "wider than it is"),
    job("half a board", "[board]\nlength = 1285", "board", "give length and width"),
    job("no pack", "[board]\nper_pack = 0", "board.per_pack", "from 1 to 1000", "0"),
    job("words for a number", "[board]\nper_pack = 'x'", "board.per_pack", "valid integer", "x"),
    job("unknown lock", "[board]\nend_lock = 'magnet'", "board.end_lock", "'drop'", "magnet"),
    job(
        "gap eats the room",
        "[rules]\ngap = 1600",
        "job.toml: rules.gap",
        "leave no floor",
        "1600 mm",
    ),
    job("no gap", "[rules]\ngap = true", "rules.gap", "not a length", "True"),
    job("piece longer than a board", "[rules]\nshortest_piece = 1300", "shortest_piece", "longer"),
    job("offset over half", "[rules]\njoint_offset = 700", "rules.joint_offset", "half a board"),
    job("row wider than a board", "[rules]\nnarrowest_row = 200", "narrowest_row", "board's width"),
    job("unknown wall", "[laying]\nrow_angle = 'A-Q'", "laying.row_angle", "no such wall", "A-Q"),
    job("unknown start", "[laying]\nstart_wall = 'Q'", "start_wall", "no such wall", "Q"),
    job("unknown direction", "[laying]\nlaid = 'up'", "laying.laid", "'left-to-right'", "up"),
    job("gap at no wall", "[room.gaps]\nA-Q = 9", "room: gaps", "no such wall", "A-Q"),
    job("unknown kind", "[[room.fixed]]\nkind = 'cat'", "room.fixed #1.kind", "'post'", "cat"),
    job("no size", "[[room.fixed]]\nkind='post'\nat=[9,9]", "fixed #1", "size, diameter or outl"),
    job("no place", "[[room.fixed]]\nkind='post'\ndiameter=9", "fixed #1", "no place"),
    job(
        "no extent",
        "[[room.fixed]]\nkind='post'\nat=[9,9]\nsize=[0,9]",
        "room: fixed #1: size",
        "above 0",
    ),
    job(
        "crossed post",
        "[[room.fixed]]\nkind='post'\noutline=[[0,0],[9,0],[0,9],[9,9]]",
        "fixed #1",
        "crosses or touches",
    ),
    job(
        "door wider than its wall",
        "[[room.door]]\nwall='B-C'\nfrom_corner=0\nwidth=3100",
        "room: door #1.width",
        "its wall, which is 3000 mm long",
        "3100 mm",
    ),
    job(
        "door in no wall",
        "[[room.door]]\nwall='B-Q'\nfrom_corner=0\nwidth=800",
        "room: door #1.wall",
        "no such wall",
        "B-Q",
    ),
    job(
        "door without width",
        "[[room.door]]\nwall='B-C'\nfrom_corner=0\nwidth=0",
        "doorway in B-C",
        "width above 0",
        "0 mm",
    ),
]

OPTIONS = [
    option("no size of board", ["--board", "big"], "--board", "expected two lengths", "big"),
    Bad(
        "board wider than the room",
        "hall.toml",
        "[room]\noutline = [[0, 0], [4000, 0], [4000, 180], [0, 180]]\n",
        "hall.toml: board.width",
        "wider than the room, which is 180 mm across",
        "192 mm",
    ),
    option("negative gap", ["--gap=-8"], "--gap", "negative", "-8"),
    option("ambiguous shortest", ["--shortest", "1,285"], "--shortest", "two ways", "1,285"),
    option("unknown unit", ["--unit", "yd"], "--unit", "unknown unit", "yd"),
    option("unknown lock", ["--lock", "handy"], "--lock", "Did you mean 'handed'", "handy"),
    option("unknown way", ["--laid", "left-to-rite"], "--laid", "mean 'left-to-right'"),
    option("unknown angle", ["--row-angle", "uphill"], "--row-angle", "not a row angle", "uphill"),
    option("absurd angle", ["--row-angle", "1e9"], "row_angle", "360 degrees", "1000000000.0"),
    option("no width", ["--first-row", "0"], "first_row", "width above 0", "0.0"),
    option("negative time", ["--time=-1"], "--time", "0 to 86400 seconds", "-1.0"),
    option("no pack", ["--per-pack", "0"], "board.per_pack", "from 1 to 1000", "0"),
    option("out is a file", ["--out", "job.toml"], "--out job.toml", "no such folder"),
    Bad("unknown room", "a.json", geo([RING]), "feature", "'den'", "dem", ["--feature", "dem"]),
    Bad(
        "several rooms",
        "a.geojson",
        json.dumps({"type": "FeatureCollection", "features": [json.loads(geo([RING]))] * 2}),
        "a.geojson",
        "2 rooms in this file",
    ),
    Bad("check: missing file", "plan.json", None, "plan.json", "no such file", command="check"),
    Bad("check: no plan", "plan.json", "{}", "plan.json", "plan", command="check"),
    Bad("check: wrong JSON", "plan.json", "{", "plan.json", "JSON", command="check"),
]  # fmt: skip

CASES = FILES + OUTLINES + FIELDS + OPTIONS


def write(path: Path, content: str | bytes | Writer | None) -> None:
    if isinstance(content, str):
        path.write_text(content, encoding="utf-8")
    elif isinstance(content, bytes):
        path.write_bytes(content)
    elif content is not None:
        content(path)


@pytest.mark.parametrize("bad", CASES, ids=[bad.name for bad in CASES])
def test_is_refused_with_place_value_and_remedy(
    bad: Bad, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    write(tmp_path / bad.file, bad.content)
    monkeypatch.chdir(tmp_path)
    argv = ["plankwright", bad.command, bad.file, *bad.options, "--json"]
    monkeypatch.setattr(sys, "argv", argv)
    begin = time.perf_counter()
    with pytest.raises(SystemExit) as leaving:
        run()
    seconds = time.perf_counter() - begin
    out, err = capsys.readouterr()
    error = json.loads(out)["error"]
    assert leaving.value.code == 2
    assert bad.words in str(err).replace("\n", " ")
    assert "Traceback" not in err
    assert bad.where in error["where"]
    assert error["message"]
    assert error["remedy"]
    assert bad.value is None or bad.value in str(error["value"])
    assert seconds < 2.0  # what the person was promised; the slowest takes a tenth of that
