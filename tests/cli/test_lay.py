"""``plankwright lay`` from the first card to the record: page, JSON, exit codes, bad input."""

import json
import sys
from pathlib import Path
from typing import Any

import pytest
from tests.drawing.sample_plans import small_plan

from plankwright.application.lay_words import SENTENCES
from plankwright.application.plan_room import plan_room
from plankwright.cli import app
from plankwright.cli.lay import tell
from plankwright.files.plan_file import dump_plan
from plankwright.guide.events import Event, PieceLaid
from plankwright.model.board import Board
from plankwright.optimize.solve import Effort
from plankwright.store.events_file import events_text
from plankwright.testing.zoo import rectangle


class Bench:
    """Commands on one log file."""

    def __init__(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], folder: Path
    ) -> None:
        self.monkeypatch, self.capsys, self.folder = monkeypatch, capsys, folder
        self.log = folder / "den.log"
        monkeypatch.chdir(folder)

    def run(self, command: str, *rest: object) -> tuple[object, str, str]:
        argv = ["plankwright", "lay", command, *([str(self.log)] if command else []), *rest]
        self.monkeypatch.setattr(sys, "argv", [str(word) for word in argv])
        with pytest.raises(SystemExit) as leaving:
            app.run()
        out, err = self.capsys.readouterr()
        return leaving.value.code or 0, out, err

    def json(self, command: str, *rest: object) -> Any:
        code, out, _ = self.run(command, *rest, "--json")
        assert code == 0
        return json.loads(out)

    def start(self, text: str) -> None:
        plan = self.folder / "plan.json"
        plan.write_text(text, encoding="utf-8")
        argv = ["plankwright", "lay", "start", str(plan), "--log", str(self.log)]
        self.monkeypatch.setattr(sys, "argv", argv)
        with pytest.raises(SystemExit) as leaving:
            app.run()
        assert (leaving.value.code or 0) == 0
        assert "9 cards" in self.capsys.readouterr().err or text != dump_plan(small_plan())


