"""``plankwright plan --choices``: a table, plan files and a sheet."""

import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from rich.console import Console
from typer.testing import CliRunner

import plankwright
from plankwright.application.choices import ChartPoint, Choice, Choices
from plankwright.application.joint_looks import JointLooks
from plankwright.application.merits import Handling, Merits
from plankwright.cli.app import app
from plankwright.cli.choices_report import print_choices, print_crooked
from plankwright.model.wishes import Wishes

ROOM = """
[job]
name = "Den"
unit = "mm"

[room]
outline = [[0, 0], [3600, 0], [3600, 2660], [0, 2600]]

[board]
length = 1285
width = 192
"""


@pytest.fixture(scope="module")
def room_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("den") / "den.toml"
    path.write_text(ROOM, encoding="utf-8")
    return path


def test_choices_are_written_and_each_can_be_taken(room_file: Path) -> None:
    out = room_file.parent / "out"
    done = CliRunner().invoke(
        app,
        ["plan", str(room_file), "--choices", "--row-angle", "A-B", "--out", str(out), "--json"],
    )
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert told["name"] == "Den"
    names = sorted(path.name for path in out.iterdir())
    numbers = [choice["number"] for choice in told["choices"]]
    assert names == sorted(["choices.svg", *(f"choice-{n}.json" for n in numbers)])
    for choice in told["choices"]:
        path = out / f"choice-{choice['number']}.json"
        assert plankwright.check_file(path).ok
        assert plankwright.load_plan(path).boards.used == choice["merits"]["boards"]


MERITS = Merits(51, 7, 104.0, 32, 4, JointLooks(0, 1, 0), Handling(), 0.2, 0.0, None, 0)


def shown(*merits: Merits) -> str:
    choices = tuple(
        Choice(n, f"Way {n}", "Because.", Wishes(), one, plan=None)  # type: ignore[arg-type]
        for n, one in enumerate(merits, start=1)
    )
    console = Console(width=100, record=True, file=io.StringIO())
    print_choices(Choices(choices, (ChartPoint(8.0, 51, 8.0),), 8), "Den", "mm", console)
    return console.export_text()


def test_a_star_marks_the_best_figure_where_figures_differ() -> None:
    told = shown(MERITS, replace(MERITS, boards=49))
    lines = {line[:24].strip(): line[24:].split() for line in told.splitlines()}
    assert lines["Boards"] == ["51", "49*"]
    assert lines["Packs"] == ["7", "7"]
    assert lines["Taper along a wall"] == ["none", "none"]
    assert "Rules broken" not in told
    assert "Off the window" not in told
    assert "Way 1. Because." in told


def test_crooked_walls_are_told(room_file: Path) -> None:
    console = Console(width=100, record=True, file=io.StringIO())
    print_crooked(plankwright.open_job(room_file), console)
    told = console.export_text()
    assert "2600 mm apart at one end and 2660 mm at the other: 60 mm of taper." in told
    assert "30 mm of taper in the first row and 30 mm in the last one." in told
