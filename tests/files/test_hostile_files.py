"""Damaged and hostile files: rooms, or a message with place and remedy; never anything else.

All 300 of them, each in a process of its own with time and memory measured, are a table of
``python -m benchmarks.run hostile-files``.
"""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.files.hostile_files import KINDS, Hostile, hostile_files

from plankwright.errors import InputError
from plankwright.files import reader_process
from plankwright.files.reader_process import read_apart, read_here
from plankwright.files.room_file import find_rooms
from plankwright.model.found_rooms import FoundRooms

# A crash of the library that reads IFC would take the tests along: one of a kind, set apart.
APART = ("ifc-truncated", "ifc-flipped", "ifc-rings", "ifc-absurd")
TWO_EACH = list(hostile_files(seed=7, each=2))
SLOW = ("many-entities-0", "many-entities-1", "nested-blocks-0")  # some seconds each
HERE = [one for one in TWO_EACH if not one.name.startswith(SLOW) and ".ifc" not in one.name]
SET_APART = [one for one in TWO_EACH if one.name.removesuffix("-0.ifc") in APART]


def outcome(read: Callable[[Path], FoundRooms], folder: Path, one: Hostile) -> str:
    """What reading a file came to, in words."""
    path = folder / one.name
    path.write_bytes(one.content)
    refusal = None
    try:
        found = read(path)
    except InputError as error:
        refusal = error
    if refusal is None:
        assert all(finding.message for finding in found.findings)
        return f"{len(found.rooms)} rooms"
    assert path.name in refusal.where
    assert refusal.remedy, refusal
    assert "Traceback" not in str(refusal)
    assert len(str(refusal)) < 1500
    return str(refusal)


@pytest.mark.parametrize("one", HERE, ids=lambda one: one.name)
def test_read_here(one: Hostile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("plankwright.files.room_file.read_apart", read_here)
    assert outcome(find_rooms, tmp_path, one)
    assert [path.name for path in tmp_path.iterdir()] == [one.name]  # nothing was written


@pytest.mark.parametrize("one", SET_APART, ids=lambda one: one.name)
def test_read_apart(one: Hostile, tmp_path: Path) -> None:
    assert outcome(read_apart, tmp_path, one)
    assert [path.name for path in tmp_path.iterdir()] == [one.name]


def test_a_million_entities_are_refused_before_they_are_read(tmp_path: Path) -> None:
    (one,) = (one for one in hostile_files(each=1) if one.name.startswith("many-entities"))
    told = outcome(find_rooms, tmp_path, one)
    assert "too large" in told or "more than 200000 things" in told


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("array-of-blocks", "more than 60000 things"),
        ("unknown-ending", "not a kind of file"),
    ],
)
def test_what_is_said(name: str, words: str, tmp_path: Path) -> None:
    for one in hostile_files(seed=3, each=1):
        if one.name.startswith(name):
            path = tmp_path / one.name
            path.write_bytes(one.content)
            try:
                told = " ".join(f.message for f in find_rooms(path).findings)
            except InputError as error:
                told = str(error)
            assert re.search(words, told)


def test_the_same_seed_makes_the_same_files() -> None:
    assert list(hostile_files(seed=5, each=1)) == list(hostile_files(seed=5, each=1))
    assert len(KINDS) * 13 >= 299


def slow_reader(folder: Path, body: str) -> Path:
    """A reader that misbehaves, in the place of ours."""
    (folder / "bad_reader.py").write_text(body)
    return folder


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("import time; time.sleep(60)", "took more than"),
        ("import os; os.kill(os.getpid(), 11)", "stopped in the middle"),
        ("print('no answer')", "stopped in the middle"),
        ("raise SystemExit(3)", "stopped in the middle"),
    ],
)
def test_a_reader_that_hangs_crashes_or_babbles(
    body: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow_reader(tmp_path, body)
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.setattr(reader_process, "READER", "bad_reader")
    monkeypatch.setattr(reader_process, "LONGEST_S", 0.5)
    (tmp_path / "a.dxf").write_text("0\nSECTION\n")
    with pytest.raises(InputError, match=words):
        read_apart(tmp_path / "a.dxf")


def test_memory_is_limited(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    slow_reader(
        tmp_path,
        "from plankwright.files import reader_process as r\n"
        "r.MOST_BYTES = 700_000_000\n"
        "r.read_here = lambda path, **_: bytearray(2_000_000_000)\n"
        "r.main()\n",
    )
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.setattr(reader_process, "READER", "bad_reader")
    (tmp_path / "a.dxf").write_text("0\nSECTION\n")
    with pytest.raises(InputError, match="too much memory"):
        read_apart(tmp_path / "a.dxf")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.dxf", "bad_reader.py"]
