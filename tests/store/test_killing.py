"""Killed while it writes: a sample of the table ``killing``, which does it 1,000 times."""

from pathlib import Path

from benchmarks.killing import kill_often


def test_nothing_acknowledged_is_lost_when_the_writer_is_killed(tmp_path: Path) -> None:
    tally = kill_often(20, seed=7, folder=tmp_path)
    assert tally.faults == []
    assert tally.kills == 20
    assert tally.acknowledged > 0
