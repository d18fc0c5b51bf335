"""Files that older versions wrote are read by this one, whole."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from plankwright.store.database import Database
from plankwright.store.export import export_job, import_job
from plankwright.store.jobs import Jobs
from plankwright.store.log import EventLog
from plankwright.store.photographs import Photographs
from plankwright.store.schema import MIGRATIONS, version_of

SAMPLES = sorted((Path(__file__).with_name("samples")).glob("version_*.sql"))


def test_there_is_a_sample_of_every_version() -> None:
    numbers = [int(path.stem.removeprefix("version_")) for path in SAMPLES]
    assert numbers == list(range(1, len(MIGRATIONS) + 1))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_an_old_file_is_read_whole(sample: Path, tmp_path: Path) -> None:
    path = tmp_path / "old.log"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(sample.read_text(encoding="utf-8"))
    with Database(path) as database:
        job = Jobs(database).only()
        assert (job.id, job.name) == ("den", "Den")
        plans = Jobs(database).revisions("den", "plan")
        assert [(plan.revision, plan.body) for plan in plans] == [(1, "{}"), (2, '{"second": 2}')]
        log = EventLog(database, "den").folded((1285.0, 192.0))
        assert len({event.id for event in log.events}) == 30
        assert log.state.stock_um2 == log.state.accounted_um2
        assert len(Photographs(database, "den").all()) == 1
        text = export_job(database, "den")
        with Database(tmp_path / "new.log") as new:
            import_job(new, text)
            assert export_job(new, "den") == text
    with closing(sqlite3.connect(path)) as connection:
        assert version_of(connection) == len(MIGRATIONS)
