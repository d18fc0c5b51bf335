"""``plankwright plan --parts``: a folder for each part, and their shopping lists added up."""

import json
from pathlib import Path

import pytest
from tests.application.test_part_jobs import TWO_ROOMS
from typer.testing import CliRunner

import plankwright
from plankwright.cli.app import app

BUY = """
[slab]
below_grade = true
[buy]
spares = 4
[buy.trim]
name = "baseboard"
thickness = 15
[[buy.trim.stock]]
length = 2400
"""
PERIMETER_M = 2 * (4.0 + 3.0) - 0.9 + 2 * 0.05
"""Of each part: 4000 x 3000 less the neck of 900, and 50 of the neck on both sides of it."""


def run(*argv: object) -> str:
    done = CliRunner().invoke(app, [str(word) for word in argv])
    assert done.exit_code == 0, done.output
    return done.stdout


@pytest.fixture(scope="module")
def parts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folders of the parts of two rooms with a break in the neck between them."""
    folder = tmp_path_factory.mktemp("parts")
    source = folder / "two_rooms.toml"
    source.write_text(TWO_ROOMS.format(necks="true") + BUY, encoding="utf-8")
    told = json.loads(run("plan", source, "--parts", "--out", folder, "--json"))
    assert len(told["parts"]) == 2
    assert told["boards"] == sum(part["boards"] for part in told["parts"])
    assert told["packs"] == -(-told["boards"] // 8)
    return folder


def bought(path: Path, *more: object) -> dict[str, int]:
    """Counts of a shopping list by the first words of each line."""
    lines = json.loads(run("buy", path, *more, "--json"))["lines"]
    return {line["item"].partition(",")[0]: line["count"] for line in lines}


def test_each_part_has_a_job_a_plan_a_drawing_and_cuts(parts: Path) -> None:
    for number in (1, 2):
        inside = parts / f"part-{number}"
        names = {path.name for path in inside.iterdir()}
        assert {"job.toml", "plan.json", "plan.svg", "cuts.csv"} <= names
        assert plankwright.check_file(inside / "plan.json").ok


def test_what_is_bought_once_stands_on_one_list(parts: Path) -> None:
    """T-molding and tools are on the first list alone; the second says what both have."""
    first, second = (bought(parts / f"part-{n}" / "job.toml") for n in (1, 2))
    assert first["T-molding"] == 1
    assert "T-molding" not in second
    assert "miter saw" in first
    assert "miter saw" not in second
    page = " ".join(run("buy", parts / "part-2" / "job.toml").split())
    assert "its transition is on the list of the other part of the floor" in page
    assert "what is left of one part serves the other" in page
    assert "one slab is tested once, as a whole" in page
    assert "tested once" not in run("buy", parts / "part-1" / "job.toml")


@pytest.mark.parametrize("number", [1, 2])
def test_no_baseboard_along_the_break(parts: Path, number: int) -> None:
    """By the plan file, too: the part's job file lies beside it."""
    inside = parts / f"part-{number}"
    page = " ".join(run("buy", inside / "plan.json").split())
    assert f"{PERIMETER_M:.3f} m of wall and edges" in page
    assert bought(inside / "plan.json") == bought(inside / "job.toml")


def test_a_plan_file_by_itself_says_what_it_cannot_know(parts: Path, tmp_path: Path) -> None:
    alone = tmp_path / "plan.json"
    alone.write_bytes((parts / "part-1" / "plan.json").read_bytes())
    page = " ".join(run("buy", alone).split())
    assert f"{PERIMETER_M + 0.9:.3f} m of wall and edges" in page
    assert "along an expansion break. Add the job file with --job" in page
    # a job of another room beside it is not taken
    other = TWO_ROOMS.format(necks="false")
    (tmp_path / "job.toml").write_text(other, encoding="utf-8")
    assert " ".join(run("buy", alone).split()) == page
