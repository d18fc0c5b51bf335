"""Reading and writing DXF leaves nothing where programs keep their files."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from tests.files.dxf_maker import rectangle, write_dxf

WRITE = """
from plankwright import api
from plankwright.model.room import Room
from plankwright.model.board import Board
from shapely import box
plan = api.plan_room(Room(box(0, 0, 2000, 1000)), Board(1285, 192))
assert "SECTION" in api.draw_dxf(plan)
"""


@pytest.mark.parametrize("command", ["rooms", "write"])
def test_nothing_is_written_into_the_home(tmp_path: Path, command: str) -> None:
    home = tmp_path / "home"
    home.mkdir()
    drawing = write_dxf(tmp_path / "a.dxf", lambda space: rectangle(space, 0, 0, 4000, 3000))
    arguments = ["-c", WRITE] if command == "write" else ["-m", "plankwright", "rooms", drawing]
    places = {name: str(home) for name in ("HOME", "XDG_CACHE_HOME", "TMPDIR")}
    done = subprocess.run(
        [sys.executable, *map(str, arguments)],
        env={**os.environ, **places},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "ezdxf" not in done.stderr
    assert list(home.iterdir()) == []
    assert {path.name for path in tmp_path.iterdir()} == {"home", "a.dxf"}
