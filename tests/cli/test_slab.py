"""``plankwright slab``: the page, its files, its exit codes."""

import json
import sys
from pathlib import Path

import pytest

import plankwright
from plankwright.cli import app

DEMO = Path(plankwright.__file__).parent / "data" / "demo_room.toml"

DRY = """
[job]
unit = "mm"
[slab]
area = 12
below_grade = false
temperature = 19
wet_months = [4]
[slab.house]
year = 2015
old_tile = "no"
black_mastic = "no"
old_paint = "no"
in_slab = "no"
[[slab.gap]]
place = "middle"
edge = 2000
gap = 2
[air]
temperature = 20
humidity = 50
""" + "".join(
    f'[[slab.reading]]\nkind = "humidity probe"\nplace = "{p}"\non = 2026-04-02\nvalue = 60\n'
    for p in "abc"
)


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


def test_the_demo_slab_is_found_wanting_and_drawn(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "slab", DEMO, "--out", tmp_path) == 1
    page = capsys.readouterr().out
    assert page.index("ADVICE") < page.index("TO DO, IN THIS ORDER")
    assert "Go on with a vapor barrier of class I" in page
    assert "void: exposure" in page
    assert "which proves nothing" in page
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == ["slab.ics", "slab.svg", "slab.txt"]
    assert (tmp_path / "slab.ics").read_text().count("BEGIN:VEVENT") == 3
    assert "<svg" in (tmp_path / "slab.svg").read_text()


def test_a_dry_flat_slab_is_done(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "dry.toml"
    path.write_text(DRY)
    assert run(monkeypatch, "slab", path, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["verdict"] == "go"
    assert told["ready"] is True
    assert told["flatness"]["passes"] is True
    assert told["steps"][-1]["text"].endswith("row 1 may begin.")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[job]\nunit = 'in'\n", "slab"),
        ("[slab]\n", "slab.area"),
        ("[job]\nunit = 'parsec'\n[slab]\narea = 2\n", "parsec"),
        ("[slab]\narea = 2\nthicknes = 3\n", "thickness"),
        ("[slab]\narea = 2\n[slab.heights]\nrows = [[0, 1]]\nstep = [1, 1]\n", "slab.heights"),
    ],
)
def test_bad_input(
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    text: str,
    words: str,
) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(text)
    assert run(monkeypatch, "slab", path) == 2
    captured = capsys.readouterr()
    assert words in captured.err
    assert "bad.toml" in captured.err
    assert "Traceback" not in captured.err
