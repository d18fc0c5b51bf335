"""The tables of a store and their numbered migrations.

``PRAGMA user_version`` tells how many migrations a file has seen; each runs once, with the new
number, in one transaction. Files of a later version are refused, never guessed at. Documents and
events are only ever added: triggers refuse to change or delete them.
"""

import sqlite3

from plankwright.errors import FileError

# "PLNK" as a number, in the file's header: other programs' databases are not ours to change.
APPLICATION_ID = 0x504C4E4B

_FIRST = """
CREATE TABLE job (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    made TEXT NOT NULL,
    put_away TEXT                       -- when it was put away; NULL while it is in use
) STRICT;

CREATE TABLE document (
    job TEXT NOT NULL REFERENCES job (id),
    kind TEXT NOT NULL,                 -- 'job', 'plan', ...
    revision INTEGER NOT NULL CHECK (revision >= 1),
    body TEXT NOT NULL,
    made TEXT NOT NULL,
    why TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (job, kind, revision)
) STRICT;

CREATE TABLE event (
    number INTEGER PRIMARY KEY AUTOINCREMENT,   -- in the order in which they came in
    job TEXT NOT NULL REFERENCES job (id),
    id TEXT NOT NULL,                           -- made by who wrote it down
    body TEXT NOT NULL,                         -- JSON
    came TEXT NOT NULL,
    UNIQUE (job, id)
) STRICT;

CREATE TABLE photograph (
    job TEXT NOT NULL REFERENCES job (id),
    digest TEXT NOT NULL,               -- SHA-256 of its bytes
    media_type TEXT NOT NULL,
    bytes BLOB NOT NULL,
    PRIMARY KEY (job, digest)
) STRICT;

CREATE TRIGGER document_is_kept BEFORE DELETE ON document
BEGIN SELECT RAISE(ABORT, 'documents are never deleted'); END;
CREATE TRIGGER document_is_fixed BEFORE UPDATE ON document
BEGIN SELECT RAISE(ABORT, 'documents are never changed'); END;
CREATE TRIGGER event_is_kept BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'events are never deleted'); END;
CREATE TRIGGER event_is_fixed BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
"""

MIGRATIONS: tuple[str, ...] = (_FIRST,)


def migrate(
    connection: sqlite3.Connection, where: str, migrations: tuple[str, ...] = MIGRATIONS
) -> None:
    """Bring a file to the newest version, one migration a transaction.

    Raises
    ------
    FileError : the file is of a later version, or another program's.
    """
    require_known(connection, where, migrations)
    while version_of(connection) < len(migrations):
        connection.execute("BEGIN IMMEDIATE")
        try:
            version = version_of(connection)  # another process may have been faster
            if version < len(migrations):
                for statement in statements(migrations[version]):
                    connection.execute(statement)
                connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                connection.execute(f"PRAGMA user_version = {version + 1}")
            connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            raise


def require_known(
    connection: sqlite3.Connection, where: str, migrations: tuple[str, ...] = MIGRATIONS
) -> None:
    """Refuse a file of a later version or of another program."""
    version = version_of(connection)
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    if (application or tables) and application != APPLICATION_ID:
        raise FileError(
            "a database of another program",
            where=where,
            remedy="Name a file that this program made, or a new one.",
        )
    if version > len(migrations):
        raise FileError(
            "made by a later version of the program",
            where=where,
            value=version,
            remedy=f"This program reads files up to version {len(migrations)}: update it.",
        )


def version_of(connection: sqlite3.Connection) -> int:
    """How many migrations a file has seen."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def statements(script: str) -> list[str]:
    """The statements of a script; sqlite3's own ``executescript`` would commit between them."""
    found, text = [], ""
    for part in script.split(";"):
        text += part + ";"
        if sqlite3.complete_statement(text) and text.strip(" \n;"):
            found.append(text)
            text = ""
    return found
