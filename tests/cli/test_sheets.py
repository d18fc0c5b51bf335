"""``plankwright sheets`` and ``plankwright how-to``: files, options, bad input."""

import json
import sys
from pathlib import Path

import pytest

import plankwright
from plankwright.cli import app
from plankwright.paper import fonts
from plankwright.paper.all_sheets import SHEETS

ROOM = """\
[job]
name = "{name}"
[room]
outline = [[0, 0], [3000, 0], [3000, 2500], [0, 2500]]
"""


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


def job(folder: Path, name: str = "Den") -> Path:
    path = folder / "den.toml"
    path.write_text(ROOM.format(name=name), encoding="utf-8")
    return path


def test_every_sheet_the_job_has_something_for(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "paper"
    assert run(monkeypatch, "sheets", job(tmp_path), "--out", out, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    names = {Path(file).stem for file in told["files"]}
    # no slab in the job; three square walls need no template, and row after row no order sheet
    assert names == set(SHEETS) - {"slab", "heights", "templates", "laying-order"}
    assert told["lacking"] == ""
    assert all((out / f"{name}.pdf").read_bytes().startswith(b"%PDF") for name in names)


def test_one_sheet_on_the_paper_asked_for_from_a_plan_file(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "plan", job(tmp_path), "--out", tmp_path) == 0
    plan = tmp_path / "plan.json"
    argv = ("--sheet", "cards", "--sheet", "floor-plan", "--paper", "letter", "--out", tmp_path)
    assert run(monkeypatch, "sheets", plan, *argv) == 0
    wrote = [line for line in capsys.readouterr().err.splitlines() if "pdf" in line]
    assert [Path(line.removeprefix("Wrote ")).name for line in wrote] == [
        "cards.pdf", "floor-plan.pdf"
    ]  # fmt: skip


def test_letters_that_the_font_lacks_are_named(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = job(tmp_path, "Den 😀 שלום")
    assert run(monkeypatch, "sheets", path, "--out", tmp_path, "--sheet", "floor-plan") == 0
    assert "The sheets' font lacks 😀 ש ל ו ם: a box stands for each" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("argv", "where", "words"),
    [
        (("sheets", "JOB", "--paper", "A5"), "--paper", "Use A4 or Letter"),
        (("sheets", "JOB", "--sheet", "plan"), "--sheet", "Use one of: cautions, slab"),
        (("sheets", "JOB", "--sheet", "slab"), "--sheet", "nothing for this sheet"),
        (("sheets", "JOB", "--out", "/proc/none/here"), "--out", "may write to"),
        (("sheets", "JOB", "--out", "JOB/folder"), "--out", "may write to"),
        (("sheets", "nowhere.toml"), "nowhere.toml", "no such file"),
        (("how-to", "JOB", "--out", "/proc/none/here"), "--out", "may write to"),
        (("how-to", "JOB", "--log", "nowhere.log"), "nowhere.log", ""),
    ],
)
def test_bad_input(
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    argv: tuple[str, ...],
    where: str,
    words: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    path = job(tmp_path)
    assert run(monkeypatch, *(word.replace("JOB", str(path)) for word in argv), "--json") == 2
    captured = capsys.readouterr()
    error = json.loads(captured.out)["error"]
    assert where in error["where"]
    assert words in captured.err
    assert "Traceback" not in captured.err


def test_a_missing_font_is_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(fonts, "FACES", ("Inter-Nowhere.otf",))
    assert run(monkeypatch, "sheets", job(tmp_path), "--out", tmp_path) == 2
    told = capsys.readouterr().err
    assert "Inter-Nowhere.otf" in told
    assert "Install plankwright again" in told


def test_the_how_to_of_a_laying_day(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = job(tmp_path)
    plan, log, out = tmp_path / "plan.json", tmp_path / "den.log", tmp_path / "told"
    assert run(monkeypatch, "plan", path, "--out", tmp_path) == 0
    assert run(monkeypatch, "lay", "start", plan, "--log", log) == 0
    assert run(monkeypatch, "lay", "did", log) == 0
    capsys.readouterr()
    assert run(monkeypatch, "how-to", plan, "--job", path, "--log", log, "--out", out) == 0
    assert "how-to.html" in capsys.readouterr().err
    text = (out / "how-to.md").read_text(encoding="utf-8")
    assert "What went wrong, and what mended it" in text
    assert "Den" not in text
    assert (out / "pictures" / "as-laid.svg").exists()
    assert run(monkeypatch, "how-to", plan, "--out", out, "--name", "--json") == 0
    assert json.loads(capsys.readouterr().out)["notices"] == []
    assert "Den" in (out / "how-to.md").read_text(encoding="utf-8")


def test_the_api_prints_letter_for_inches_and_a4_for_the_rest(tmp_path: Path) -> None:
    metric = plankwright.open_buy(job(tmp_path))
    (sheet,) = plankwright.sheets(metric, names=["cautions"])
    assert b"595.27" in sheet.pdf  # 210 mm wide: 595.276 points
    (wide,) = plankwright.sheets(metric, names=["cautions"], paper="Letter")
    assert b"612" in wide.pdf  # 8 1/2 in: 612 points
