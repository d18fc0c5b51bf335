"""``plankwright rooms`` and planning straight from a drawing."""

import json
import sys
from pathlib import Path
from typing import Any

import pytest
from tests.files.dxf_maker import rectangle, write_dxf

from plankwright.cli import app

QUICK = ("--time", "0", "--board", "1285 mm x 192 mm")


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


@pytest.fixture
def flat(tmp_path: Path) -> Path:
    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 2000, 1500, "ROOMS")
        rectangle(space, 2100, 0, 1800, 1500, "ROOMS")
        space.add_text("BATH").set_placement((500, 500))

    return write_dxf(tmp_path / "flat.dxf", draw)


def test_the_list_the_picture_and_geojson(
    flat: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    out = tmp_path / "out"
    assert run(monkeypatch, "rooms", flat, "--out", out) == 0
    told = capsys.readouterr()
    assert "BATH" in told.out
    assert "2000 x 1500 mm" in told.out
    assert "Taken, left and doubted" in told.out
    assert sorted(path.name for path in out.iterdir()) == ["rooms.geojson", "rooms.svg"]
    assert run(monkeypatch, "rooms", out / "rooms.geojson") == 0


def test_machines_get_json(
    flat: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "rooms", flat, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert [(room["name"], room["area_m2"]) for room in told["rooms"]] == [
        ("BATH", 3.0),
        ("room 2", 2.7),
    ]
    assert told["unit"] == "mm"


def test_planning_a_room_of_a_drawing(
    flat: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(monkeypatch, "plan", flat) == 2
    told = capsys.readouterr()
    assert "BATH" in told.err  # the list of what there is to choose from
    assert "Choose one with --feature" in told.err
    out = tmp_path / "out"
    assert run(monkeypatch, "plan", flat, "--feature", "BATH", "--out", out, *QUICK) == 0
    assert {"plan.json", "rooms.svg"} <= {path.name for path in out.iterdir()}
    assert run(monkeypatch, "plan", flat, "--layer", "ROOM", "--feature", "1", *QUICK) == 2
    assert "Did you mean 'ROOMS'" in capsys.readouterr().err
