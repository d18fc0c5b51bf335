"""``plankwright batch``: the table on a terminal, exit codes, options."""

import json
import sys
from pathlib import Path

import pytest

from plankwright.cli import app

ROOM = "[room]\noutline = [[0, 0], [{wide}, 0], [{wide}, 900], [0, 900]]\n"


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


def test_a_folder_with_a_bad_room(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rooms, out = tmp_path / "rooms", tmp_path / "out"
    rooms.mkdir()
    (rooms / "den.toml").write_text(ROOM.format(wide=1500))
    (rooms / "hall.toml").write_text(ROOM.format(wide="'9 yd'"))
    options = ("--out", out, "--processes", "1", "--board", "1000x150", "--time", "0")
    assert run(monkeypatch, "batch", rooms, *options) == 1  # a room without a plan
    told = capsys.readouterr()
    assert "den.toml" in told.out
    assert "No plan for 1 of 2" in told.out
    assert "unknown unit" in told.out
    assert "2 of 2 rooms" in told.err
    (rooms / "hall.toml").write_text(ROOM.format(wide=1600))
    assert run(monkeypatch, "batch", rooms, *options, "--json") == 0
    sums = json.loads(capsys.readouterr().out)["totals"]
    assert (sums["rooms"], sums["planned"]) == (2, 2)
    # (1500 - 16) x (900 - 16) and (1600 - 16) x (900 - 16) mm2
    assert sums["floor_m2"] == 2.71


def test_with_inches_areas_are_square_feet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    den = "[room]\noutline = [[0, 0], [60, 0], [60, 36], [0, 36]]\n"
    (tmp_path / "den.toml").write_text(den)
    options = ("--out", tmp_path / "out", "--unit", "in", "--board", "40x6", "--time", "0")
    assert run(monkeypatch, "batch", tmp_path, *options, "--processes", "1") == 0
    told = capsys.readouterr().out
    # (60 x 25.4 - 16) x (36 x 25.4 - 16) mm2 = 1.3548 m2; / 0.09290304 = 14.58 sq ft
    assert told.count("14.6 sq ft") == 2
    assert "m²" not in told


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--processes", "0"), "--processes"),
        (("--time", "-1"), "0 to 86400 seconds"),
        (("--unit", "yd"), "unknown unit"),
    ],
)
def test_options_that_cannot_be(
    options: tuple[str, ...],
    words: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (tmp_path / "den.toml").write_text(ROOM.format(wide=1500))
    assert run(monkeypatch, "batch", tmp_path, "--out", tmp_path / "out", *options) == 2
    assert words in capsys.readouterr().err
