"""``--dxf``: the plan as DXF beside the plan file, read back by ezdxf."""

import sys
from pathlib import Path

import pytest
from ezdxf import bbox
from ezdxf.filemanagement import readfile

from plankwright.cli import app

DEN = """
[job]
name = "Den"
unit = "in"
[room]
outline = [[0, 0], ["6'", 0], [72, 50], [0, 50]]
"""
HALL = """
[job]
unit = "mm"
[room]
outline = [[0, 0], [4000, 0], [4000, 1500], [0, 1500]]
[[room.break]]
from = [2000, 0]
to = [2000, 1500]
"""
INCHES = 1  # $INSUNITS of the DXF reference


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


def job(folder: Path, text: str = DEN) -> Path:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_plan_writes_it_and_sheets_writes_the_same_from_the_plan_file(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, paper = tmp_path / "out", tmp_path / "paper"
    assert run(monkeypatch, "plan", job(tmp_path), "--out", out, "--dxf") == 0
    assert f"Wrote {out / 'plan.dxf'}" in capsys.readouterr().err.splitlines()
    document = readfile(out / "plan.dxf")
    assert document.header["$INSUNITS"] == INCHES
    walls = bbox.extents(document.modelspace().query('*[layer=="WALLS"]'))
    assert (walls.size.x, walls.size.y) == pytest.approx((72, 50), abs=1e-3)
    asked = ("--sheet", "cards", "--dxf", "--out", paper)
    assert run(monkeypatch, "sheets", out / "plan.json", *asked) == 0
    assert {path.name for path in paper.iterdir()} == {"cards.pdf", "plan.dxf"}
    assert (paper / "plan.dxf").read_bytes() == (out / "plan.dxf").read_bytes()


def test_without_it_none_is_written(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    assert run(monkeypatch, "plan", job(tmp_path), "--out", tmp_path / "out") == 0
    assert not (tmp_path / "out" / "plan.dxf").exists()


def test_one_for_each_part(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run(monkeypatch, "plan", job(tmp_path, HALL), "--parts", "--out", out, "--dxf") == 0
    found = sorted(path.relative_to(out).as_posix() for path in out.rglob("*.dxf"))
    assert found == ["part-1/plan.dxf", "part-2/plan.dxf"]


@pytest.mark.parametrize(
    ("options", "remedy"),
    [((), "Add --out DIR."), (("--choices", "--out", "x"), "Plan the one you take with --dxf.")],
    ids=["nowhere", "choices"],
)
def test_where_it_cannot_be(
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    options: tuple[str, ...],
    remedy: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(monkeypatch, "plan", job(tmp_path), "--dxf", *options) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "--dxf" in told
    assert remedy in told
    assert not (tmp_path / "x").exists()
