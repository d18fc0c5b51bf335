"""``plankwright measure`` as a person runs it."""

import json
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from plankwright.cli.measure import measure
from plankwright.errors import RoomError

JOB = """
[job]
name = "Workroom"
unit = "in"
[room]
walls = { A-B = "203 3/4", B-C = "146 1/2", C-D = "203 7/8", D-A = "144 7/8" }
diagonals = { A-C = "252", B-D = "249 1/8" }
angles = "square"
ties = { post = { A = "119 1/4", B = "125" } }
"""


@pytest.fixture
def command() -> typer.Typer:
    app = typer.Typer(pretty_exceptions_enable=False)
    app.command()(measure)
    return app


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def test_report(command: typer.Typer, job: Path, tmp_path: Path) -> None:
    result = CliRunner().invoke(command, [str(job), "--out", str(tmp_path / "out")])
    assert result.exit_code == 0
    for word in ("Workroom", "Worst corner", "A-B", "203 3/4", "post", "Taper", "3-4-5"):
        assert word in result.output
    drawing = (tmp_path / "out" / "survey.svg").read_text(encoding="utf-8")
    assert drawing.startswith("<")
    assert "Tape survey: Workroom" in drawing


def test_no_length_is_cut_off_on_a_narrow_terminal(
    command: typer.Typer, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    result = CliRunner().invoke(command, [str(job)])
    assert max(map(len, result.output.splitlines())) <= 80
    assert "…" not in result.output


def test_json(command: typer.Typer, job: Path) -> None:
    result = CliRunner().invoke(command, [str(job), "--json"])
    told = json.loads(result.stdout)
    assert told["status"] == "measured"
    assert len(told["outline"]) == 4
    assert told["corners"][0]["x_mm"] == 0.0
    assert {length["name"] for length in told["lengths"]} >= {"A-B", "A-C", "A-post"}


def test_found_wanting(command: typer.Typer, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text("[room]\nwalls = [4200, 3600, 4195, 3605]\n", encoding="utf-8")
    result = CliRunner().invoke(command, [str(path)])
    assert result.exit_code == 1
    assert "Check this" in result.output
    assert "Measure next" in result.output


def test_refused_with_the_file(command: typer.Typer, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text("[room]\nwalls = [14200, 3600, 4195, 3605]\n", encoding="utf-8")
    result = CliRunner().invoke(command, [str(path)])
    assert isinstance(result.exception, RoomError)
    assert str(path) in str(result.exception)
