"""Writing files and folders."""

from pathlib import Path

import pytest

from plankwright.errors import FileError
from plankwright.files.writing import make_folder, write_whole


def test_makes_folders_and_writes_whole(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    make_folder(folder)
    make_folder(folder)
    path = write_whole(folder / "x.txt", "½\n")
    assert write_whole(path, "⅝\n").read_bytes() == "⅝\n".encode()
    assert [entry.name for entry in folder.iterdir()] == ["x.txt"]


def test_says_why_it_cannot(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(FileError, match="no such folder can be made"):
        make_folder(tmp_path / "file")
    with pytest.raises(FileError, match="cannot be written"):
        write_whole(tmp_path / "none" / "x.txt", "")
