"""One SQLite file: opened safely, written in transactions, its troubles told in plain words.

Written through to the disk before anything is acknowledged (WAL, ``synchronous=FULL``), so that
what was acknowledged is there after a power cut. While it is open the newest pages lie in a second
file beside it; when it is closed there is one file again. Copy an open one with :meth:`copy_to`.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, Self
from urllib.parse import quote

from plankwright.errors import FileError, PlankwrightError
from plankwright.store.schema import migrate, require_known

PATIENCE_S = 10.0  # how long another writer is waited for
Row = tuple[Any, ...]


class Database:
    """An open store file.

    Parameters
    ----------
    path : the file; made when it is missing, unless it is opened for reading.
    read_only : nothing will be written; works on a file or a folder that cannot be written to.
    """

    def __init__(self, path: Path, *, read_only: bool = False) -> None:
        self.path = path
        self.read_only = read_only
        with told(str(path)):
            self._connection = _connect(path, read_only=read_only)
            try:
                self._prepare()
            except BaseException:
                self._connection.close()
                raise

    def _prepare(self) -> None:
        if self.read_only:
            require_known(self._connection, str(self.path))
            return
        require_known(self._connection, str(self.path))  # before anything is changed
        self._connection.execute("PRAGMA journal_mode = WAL")
        self._connection.execute("PRAGMA synchronous = FULL")
        self._connection.execute("PRAGMA foreign_keys = ON")
        migrate(self._connection, str(self.path))
        # SQLite opens what it may only read, too: only something to write tells
        self._connection.execute("DELETE FROM job WHERE 0")

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; what was written is in the one file again."""
        self._connection.close()

    def rows(self, query: str, values: Row = ()) -> list[Row]:
        """The rows of a query."""
        with told(str(self.path)):
            return self._connection.execute(query, values).fetchall()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction: all of it is on the disk when the block ends, or none of it."""
        if self.read_only:
            raise _read_only(str(self.path))
        with told(str(self.path)):
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield self._connection
                self._connection.execute("COMMIT")
            except BaseException:
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
                raise

    def copy_to(self, path: Path) -> None:
        """A whole and consistent copy in another file, while this one stays in use.

        Raises
        ------
        FileError : the other file exists already or cannot be written.
        """
        if path.exists():
            raise FileError(
                "exists already", where=str(path), remedy="Name a new file for the copy."
            )
        try:
            with told(str(path)):
                copy = sqlite3.connect(path)
                try:
                    self._connection.backup(copy)
                    copy.execute("PRAGMA journal_mode = DELETE")  # one file, nothing beside it
                finally:
                    copy.close()
        except BaseException:
            path.unlink(missing_ok=True)
            raise

    def damage(self) -> tuple[str, ...]:
        """What SQLite's own check of the file finds; nothing in a sound one."""
        found = [str(row[0]) for row in self.rows("PRAGMA integrity_check")]
        return () if found == ["ok"] else tuple(found)


def _connect(path: Path, *, read_only: bool) -> sqlite3.Connection:
    if not read_only:
        return sqlite3.connect(path, timeout=PATIENCE_S, isolation_level=None,
                               check_same_thread=False)  # fmt: skip
    if not path.is_file():
        raise FileError("no such file", where=str(path), remedy="Check the name.")
    try:
        return _readable(path, "mode=ro")
    except sqlite3.OperationalError:
        # the folder takes no second file: read it as it is, if nothing waits beside it
        if path.with_name(path.name + "-wal").exists():
            raise
        return _readable(path, "mode=ro&immutable=1")


def _readable(path: Path, how: str) -> sqlite3.Connection:
    address = f"file:{quote(str(path.absolute()))}?{how}"
    connection = sqlite3.connect(
        address, uri=True, timeout=PATIENCE_S, isolation_level=None, check_same_thread=False
    )
    try:
        connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except BaseException:
        connection.close()
        raise
    return connection


@contextmanager
def told(where: str) -> Iterator[None]:
    """SQLite's troubles as a :class:`~plankwright.errors.FileError` with what to do about them."""
    try:
        yield
    except PlankwrightError:
        raise
    except sqlite3.Error as error:
        raise _plain(error, where) from error


def _plain(error: sqlite3.Error, where: str) -> FileError:
    code = (getattr(error, "sqlite_errorcode", 0) or 0) & 0xFF  # the primary code
    if code == sqlite3.SQLITE_READONLY:
        return _read_only(where)
    message, remedy = _TROUBLES.get(
        code, (f"cannot be used: {error}", "Copy the file to a safe place and try again.")
    )
    return FileError(message, where=where, remedy=remedy)


def _read_only(where: str) -> FileError:
    return FileError(
        "the file or its folder cannot be written to; nothing was changed and nothing is lost",
        where=where,
        remedy="Allow writing to it, or copy it to where you may write.",
    )


_TROUBLES: dict[int, tuple[str, str]] = {
    sqlite3.SQLITE_FULL: (
        "the disk is full; this was not written down, all that was written before is safe",
        "Make room on the disk and do it again.",
    ),
    sqlite3.SQLITE_BUSY: (
        "another program is writing to it",
        "Wait until it is done and try again.",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        "cannot be opened",
        "Check the name, that the folder is there and that you may write to it.",
    ),
    sqlite3.SQLITE_NOTADB: ("not a store of this program", "Check the name."),
    sqlite3.SQLITE_CORRUPT: (
        "damaged: parts of it cannot be read",
        "Copy it away first, then take your last copy or export.",
    ),
    sqlite3.SQLITE_IOERR: (
        "the disk failed or is full; this was not written down, all that was before is safe",
        "Check the disk and its free room, then do it again.",
    ),
    sqlite3.SQLITE_PERM: ("you may not use it", "Allow reading and writing."),
}