@pytest.fixture
def bench(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> Bench:
    made = Bench(monkeypatch, capsys, tmp_path)
    made.start(dump_plan(small_plan()))
    return made


def test_a_day_on_the_command_line(bench: Bench) -> None:
    code, out, _ = bench.run("next")
    assert code == 0
    assert "Check: Before row 1" in out
    assert "Row 1, piece 1 of 3 (1.1.1)   9 left" in out
    assert bench.run("tell", "checked", "before", "row", "1", "good")[0] == 0
    assert bench.run("tell", "opened", "P1", "b7")[0] == 0
    _, out, _ = bench.run("did", "--pack", "P1")
    assert "Row 1, piece 2 of 3 (1.1.2)   8 left" in out
    _, out, _ = bench.run("state")
    assert "Laid           1 of 9 pieces" in out
    assert "Shelf          A (597 mm)" in out
    assert "P1 (batch b7)" in out
    for _ in range(8):
        bench.run("did")
    _, out, _ = bench.run("next")
    assert "Check: Before the trim" in out
    assert "Every piece lies." in out


def test_the_card_says_it_is_cut_already(bench: Bench) -> None:
    bench.run("tell", "cut", "1.1.1")
    _, out, _ = bench.run("next")
    assert "It is cut already" in out
    assert "Take a new board" not in out


def test_what_is_left_to_cut_by_walks(bench: Bench) -> None:
    bench.run("did")
    _, out, _ = bench.run("cuts", "--rows", "3")
    assert out.startswith("Rows 1 to 3\n")
    assert "1.1.1 " not in out
    assert "  2.1.3    Take offcut A (597 mm long); Cut to 300 mm; Keep the groove end" in out
    walks = bench.json("cuts")["walks"]
    assert [walk["rows"] for walk in walks] == [[1], [2], [3]]
    for _ in range(8):
        bench.run("did")
    assert "Nothing is left to cut." in bench.run("cuts")[1]


def test_the_saw_in_use_turns_the_face(bench: Bench) -> None:
    assert "Face down" in bench.run("next", "--saw", "jigsaw")[1]
    code, _, err = bench.run("next", "--saw", "axe")
    assert code == 2
    assert "no such saw" in err


def test_everything_as_json(bench: Bench) -> None:
    step = bench.json("next")
    assert step["check"]["name"] == "before row 1"
    assert step["card"]["piece"] == "1.1.1"
    assert step["card"]["words"]["keep"] == "Keep the tongue end"
    assert bench.json("did")["card"]["piece"] == "1.1.2"
    written = bench.json("tell", "note", "the wall bulges")["events"]
    assert [event["kind"] for event in written] == ["noted"]
    assert bench.json("state")["used"]["pieces_laid"] == 1
    assert [event["kind"] for event in bench.json("events")["events"]] == [
        "piece-cut", "piece-laid", "noted",
    ]  # fmt: skip
    assert bench.json("undo")["events"][0]["kind"] == "undone"


def test_taken_back_and_told(bench: Bench) -> None:
    bench.run("did")
    _, out, _ = bench.run("undo")
    assert out == "Taken back: “1.1.1 was laid”.\n"
    code, _, err = bench.run("undo", "no such id")
    assert code == 2
    assert "no such event" in err


def test_files_of_two_phones(bench: Bench) -> None:
    job = bench.json("events")
    assert job == {"events": []}
    for name in ("one", "two"):
        event = Event(f"{name}-1", 1, name, "", PieceLaid("1.1.2", whole=True))
        (bench.folder / f"{name}.json").write_text(events_text("", [event]), encoding="utf-8")
    for name in ("one", "two"):
        text = (bench.folder / f"{name}.json").read_text(encoding="utf-8")
        (bench.folder / f"{name}.json").write_text(text.replace('"job": "", ', ""))
    told = bench.json("merge", "one.json", "two.json", "one.json")
    assert told["set_aside"] == {"two-1": "the piece lies already"}
    assert told["new"] == {"one.json": 0, "two.json": 1} or sum(told["new"].values()) == 2
    _, _, err = bench.run("merge", "two.json")
    assert "0 new events" in err
    assert "Check this: “1.1.2 was laid, a new board”, told by two: the piece lies already" in err


def test_drawing_phone_export_import_and_copy(bench: Bench) -> None:
    bench.run("did")
    assert bench.run("drawing", "--out", "both.svg")[0] == 0
    assert "As laid: 1 of 9 pieces" in Path("both.svg").read_text(encoding="utf-8")
    assert bench.json("phone", "--out", "job.html")["bytes"] < 1_000_000
    assert bench.run("export", "--out", "job.json")[0] == 0
    argv = ["plankwright", "lay", "import", "job.json", "--log", "again.log"]
    bench.monkeypatch.setattr(sys, "argv", argv)
    with pytest.raises(SystemExit) as leaving:
        app.run()
    assert (leaving.value.code or 0) == 0
    first = bench.json("state")
    assert bench.run("copy", "copy.log")[0] == 0
    for name in ("again.log", "copy.log"):
        bench.log = bench.folder / name
        assert bench.json("state") == first
    code, _, err = bench.run("copy", "again.log")
    assert code == 2
    assert "exists already" in err


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("tell", "painted"), "not something that can be told"),
        (("tell", "laid", "1.1.1"), "the piece is not in the hand"),
        (("did", "9.9.9"), "the plan has no such piece"),
        (("merge", "none.json"), "none.json"),
        (("again", "--wall", "A-B"), "a wall and a length"),
        (("again", "--wall", "Q-R=8"), "no such wall"),
    ],
)
def test_bad_input_is_told_and_changes_nothing(
    bench: Bench, words: tuple[str, ...], message: str
) -> None:
    code, out, err = bench.run(*words)
    assert code == 2
    assert message in err
    assert "Traceback" not in out + err
    assert bench.json("events") == {"events": []}


