"""Jobs, documents with their revisions, the log, photographs, export and import."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.guide.happenings import BOARD_MM, day

from plankwright.errors import FileError, InputError
from plankwright.guide.events import Event, RowLocked
from plankwright.guide.laying_state import fold
from plankwright.store.database import Database
from plankwright.store.export import export_job, import_job
from plankwright.store.jobs import Jobs, StaleError
from plankwright.store.log import EventLog
from plankwright.store.photographs import Photographs

PNG = b"\x89PNG\r\n\x1a\n" + b"0" * 100
JPEG = b"\xff\xd8\xff\xe0" + b"1" * 100


@pytest.fixture
def database(tmp_path: Path) -> "Database":
    return Database(tmp_path / "store.plankwright")


# --- jobs and documents ----------------------------------------------------------------------


def test_many_jobs_in_one_file(database: Database) -> None:
    jobs = Jobs(database)
    one, two = jobs.add("den"), jobs.add("hall", "hall")
    assert [job.name for job in jobs.all()] == ["den", "hall"]
    assert two.id == "hall"
    assert one.id != two.id
    with pytest.raises(InputError, match="such a job already"):
        jobs.add("hall", "hall")
    jobs.rename("hall", "hallway")
    assert jobs.get("hall").name == "hallway"
    with pytest.raises(InputError, match="2 jobs, not one"):
        jobs.only()


def test_a_job_put_away_stays_in_the_file(database: Database) -> None:
    jobs = Jobs(database)
    jobs.add("den", "den")
    jobs.save("den", "job", "text")
    jobs.put_away("den")
    assert jobs.all() == ()
    assert [job.id for job in jobs.all(put_away=True)] == ["den"]
    document = jobs.document("den", "job")
    assert document is not None
    assert document.body == "text"
    jobs.take_out("den")
    assert jobs.only().id == "den"


def test_no_such_job(database: Database) -> None:
    jobs = Jobs(database)
    for call in (jobs.get, jobs.put_away, lambda name: jobs.save(name, "job", "")):
        with pytest.raises(InputError, match="no such job"):
            call("nobody's")


def test_documents_have_revisions_and_none_is_overwritten(database: Database) -> None:
    jobs = Jobs(database)
    jobs.add("den", "den")
    assert jobs.document("den", "plan") is None
    first = jobs.save("den", "plan", "one", base=0)
    second = jobs.save("den", "plan", "two", base=1, why="the wall is 8 mm nearer")
    assert (first.revision, second.revision) == (1, 2)
    with pytest.raises(StaleError) as refused:
        jobs.save("den", "plan", "three", base=1)
    assert refused.value.newest == 2
    assert [d.body for d in jobs.revisions("den", "plan")] == ["one", "two"]
    assert jobs.document("den", "plan", 1) == first
    assert jobs.document("den", "plan") == second
    assert jobs.document("den", "job") is None


# --- the log ---------------------------------------------------------------------------------


def test_an_event_given_twice_is_there_once(database: Database) -> None:
    Jobs(database).add("den", "den")
    log = EventLog(database, "den")
    one = Event("e1", 1, "phone", "", RowLocked(1))
    assert log.append([one]) == 1
    assert log.append([one, one]) == 0
    assert log.events() == ((1, one),)


def test_another_event_of_the_same_id_is_refused_and_nothing_is_written(database: Database) -> None:
    Jobs(database).add("den", "den")
    log = EventLog(database, "den")
    log.append([Event("e1", 1, "phone", "", RowLocked(1))])
    with pytest.raises(InputError, match="two different events"):
        log.append(
            [Event("e2", 2, "phone", "", RowLocked(2)), Event("e1", 1, "phone", "", RowLocked(9))]
        )
    assert [event.id for _, event in log.events()] == ["e1"]


def test_jobs_do_not_see_each_others_events(database: Database) -> None:
    jobs = Jobs(database)
    jobs.add("den", "den")
    jobs.add("hall", "hall")
    event = Event("e1", 1, "phone", "", RowLocked(1))
    assert EventLog(database, "den").append([event]) == 1
    assert EventLog(database, "hall").append([event]) == 1
    EventLog(database, "den").append([Event("e2", 2, "phone", "", RowLocked(2))])
    assert [number for number, _ in EventLog(database, "den").events()] == [1, 3]
    assert [event.id for _, event in EventLog(database, "den").events(after=1)] == ["e2"]
    assert len(EventLog(database, "hall").events()) == 1


def test_an_event_for_no_job_is_refused(database: Database) -> None:
    with pytest.raises(FileError):
        EventLog(database, "none").append([Event("e1", 1, "phone", "", RowLocked(1))])


def test_what_is_stored_folds_to_the_same_state(database: Database) -> None:
    Jobs(database).add("den", "den")
    log = EventLog(database, "den")
    events = day(5, 80)
    for event in events:
        log.append([event])
    assert log.folded(BOARD_MM).state == fold(events, BOARD_MM)


# --- photographs -----------------------------------------------------------------------------


def test_a_photograph_is_kept_once(database: Database) -> None:
    Jobs(database).add("den", "den")
    photos = Photographs(database, "den")
    kept = photos.add(PNG)
    assert photos.add(PNG) == kept
    assert kept.media_type == "image/png"
    assert photos.get(kept.digest) == kept
    assert photos.get("no such") is None
    assert len(photos.all()) == 1
    with pytest.raises(InputError, match="every browser"):
        photos.add(b"<svg onload=alert(1)>")


# --- export and import -----------------------------------------------------------------------


@settings(derandomize=True, deadline=None, max_examples=15)
@given(
    seed=st.integers(0, 1000),
    name=st.text(max_size=20).filter(lambda text: "\x00" not in text),
    bodies=st.lists(st.text(max_size=50).filter(lambda text: "\x00" not in text), max_size=3),
)
def test_export_and_import_is_identity(
    tmp_path_factory: pytest.TempPathFactory, seed: int, name: str, bodies: list[str]
) -> None:
    folder = tmp_path_factory.mktemp("export")
    with Database(folder / "a") as one, Database(folder / "b") as two:
        name = name.encode("utf-8", "replace").decode()
        job = Jobs(one).add(name)
        for body in bodies:
            Jobs(one).save(job.id, "plan", body.encode("utf-8", "replace").decode(), why="because")
        EventLog(one, job.id).append(day(seed, 20))
        Photographs(one, job.id).add(JPEG)
        text = export_job(one, job.id)
        assert import_job(two, text).id == job.id
        assert export_job(two, job.id) == text
        with pytest.raises(InputError, match="such a job already"):
            import_job(two, text)


def _exported(database: Database) -> dict[str, object]:
    Jobs(database).add("den", "den")
    Jobs(database).save("den", "job", "text")
    EventLog(database, "den").append(day(1, 5))
    entry: dict[str, object] = json.loads(export_job(database, "den"))
    return entry


@pytest.mark.parametrize(
    "change",
    [
        {"format": "another"},
        {"version": 2},
        {"events": [{"kind": "no such"}]},
        {"events": 5},
        {"job": {"id": 5}},
        {"documents": [{"kind": "job", "revision": 2, "made": "", "why": "", "body": ""}]},
        {"documents": [{"kind": "diary", "revision": 1, "made": "", "why": "", "body": ""}]},
        {"photographs": [{"bytes": "***"}]},
    ],
)
def test_a_bad_export_leaves_the_store_as_it_was(
    database: Database, tmp_path: Path, change: dict[str, object]
) -> None:
    text = json.dumps({**_exported(database), **change})
    with Database(tmp_path / "other") as other:
        with pytest.raises(InputError):
            import_job(other, text, "den.json")
        assert Jobs(other).all() == ()
        with pytest.raises(FileError, match="not JSON"):
            import_job(other, "{", "den.json")
