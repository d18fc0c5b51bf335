"""The table of real rooms, on rooms of our own that need no test data."""

from pathlib import Path

import pytest
from benchmarks.baselines import careful, habit
from benchmarks.measured_room import Settings, measure
from benchmarks.real_rooms import HEAD, line, planned, summary, troubles
from shapely import box

from benchmarks import run as bench
from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.optimize.solve import Effort
from plankwright.plan.compile import compile_instance

QUICK = Settings(effort=Effort(moves=100))


def test_a_room_of_two_rows_by_hand() -> None:
    # Floor 2000 x 384: two rows of 192. A stretch takes 2 boards and 2 x 2000 mm are 3.1 boards,
    # so 4 at least by rows; area: 0.768 m2 / 0.24672 m2 = 3.1, so 4.
    result = measure((Room(box(0, 0, 2016, 400), name="two rows"), "small rooms", QUICK))
    assert (result["rows"], result["stretches"]) == (2, 2)
    assert result["floor_m2"] == pytest.approx(0.768)
    assert result["area_bound"] == result["bound"] == result["boards"] == 4
    assert result["status"] == "optimal"
    assert result["faults"] == []
    assert result["habit"] >= 4
    assert result["careful"] >= 4


def test_the_baselines_in_a_room_of_4_by_3_meters() -> None:
    # 4.00 x 3.00 m, boards 1285 x 192, no gap, no kerf, 300/300, full rows from the start wall:
    # the habit takes 64 boards, the careful layer 56; ties may move that by one.
    board = Board(1285.0, 192.0)
    rules = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)
    stretches = cut_rows(box(0, 0, 4000, 3000), board.width_mm, 0.0)
    instance = compile_instance(stretches, contacts(stretches), board, rules, 1.0)
    assert len(stretches) == 16
    assert habit(instance).boards == pytest.approx(64, abs=1)
    assert careful(instance).boards == pytest.approx(56, abs=1)
    assert habit(instance).legal
    assert careful(instance).legal


def test_what_the_command_refuses_is_told_and_not_planned() -> None:
    result = measure((Room(box(0, 0, 2000, 150), name="shelf"), "small rooms", QUICK))
    assert "wider than the room" in result["refused"]
    assert troubles({"file:shelf": result}) == [f"  file:shelf: refused: {result['refused']}"]


def test_the_printed_table() -> None:
    result = measure((Room(box(0, 0, 3016, 2016), name="den"), "rooms", QUICK))
    results = {"file:den": result}
    assert len(line(("file:den", result))) == len(HEAD)
    told = "\n".join(summary(results, QUICK.board))
    assert "rooms: 1" in told
    assert f"boards {result['boards']}, proven bound {result['bound']}" in told
    assert told.endswith("What should not be:\n  nothing")
    worse = {**result, "boards": result["habit"] + 1, "faults": ["1.1.1: a crack [crack]"]}
    assert len(troubles(planned({"file:den": worse}))) >= 2


def test_every_table_is_a_module_that_is_there() -> None:
    for module, *_ in (command for _, command in bench.TABLES.values()):
        assert (Path(bench.__file__).with_name(f"{module}.py")).is_file()
    assert {*bench.USUAL} <= {*bench.TABLES}


def test_an_unknown_table_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        bench.main(["no-such-table"])
    assert "no-such-table" in capsys.readouterr().err
