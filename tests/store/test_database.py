"""The store file: migrations, copies, and troubles told in plain words with nothing lost."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from plankwright.errors import FileError
from plankwright.guide.events import Event, Noted, RowLocked
from plankwright.store import schema
from plankwright.store.database import Database
from plankwright.store.jobs import Jobs
from plankwright.store.log import EventLog
from plankwright.store.schema import MIGRATIONS, migrate, statements, version_of

NOBODY = 65534


def event(number: int, text: str = "") -> Event:
    what = Noted(text) if text else RowLocked(number)
    return Event(f"e{number}", number, "test", "", what)


def filled(path: Path, events: int = 3) -> None:
    with Database(path) as database:
        Jobs(database).add("den", "den")
        EventLog(database, "den").append(event(number) for number in range(1, events + 1))


def ids(database: Database) -> list[str]:
    return [event.id for _, event in EventLog(database, "den").events()]


# --- opening and migrations ------------------------------------------------------------------


def test_a_new_file_is_durable_and_strict(tmp_path: Path) -> None:
    with Database(tmp_path / "a.plankwright") as database:
        (synchronous,) = database.rows("PRAGMA synchronous")[0]
        assert synchronous == 2  # FULL
        assert database.rows("PRAGMA journal_mode") == [("wal",)]
        assert database.rows("PRAGMA foreign_keys") == [(1,)]
        strict = database.rows("SELECT name, strict FROM pragma_table_list WHERE type = 'table'")
        ours = {name: flag for name, flag in strict if not name.startswith("sqlite_")}
        assert set(ours) == {"job", "document", "event", "photograph"}
        assert set(ours.values()) == {1}


def test_one_file_is_left_when_it_is_closed(tmp_path: Path) -> None:
    filled(tmp_path / "a.plankwright")
    assert [path.name for path in tmp_path.iterdir()] == ["a.plankwright"]


def test_migrations_run_once_each_and_in_order(tmp_path: Path) -> None:
    more = (*MIGRATIONS, "CREATE TABLE weather (day TEXT) STRICT;", "DROP TABLE weather;")
    with closing(sqlite3.connect(tmp_path / "a", isolation_level=None)) as connection:
        migrate(connection, "a", more[:2])
        assert version_of(connection) == 2
        connection.execute("INSERT INTO weather VALUES ('wet')")
        migrate(connection, "a", more[:2])  # again: nothing
        assert connection.execute("SELECT count(*) FROM weather").fetchone() == (1,)
        migrate(connection, "a", more)
        assert version_of(connection) == 3


def test_a_migration_that_fails_changes_nothing(tmp_path: Path) -> None:
    bad = (*MIGRATIONS, "CREATE TABLE weather (day TEXT) STRICT; CREATE TABLE job (id TEXT);")
    with closing(sqlite3.connect(tmp_path / "a", isolation_level=None)) as connection:
        with pytest.raises(sqlite3.OperationalError):
            migrate(connection, "a", bad)
        assert version_of(connection) == 1
        tables = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
        assert ("weather",) not in tables.fetchall()
        assert not connection.in_transaction


def test_the_migrations_are_whole_statements() -> None:
    for script in MIGRATIONS:
        joined = "".join(statements(script))
        assert joined.split() == script.split()


def test_a_later_version_is_refused(tmp_path: Path) -> None:
    filled(tmp_path / "a")
    with closing(sqlite3.connect(tmp_path / "a")) as connection:
        connection.execute("PRAGMA user_version = 99")
    for read_only in (False, True):
        with pytest.raises(FileError, match="later version"):
            Database(tmp_path / "a", read_only=read_only)


def test_another_programs_database_is_refused_and_unchanged(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "a")) as connection:
        connection.execute("CREATE TABLE mail (text)")
        connection.commit()
    before = (tmp_path / "a").read_bytes()
    with pytest.raises(FileError, match="another program"):
        Database(tmp_path / "a", read_only=True)
    with pytest.raises(FileError, match="another program"):
        Database(tmp_path / "a")
    with closing(sqlite3.connect(tmp_path / "a")) as connection:
        assert connection.execute("SELECT name FROM sqlite_schema").fetchall() == [("mail",)]
    assert len((tmp_path / "a").read_bytes()) == len(before)


def test_no_database_at_all(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("not a database, but a text that is long enough to be read" * 20)
    with pytest.raises(FileError, match="not a store of this program"):
        Database(tmp_path / "a")
    with pytest.raises(FileError, match="no such file"):
        Database(tmp_path / "b", read_only=True)
    with pytest.raises(FileError, match="cannot be opened"):
        Database(tmp_path / "no folder" / "b")


# --- only ever added -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM event",
        "UPDATE event SET body = '{}'",
        "DELETE FROM document",
        "UPDATE document SET body = ''",
    ],
)
def test_events_and_documents_are_only_added(tmp_path: Path, statement: str) -> None:
    filled(tmp_path / "a")
    with Database(tmp_path / "a") as database:
        Jobs(database).save("den", "plan", "{}")
        with pytest.raises(FileError, match="never"), database.writing() as connection:
            connection.execute(statement)
        assert ids(database) == ["e1", "e2", "e3"]


# --- copies ----------------------------------------------------------------------------------


def test_a_copy_while_it_is_open_and_being_written(tmp_path: Path) -> None:
    filled(tmp_path / "a")
    with Database(tmp_path / "a") as database:
        EventLog(database, "den").append([event(4)])
        database.copy_to(tmp_path / "copy")
        EventLog(database, "den").append([event(5)])
    assert not (tmp_path / "copy-wal").exists()
    with Database(tmp_path / "copy", read_only=True) as copy:
        assert ids(copy) == ["e1", "e2", "e3", "e4"]
        assert copy.damage() == ()


def test_a_copy_overwrites_nothing(tmp_path: Path) -> None:
    filled(tmp_path / "a")
    (tmp_path / "b").write_text("precious")
    with Database(tmp_path / "a") as database, pytest.raises(FileError, match="exists already"):
        database.copy_to(tmp_path / "b")
    assert (tmp_path / "b").read_text() == "precious"


# --- troubles --------------------------------------------------------------------------------


def test_a_full_disk_is_told_and_nothing_is_lost(tmp_path: Path) -> None:
    filled(tmp_path / "a")
    with Database(tmp_path / "a") as database:
        (pages,) = database.rows("PRAGMA page_count")[0]
        database.rows(f"PRAGMA max_page_count = {pages + 2}")
        log, written = EventLog(database, "den"), ["e1", "e2", "e3"]

        def write_on() -> None:
            for number in range(4, 200):
                log.append([event(number, "a long note " * 100)])
                written.append(f"e{number}")

        with pytest.raises(FileError, match="disk is full") as refused:
            write_on()
        assert "Make room" in refused.value.remedy
        assert ids(database) == written
        database.rows("PRAGMA max_page_count = 100000")  # room was made
        log.append([event(500)])
        assert ids(database) == [*written, "e500"]
    with Database(tmp_path / "a") as database:
        assert ids(database) == [*written, "e500"]
        assert database.damage() == ()


@contextmanager
def as_nobody() -> Iterator[None]:
    """Without the right to write everywhere, which root has."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.mark.parametrize("folder_too", [False, True])
