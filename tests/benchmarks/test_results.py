"""Results that outlive a killed run."""

from pathlib import Path

import pytest
from benchmarks.results import Result, fingerprint, resume

from benchmarks import results

CASES = [("a", 1), ("b", 2), ("c", 3)]
worked_out: list[int] = []


def square(value: int) -> Result:
    worked_out.append(value)
    if value == 13:
        raise KeyboardInterrupt
    return {"square": value * value}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(results, "FOLDER", tmp_path / ".bench")
    worked_out.clear()
    return tmp_path / ".bench"


def test_a_second_run_works_nothing_out_again() -> None:
    first = resume("table", "one", CASES, square, processes=1)
    assert first == {"a": {"square": 1}, "b": {"square": 4}, "c": {"square": 9}}
    assert resume("table", "one", CASES, square, processes=1) == first
    assert worked_out == [1, 2, 3]


def test_a_stopped_run_goes_on_where_it_stopped() -> None:
    with pytest.raises(KeyboardInterrupt):
        resume("table", "one", [*CASES, ("d", 13), ("e", 5)], square, processes=1)
    found = resume("table", "one", [*CASES, ("d", 4), ("e", 5)], square, processes=1)
    assert [*found] == ["a", "b", "c", "d", "e"]
    assert worked_out == [1, 2, 3, 13, 4, 5]


def test_a_line_that_was_cut_off_is_worked_out_again(folder: Path) -> None:
    resume("table", "one", CASES, square, processes=1)
    path = folder / "table.jsonl"
    path.write_bytes(path.read_bytes()[:-12])  # in the middle of the line of "c"
    found = resume("table", "one", [*CASES, ("d", 4)], square, processes=1)
    assert found["c"] == {"square": 9}
    assert worked_out == [1, 2, 3, 3, 4]
    assert resume("table", "one", [*CASES, ("d", 4)], square, processes=1) == found
    assert worked_out == [1, 2, 3, 3, 4]


def test_other_settings_are_other_results() -> None:
    resume("table", "one", CASES, square, processes=1)
    resume("table", "two", CASES, square, processes=1)
    assert worked_out == [1, 2, 3, 1, 2, 3]


def test_the_fingerprint_tells_settings_and_code_apart(tmp_path: Path) -> None:
    code = tmp_path / "code.py"
    code.write_text("a = 1")
    first = fingerprint({"gap": 8}, [code])
    assert fingerprint({"gap": 8}, [code]) == first
    assert fingerprint({"gap": 9}, [code]) != first
    code.write_text("a = 2")
    assert fingerprint({"gap": 8}, [code]) != first