def test_no_log_and_a_log_that_is_there(bench: Bench) -> None:
    bench.log = bench.folder / "none.log"
    code, _, err = bench.run("next")
    assert code == 2
    assert "plankwright lay start" in err
    argv = ["plankwright", "lay", "start", "plan.json", "--log", "den.log"]
    bench.monkeypatch.setattr(sys, "argv", argv)
    with pytest.raises(SystemExit) as leaving:
        app.run()
    assert leaving.value.code == 2
    assert "exists already" in bench.capsys.readouterr().err


def test_a_state_with_a_distance_that_cannot_be(bench: Bench) -> None:
    for end in ("near", "far"):
        assert bench.run("tell", "measured", "1", end, "5000")[0] == 0
    code, out, err = bench.run("state")
    assert code == 0
    assert "Check this" in err
    assert "Laid" in out


def test_planning_again_is_taken_and_taken_back(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    plan = plan_room(rectangle(4000.0, 2200.0), Board(1285.0, 192.0), effort=Effort(moves=300))
    bench = Bench(monkeypatch, capsys, tmp_path)
    bench.start(dump_plan(plan))
    for _ in range(6):
        bench.run("did")
    assert bench.json("again")["changes"] == []
    code, out, err = bench.run("again", "--wall", "B-C=12 mm", "--left", "2")
    assert code == 0
    assert "missing: buy" in out
    assert "add --take" in err
    kept = bench.json("again", "--wall", "B-C=12 mm", "--keep")
    assert kept["new_boards"] >= bench.json("again", "--wall", "B-C=12 mm")["new_boards"]
    batches = bench.json("again", "--second-batch", "4")
    assert batches["second_batch_row"] is not None
    assert 1 <= batches["second_batch_boards"] <= 4
    _, out, _ = bench.run("again", "--second-batch", "20", "--second-from", "8.1.1")
    assert "Second batch   from row 8 on, " in out
    assert bench.run("again", "--second-from", "door")[0] == 2
    taken = bench.json("again", "--wall", "B-C=12 mm", "--take")
    assert taken["revision"] == 2
    assert taken["suffices"]
    assert bench.json("state")["state"]["revision"] == 2
    bench.run("did")
    bench.run("undo")
    assert bench.json("events")["events"][-1]["kind"] == "undone"


def test_the_help_lists_every_sentence() -> None:
    told = " ".join((tell.__doc__ or "").split())
    for sentence in SENTENCES.values():
        assert f"{sentence.form}: {sentence.meaning}." in told


def test_repair_of_what_lies_and_of_a_finished_floor(bench: Bench) -> None:
    for _ in range(9):
        bench.run("did")
    bench.run("tell", "damaged", "3.1.2")
    code, out, _ = bench.run("repair")  # what was told as damaged
    assert (code, out.splitlines()[0]) == (0, "Repair of 3.1.2")
    assert "Lift           row 3, 3 pieces: 1 new board" in out
    assert "a rough guess" in out
    found = bench.json("repair", "2.1.1")
    assert found["rows"] == [2, 3]
    assert set(found["labels"]) == set(found["lifted"]) - {"2.1.1"}
    of_plan = [str(bench.folder / "plan.json"), "2.1.1", "--json"]
    bench.monkeypatch.setattr(sys, "argv", ["plankwright", "lay", "repair", *of_plan])
    with pytest.raises(SystemExit):
        app.run()
    assert json.loads(bench.capsys.readouterr().out)["lifted"] == found["lifted"]
    _, out, _ = bench.run("repair", "2.1.1", "--both", "--cut-out", "30")
    assert "glue: 1 new board, about 30 min" in out
    assert ("Lift:" in out, "Cut out:" in out) == (True, True)


def test_no_repair_where_nothing_is_damaged(bench: Bench) -> None:
    code, _, err = bench.run("repair")
    assert code == 2
    assert "no such piece lies" in err
