"""A laying day in its store: written, taken back, merged, planned again, opened again."""

from pathlib import Path

import pytest
from tests.drawing.sample_plans import small_plan

from plankwright.application.lay_day import step_done
from plankwright.errors import FileError, InputError
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.guide.events import Event, PieceCut, PieceLaid, RowLocked
from plankwright.model.plan import Plan
from plankwright.store.database import Database
from plankwright.store.events_file import events_text, read_events_text
from plankwright.store.jobs import Jobs
from plankwright.store.laying import Laying, begin_laying, open_log

PNG = b"\x89PNG\r\n\x1a\n" + b"0" * 100


def read_plan(text: str) -> Plan:
    return load_plan(text, "plan")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "den.log"


@pytest.fixture
def laying(path: Path) -> Laying:
    return begin_laying(path, "den", dump_plan(small_plan()), read_plan, "[room]\n")


def test_what_is_written_is_there_when_it_is_opened_again(laying: Laying, path: Path) -> None:
    laying.write(step_done(laying.day))
    state = laying.day.state
    laying.database.close()
    assert [found.name for found in path.parent.iterdir()] == [path.name]
    with open_log(path, read_plan) as again:
        assert again.day.state == state
        assert again.job_text() == "[room]\n"
        assert again.first_plan == laying.first_plan


def test_all_of_it_or_nothing(laying: Laying) -> None:
    with pytest.raises(InputError, match="not in the hand"):
        laying.write([RowLocked(1), PieceLaid("1.1.1")])
    assert laying.day.log.events == ()
    with open_log(laying.database.path, read_plan) as again:
        assert again.day.log.events == ()


def test_taken_back_step_by_step(laying: Laying) -> None:
    cut, laid = laying.write(step_done(laying.day))
    with pytest.raises(InputError, match="rest on it"):
        laying.undo(cut.id)
    laying.undo()
    assert list(laying.day.state.hand) == ["1.1.1"]
    laying.undo()
    assert laying.day.state.stock_um2 == 0
    with pytest.raises(InputError, match="nothing was written down"):
        laying.undo()
    assert laid.order == cut.order + 1


def test_two_files_merge_in_any_order(laying: Laying, tmp_path: Path) -> None:
    one = [Event("a1", 1, "a", "", PieceLaid("1.1.2", whole=True))]
    two = [Event("b1", 1, "b", "", PieceLaid("2.1.1", whole=True)),
           Event("b2", 2, "b", "", PieceLaid("1.1.2", whole=True))]  # fmt: skip
    assert laying.merge(two) == 2
    assert laying.merge(one) == 1
    assert laying.merge([*one, *two]) == 0
    # a1 comes before b2 whichever file came first
    assert laying.day.state.set_aside == {"b2": "the piece lies already"}
    with begin_laying(tmp_path / "x", "x", dump_plan(small_plan()), read_plan) as other:
        other.merge([*one, *two])
        assert other.day.state == laying.day.state


def test_two_programs_on_one_log_know_of_each_other(laying: Laying) -> None:
    with open_log(laying.database.path, read_plan) as other:
        laying.write([PieceLaid("1.1.2", whole=True)])
        with pytest.raises(InputError, match="the piece lies already"):
            other.write([PieceLaid("1.1.2", whole=True)])
        (event,) = other.write([RowLocked(1)])
        assert event.order == 2
        (event,) = laying.write([RowLocked(2)])
        assert event.order == 3
        assert laying.day.state.locked == {1, 2}
    with open_log(laying.database.path, read_plan) as again:
        assert again.day.state == laying.day.state
        assert again.day.state.set_aside == {}


def test_another_plan_and_back(laying: Laying) -> None:
    text = dump_plan(small_plan()).replace('"name": "sample"', '"name": "second"')
    assert laying.take_plan(text, "the wall is nearer") == 2
    assert laying.day.plan.name == "second"
    with open_log(laying.database.path, read_plan) as again:
        assert again.day.plan.name == "second"
        assert again.first_plan.name == "sample"
    laying.undo()
    assert laying.day.plan.name == "sample"


def test_a_photograph_is_kept_and_written_down(laying: Laying) -> None:
    event = laying.keep_photograph(PNG, "1.1.1", "before")
    assert laying.day.state.photos[event.id][0] == "1.1.1"
    with pytest.raises(InputError, match="every browser"):
        laying.keep_photograph(b"no picture")
    assert len(laying.day.log.events) == 1


@pytest.mark.parametrize("pictures", ["3", "[3]", '[{"bytes": "***"}]', '[{"bytes": 3}]'])
def test_photographs_that_cannot_be_read(pictures: str) -> None:
    text = events_text("job", ()).rstrip("}\n") + f', "photographs": {pictures}}}'
    with pytest.raises(InputError, match="photograph"):
        read_events_text(text, "file")


def test_no_log_no_plan_no_job(tmp_path: Path, path: Path) -> None:
    with pytest.raises(FileError, match="no such log file"):
        open_log(path, read_plan)
    with Database(path) as database:
        job = Jobs(database).add("den")
        with pytest.raises(InputError, match="no such plan"):
            Laying(database, job.id, read_plan)
        Jobs(database).add("hall")
    with pytest.raises(InputError, match="2 jobs"):
        open_log(path, read_plan)
    bad = tmp_path / "bad.log"
    with pytest.raises(InputError):
        begin_laying(bad, "den", "{}", read_plan)


def test_events_as_a_file_and_back() -> None:
    events = (
        Event("a1", 1, "phone", "2026-01-03T09:00:00Z", PieceCut("1.1.1", "", 400.0, 200.0, "far")),
        Event("ä2", 2, "phone", "", RowLocked(3)),
    )
    assert read_events_text(events_text("job", events), "file", "job") == events
    for text, message in (
        ("[", "not JSON"),
        ("[]", "not a file of events"),
        ('{"format": "plankwright-events", "version": 9}', "another version"),
        ('{"format": "plankwright-events", "version": 1, "events": 3}', "no list"),
        ('{"format": "plankwright-events", "version": 1, "events": [{}]}', "unknown kind"),
    ):
        with pytest.raises(InputError, match=message):
            read_events_text(text, "file")