def test_a_read_only_file_is_told_and_can_be_read(folder_too: bool) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder, path = Path(name), Path(name) / "a"
        filled(path)
        path.chmod(0o444)
        folder.chmod(0o555 if folder_too else 0o777)
        try:
            with as_nobody():
                with pytest.raises(FileError, match="cannot be") as refused:
                    Database(path)
                assert refused.value.remedy
                with Database(path, read_only=True) as database:
                    assert ids(database) == ["e1", "e2", "e3"]
                    with pytest.raises(FileError, match="cannot be written to"):
                        EventLog(database, "den").append([event(4)])
        finally:
            folder.chmod(0o777)
        with Database(path, read_only=True) as database:
            assert ids(database) == ["e1", "e2", "e3"]


def test_a_file_that_is_being_written_by_another_program_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("plankwright.store.database.PATIENCE_S", 0.05)
    filled(tmp_path / "a")
    with Database(tmp_path / "a") as one, Database(tmp_path / "a") as two:
        with one.writing(), pytest.raises(FileError, match="another program is writing"):
            EventLog(two, "den").append([event(9)])
        EventLog(two, "den").append([event(9)])
        assert ids(one) == ["e1", "e2", "e3", "e9"]


def test_damage_is_told(tmp_path: Path) -> None:
    filled(tmp_path / "a", events=400)
    data = bytearray((tmp_path / "a").read_bytes())
    data[8192:24576] = b"x" * 16384
    (tmp_path / "a").write_bytes(bytes(data))

    def read_on() -> None:
        with Database(tmp_path / "a") as database:
            assert database.damage()
            ids(database)

    with pytest.raises(FileError, match=r"damaged|cannot be used"):
        read_on()


def test_the_id_of_the_format_is_in_the_files_header(tmp_path: Path) -> None:
    # SQLite file format, 1.3: the application id is the big-endian number at offset 68
    filled(tmp_path / "a")
    assert (tmp_path / "a").read_bytes()[68:72] == b"PLNK"
    assert int.from_bytes(b"PLNK") == schema.APPLICATION_ID
