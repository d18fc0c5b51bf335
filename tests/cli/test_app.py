"""The command table, exit codes, and what is said where."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import plankwright
from plankwright.cli import app
from plankwright.errors import PlanFaultError
from plankwright.files.job import read_job

DEN = """
[job]
name = "Den"
unit = "in"
[room]
outline = [[0, 0], ["6'", 0], [72, 50], [0, 50]]
"""

QUICK = ("--time", "0")  # the first plan will do


@pytest.fixture
def den(tmp_path: Path) -> Path:
    path = tmp_path / "den.toml"
    path.write_text(DEN)
    return path


def run(monkeypatch: pytest.MonkeyPatch, *argv: object) -> object:
    """The exit code of a command line."""
    monkeypatch.setattr(sys, "argv", ["plankwright", *map(str, argv)])
    with pytest.raises(SystemExit) as leaving:
        app.run()
    return leaving.value.code or 0


def test_version_and_help(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "--version") == 0
    assert capsys.readouterr().out.strip() == f"plankwright {plankwright.__version__}"
    assert run(monkeypatch, "--help") == 0
    told = capsys.readouterr().out
    for command in ("demo", "plan", "check"):
        assert command in told


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys; sys.argv = ['plankwright', '--help']\n"
        "from plankwright.__main__ import main\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        "heavy = {'shapely', 'numpy', 'pydantic', 'highspy'} & set(sys.modules)\n"
        "sys.exit(str(heavy) if heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_plan_writes_and_summarizes(
    den: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "deep" / "folder"
    assert run(monkeypatch, "plan", den, "--out", out, "--board", "48x7.5", "--json", *QUICK) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["name"], told["unit"]) == ("Den", "in")
    assert Path(told["files"][0]).name == "plan.json"
    assert all(Path(name).stat().st_size for name in told["files"])
    assert not list(out.glob("*.part"))
    plan = json.loads((out / "plan.json").read_text())
    assert (plan["board"]["length"], plan["board"]["width"]) == (1219.2, 190.5)
    assert told["boards"] == plan["boards"]["used"]


def test_plan_tells_a_person_at_a_glance(
    den: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "plan", den, *QUICK) == 0
    out, err = capsys.readouterr()
    for words in ("Den", "Boards", "Packs", "spare", "Waste", "First row", "Joint offset", '"'):
        assert words in out
    assert "add --out DIR" in err


def test_every_option_overrides_the_job(
    den: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    options = {
        "--per-pack": "10", "--lock": "reversible", "--gap": "1/4", "--kerf": "1/8",
        "--allowance": "0", "--shortest": "10", "--offset": "9", "--narrowest": "2 1/2",
        "--row-angle": "B-C", "--first-row": "6", "--laid": "right-to-left", "--time": "20",
        "--seed": "7",
    }  # fmt: skip
    words = [word for pair in options.items() for word in pair]
    assert run(monkeypatch, "plan", den, "--out", tmp_path, *words) == 0
    plan = json.loads((tmp_path / "plan.json").read_text())
    assert (plan["board"]["per_pack"], plan["board"]["lock"]) == (10, "reversible")
    rules: dict[str, Any] = plan["rules"]
    assert {name: rules[name] for name in list(rules)[:6]} == pytest.approx(
        {
            "gap": 6.35,
            "kerf": 3.175,
            "allowance": 0.0,
            "shortest_piece": 254.0,
            "joint_offset": 228.6,
            "narrowest_row": 63.5,
        }
    )
    assert plan["laying"]["laid"] == "right-to-left"
    assert plan["laying"]["row_angle_deg"] % 180 == pytest.approx(90.0)


@pytest.mark.parametrize(
    "argv", [["plan"], ["pln"], ["plan", "x.toml", "--bord", "1x1"], ["plan", "x", "--seed", "-1"]]
)
def test_usage_errors_leave_with_2(
    argv: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, *argv) == 2
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("error", "code", "words"),
    [
        (KeyboardInterrupt(), 130, "Stopped."),
        (PlanFaultError("a piece overlaps"), 1, "a piece overlaps"),
        (ZeroDivisionError("by zero"), 3, "a defect of the program"),
        (OSError(28, "No space left on device", "plan.json"), 2, "No space left on device"),
    ],
)
def test_what_goes_wrong_while_planning(
    error: BaseException,
    code: int,
    words: str,
    den: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr("plankwright.application.plan_job.plan_room", fail)
    assert run(monkeypatch, "plan", den) == code
    err = capsys.readouterr().err
    assert words in err
    assert "Traceback" not in err


def test_same_input_same_bytes(den: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for folder in ("one", "two"):
        assert run(monkeypatch, "plan", den, "--out", tmp_path / folder) == 0
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(monkeypatch, "demo") == 0
    folder = tmp_path / "plankwright-demo"
    names = {path.name for path in folder.iterdir()}
    assert names >= {"demo_room.toml", "plan.json", "plan.svg", "cuts.csv", "shopping.csv"}
    assert (folder / "sheets" / "cards.pdf").exists()
    assert (folder / "how-to" / "how-to.html").exists()
    assert run(monkeypatch, "check", folder / "plan.json") == 0
    assert read_job((folder / "demo_room.toml").read_text(), "demo_room.toml").unit == "in"


def test_check_finds_a_fault_and_leaves_with_1(
    den: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "plan", den, "--out", tmp_path, *QUICK) == 0
    path = tmp_path / "plan.json"
    plan = json.loads(path.read_text())
    plan["boards"]["used"] += 1
    path.write_text(json.dumps(plan))
    capsys.readouterr()
    assert run(monkeypatch, "check", path, "--json") == 1
    told = json.loads(capsys.readouterr().out)
    assert not told["ok"]
    assert "boards-used" in [fault["code"] for fault in told["faults"]]
    assert run(monkeypatch, "check", path) == 1
    assert "[boards-used]" in capsys.readouterr().out
