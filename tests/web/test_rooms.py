"""Drawings brought in through the page: rooms to take, or a plain word; never anything else."""

import tempfile
import time
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.files.dxf_maker import dxf_text, rectangle
from tests.files.hostile_files import Hostile, hostile_files
from tests.files.ifc_maker import small_model

from plankwright.files import reader_process
from plankwright.web import guard

OVER = ("done", "failed", "stopped")
HOSTILE = ("noise", "wrong-ending", "xml-bomb", "json-bomb", "ifc-rings", "self-containing")
ONE_EACH = [one for one in hostile_files(seed=5, each=1) if one.name.startswith(HOSTILE)]
TWO_ROOMS = """{"type": "FeatureCollection", "unit": "m", "features": [
{"type": "Feature", "id": "Hall", "geometry": {"type": "Polygon", "coordinates":
 [[[0, 0], [2, 0], [2, 1.5], [0, 1.5], [0, 0]]]}},
{"type": "Feature", "id": "Nook", "geometry": {"type": "Polygon", "coordinates":
 [[[3, 0], [4, 0], [4, 1], [3, 1], [3, 0]]]}}]}"""


def found_in(client: httpx.Client, name: str, content: bytes, **asked: str) -> dict[str, Any]:
    """The result of a file, or what refused it."""
    answer = client.post("/api/rooms", params={"name": name, **asked}, content=content)
    if answer.status_code != 202:
        return dict(answer.json())
    path = f"/api/work/{answer.json()['id']}"
    end = time.monotonic() + 60.0
    while (stands := client.get(path).json())["state"] not in OVER:
        assert time.monotonic() < end, stands
        time.sleep(0.05)
    if stands["state"] == "done":
        return dict(client.get(f"{path}/result").json())
    return {"error": stands["error"]}


def two_rectangles(space: Any) -> None:
    rectangle(space, 0, 0, 4000, 3000, "ROOMS")
    rectangle(space, 5000, 0, 2000, 1500, "ROOMS")


@pytest.mark.parametrize(
    ("name", "content", "areas", "unit"),
    [
        ("house.dxf", dxf_text(two_rectangles).encode(), ["12.0 m²", "3.0 m²"], "mm"),
        ("house.IFC", small_model().encode(), ["12.0 m²"], "mm"),
        ("flat.geojson", TWO_ROOMS.encode(), ["3.0 m²", "1.0 m²"], "m"),
    ],
)
def test_rooms_of_each_kind_can_be_taken(
    client: httpx.Client, name: str, content: bytes, areas: list[str], unit: str
) -> None:
    found = found_in(client, name, content)
    assert [room["area"] for room in found["rooms"]] == areas
    assert (found["unit"], found["left"]) == (unit, 0)
    first = found["rooms"][0]
    assert len(first["outline"][0]) == 8  # four corners
    job = client.post("/api/jobs", json={"document": first["document"]})
    assert job.status_code == 201
    seen = client.post("/api/measure", json={"document": job.json()["document"]}).json()
    assert seen["refusal"] is None
    assert seen["room"]["area"] == first["area"]
    assert len(seen["room"]["doors"]) == first["doors"]
    assert len(seen["room"]["fixed"]) == first["fixed"]


def test_the_unit_and_the_layer_can_be_said(client: httpx.Client) -> None:
    content = dxf_text(lambda space: rectangle(space, 0, 0, 160, 120, "ROOMS"), insunits=0).encode()
    inches = found_in(client, "a.dxf", content, unit="in", layer="ROOMS")
    assert inches["unit"] == "in"
    assert inches["rooms"][0]["size"] == '160" × 120"'
    told = found_in(client, "a.dxf", content, unit="in", told_in="m")
    assert told["rooms"][0]["size"] == "4.064 × 3.048 m"
    wrong = found_in(client, "a.dxf", content, layer="WALLZ")
    assert "WALLZ" in wrong["error"]["message"] + str(wrong["error"]["value"])
    assert "--" not in str(wrong)


@pytest.mark.parametrize("one", ONE_EACH, ids=lambda one: one.name)
def test_hostile_files_are_refused_in_plain_words(
    client: httpx.Client, one: Hostile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    told = str(found_in(client, one.name, one.content))
    assert "Traceback" not in told
    assert str(tmp_path) not in told  # where it lay meanwhile is nobody's business
    assert "defect" not in told
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", ["photo.png", "job.toml", "dxf", "", "a.dxf/../b.exe"])
def test_other_kinds_are_refused_at_once(client: httpx.Client, name: str) -> None:
    error = found_in(client, name, b"x")["error"]
    assert error["remedy"]


def test_a_name_is_only_ever_text(client: httpx.Client) -> None:
    error = found_in(client, "../../etc/<b>plan</b>'; DROP TABLE job;--.dxf", b"no drawing")[
        "error"
    ]
    assert error["where"].startswith("b>'; DROP TABLE job;--.dxf")
    assert found_in(client, "x" * 3000 + ".dxf", b"x")["error"]["where"] == "query.name"


def test_an_empty_file_and_files_too_large(
    client: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "empty" in found_in(client, "a.dxf", b"")["error"]["message"]
    outlines = found_in(client, "a.geojson", b" " * 20_000_001)["error"]
    assert "too large: 20.0 MB" in outlines["message"]
    monkeypatch.setattr(guard, "LARGEST_DRAWING_BYTES", 9)
    answer = client.post("/api/rooms?name=a.ifc", content=b"0123456789")
    assert answer.status_code == 413


def test_reading_has_an_end(client: httpx.Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reader_process, "LONGEST_S", 0.05)
    error = found_in(client, "house.dxf", dxf_text(two_rectangles).encode())["error"]
    assert "and was stopped" in error["message"]
    assert error["where"] == "house.dxf"


def test_reading_can_be_stopped(client: httpx.Client) -> None:
    content = dxf_text(two_rectangles).encode()
    work = client.post("/api/rooms", params={"name": "a.dxf"}, content=content).json()["id"]
    client.delete(f"/api/work/{work}")
    end = time.monotonic() + 20.0
    while (stands := client.get(f"/api/work/{work}").json())["state"] not in OVER:
        assert time.monotonic() < end
        time.sleep(0.02)
    assert stands["state"] in ("stopped", "failed")
