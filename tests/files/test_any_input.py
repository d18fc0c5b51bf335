"""Whatever stands in a file, it is read or refused as bad input: nothing else ever comes out."""

import json
from importlib import resources
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import InputError
from plankwright.files.geojson import read_rooms
from plankwright.files.job import read_job
from plankwright.files.source import parse_json

DEMO = resources.files("plankwright").joinpath("data", "demo_room.toml").read_text("utf-8")
LINES = DEMO.splitlines()
VALUED = [i for i, line in enumerate(LINES) if "=" in line.partition("#")[0]]
JUNK = [
    "nan", "-inf", "0", "-1", "1e308", "1e-308", "true", "[]", "{}", '""', "[[]]", "[0, 0]",
    '"A-B"', '"A-"', '"-"', '"3,740"', "'''12' 14\"'''", '"0/0"', "1979-05-27", "07:32:00",
    "99999999999999999999999999", "[[0, 0], [0, 0], [0, 0]]", '{ A = "1", A-B = "2" }', '"\\u0000"',
    "{ A-B = {} }", "{ A-B = [] }", "{ A-B = [1, 2, 3] }", '{ Q-Q = "3" }', '"auto"', "[true]",
    "{ a = { b = { c = 1 } } }", '"9" ', "[[1, 2], [3]]", '"½"', "0x10", "1_000",
]  # fmt: skip

law = settings(derandomize=True, deadline=None, max_examples=150)


def test_the_untouched_file_is_read() -> None:
    assert len(VALUED) > 25
    assert read_job(DEMO, "job.toml").name


@pytest.mark.parametrize("junk", JUNK)
def test_junk_in_the_place_of_any_value(junk: str) -> None:
    for i in VALUED:
        lines = [*LINES]
        lines[i] = lines[i].partition("=")[0] + "= " + junk
        read_or_refuse("\n".join(lines))


@law
@given(st.data())
def test_lines_lost_doubled_or_swapped(data: st.DataObject) -> None:
    lines = [*LINES]
    for _ in range(data.draw(st.integers(1, 3))):
        i, j = (data.draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        match data.draw(st.sampled_from(["lose", "double", "swap", "cut"])):
            case "lose":
                lines[i] = ""
            case "double":
                lines[i] = lines[i] + "\n" + lines[i]
            case "swap":
                lines[i], lines[j] = lines[j], lines[i]
            case _:
                lines[i] = lines[i][: len(lines[i]) // 2]
    read_or_refuse("\n".join(lines))


numbers = st.one_of(
    st.floats(allow_nan=False, allow_infinity=False), st.integers(), st.integers(-9, 9)
)
values = st.recursive(
    st.one_of(st.none(), st.booleans(), numbers, st.text(max_size=4)),
    lambda inner: st.lists(inner, max_size=6),
    max_leaves=24,
)
rings = st.lists(st.lists(st.lists(numbers, min_size=2, max_size=2), max_size=7), max_size=2)


@law
@given(st.sampled_from(["Polygon", "MultiPolygon", "Point"]), st.one_of(rings, values), values)
def test_any_coordinates(kind: str, coordinates: Any, unit: Any) -> None:
    geometry = {"type": kind, "coordinates": coordinates}
    data = {"type": "Feature", "id": unit, "properties": unit, "geometry": geometry}
    if unit:
        data["unit"] = unit
    try:
        rooms = list(read_rooms(parse_json(json.dumps(data), "f"), "f"))
    except InputError as refused:
        told = str(refused)
        assert told.startswith("f")
        return
    assert all(room.outline.area > 0 for room in rooms)


def read_or_refuse(text: str) -> None:
    """A job, or a refusal that names the file."""
    try:
        job = read_job(text, "job.toml")
    except InputError as refused:
        place = refused.where
    else:
        place = "job.toml" if job.room.outline.area > 0 else ""
    assert place.startswith("job.toml")
