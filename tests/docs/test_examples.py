"""The examples folder: every script runs as it stands and prints what is expected."""

import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
PRINTED = {
    "five_lines": [
        "70 boards, 9 packs, optimal",
        "first piece 1.1.1, 1028 mm of board 1",
        "True, drawn in 41 kB of SVG",
    ],
    "board_lengths": [
        "1215 x 196: 80 boards, 10.1 % more than the floor",
        "1285 x 192: 74 boards, 5.6 % more than the floor",
        "1830 x 127: 77 boards, 3.5 % more than the floor",
    ],
    "choices": [
        "1: 60 boards in 8 packs",
        "2: 60 boards in 8 packs",
        "3: 60 boards in 8 packs",
        "4: 61 boards in 8 packs",
        "5: 61 boards in 8 packs",
        "6: 60 boards in 8 packs",
        "True",
    ],
    "many_rooms": ["Hobby room planned 61 boards, 8 packs", "['batch.csv', 'batch.json', 'rooms']"],
    "damp_slab": [
        "not ready",
        "Not yet: measure first. Nothing can be said with so few readings.",
        "6 steps before row 1",
    ],
}


def test_every_example_is_run_here() -> None:
    assert {path.stem for path in EXAMPLES.glob("*.py")} == {*PRINTED}


@pytest.mark.parametrize("name", sorted(PRINTED))
def test_an_example_prints_what_is_expected(name: str, tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, EXAMPLES / f"{name}.py"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == PRINTED[name]
    assert done.stderr == ""
