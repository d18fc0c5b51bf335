"""``plankwright buy``: page, JSON, CSV, files, plan files and bad input."""

import csv
import json
import sys
from decimal import Decimal
from pathlib import Path

import pytest

import plankwright
from plankwright.cli import app

DEMO = Path(plankwright.__file__).parent / "data" / "demo_room.toml"
ROOM = "[room]\noutline = [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]\n"


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


def test_the_page_of_the_demo_room(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "buy", DEMO, "--out", tmp_path) == 0
    page = capsys.readouterr().out
    assert page.index("SHOPPING LIST") < page.index("SUM") < page.index("BOARDS: HOW AND WHY")
    assert "Chance of running short" in page
    assert "MAY GO BACK UNOPENED" in page
    assert "Pack 1: ____" in page
    names = {path.name for path in tmp_path.iterdir()}
    assert names == {
        "shopping.csv", "shopping.txt", "trim.svg", "underlayment.svg", "vapor-barrier.svg"
    }  # fmt: skip
    assert (tmp_path / "shopping.txt").read_text(encoding="utf-8") == page
    with (tmp_path / "shopping.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    amounts = [Decimal(row["amount"]) for row in rows if row["section"] and row["amount"]]
    assert sum(amounts) == Decimal(rows[-3]["amount"])  # the subtotal
    assert f"{sum(amounts):,} USD" in page


def test_a_plan_file_says_the_same_of_boards_as_its_job(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "plan", DEMO, "--out", tmp_path) == 0
    capsys.readouterr()
    assert run(monkeypatch, "buy", tmp_path / "plan.json", "--job", DEMO, "--json") == 0
    beside = json.loads(capsys.readouterr().out)
    assert run(monkeypatch, "buy", DEMO, "--json") == 0
    assert json.loads(capsys.readouterr().out) == beside
    assert run(monkeypatch, "buy", tmp_path / "plan.json", "--json") == 0
    alone = json.loads(capsys.readouterr().out)
    assert alone["packs"]["needed"] == beside["packs"]["needed"]
    assert alone["totals"]["total"] == "0.00"
    assert [t["where"] for t in alone["transitions"]] == ["doorway in B-C"]


@pytest.mark.parametrize(
    ("text", "where", "words"),
    [
        ("[buy]\npack = 'dear'\n", "buy.pack", "not a number"),
        ("[buy]\npack = 1.005\n", "buy.pack", "two places"),
        ("[buy]\ntax = 101\n", "buy.tax", "from 0 to 100"),
        ("[buy]\nspares = -1\n", "buy.spares", "from 0"),
        ("[buy]\naccept = 0\n", "buy.accept", "between 0 and 100"),
        ("[buy.film]\nlap = 1100\n", "buy.film", "half of the roll"),
        ("[buy.film]\nwidth = 1\n", "buy.film", "must be from 10"),
        ("[buy.film]\naim = 'none'\n", "buy.film.aim", "not one of the words"),
        ("[buy.trim]\nthickness = 0\n", "buy.trim.thickness", "above 0"),
        ("[[buy.trim.stock]]\nlength = 200\n", "buy.trim.stock", "too short"),
        ("[[buy.trim.stock]]\nlength = 20\n", "length", "100 mm to 20000 mm"),
        ("[buy.tools]\nown = ['pullbar']\n", "buy.tools.own", "pull bar"),
        ("[buy.rates]\nboard = -1\n", "buy.rates.board", "from 0"),
        ("[buy.prices]\n'pull bar' = '1,50'\n", "buy.prices", "not a number"),
        ("[buy]\nspacing = 1\n", "buy.spacing", "50 mm to 5000 mm"),
    ],
)
def test_bad_input(
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    text: str,
    where: str,
    words: str,
) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(ROOM + text)
    assert run(monkeypatch, "buy", path, "--json") == 2
    captured = capsys.readouterr()
    error = json.loads(captured.out)["error"]
    assert where in error["where"]
    assert "bad.toml" in error["where"]
    assert error["remedy"]
    assert words in captured.err
    assert "Traceback" not in captured.err


def test_a_job_of_another_room_is_refused(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "room.toml"
    job.write_text(ROOM)
    assert run(monkeypatch, "plan", job, "--out", tmp_path) == 0
    assert run(monkeypatch, "buy", tmp_path / "plan.json", "--job", DEMO) == 2
    assert "of another room" in capsys.readouterr().err
