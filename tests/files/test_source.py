"""Opening files: size, encoding, kind."""

from pathlib import Path

import pytest

from plankwright.errors import FileError
from plankwright.files.source import kind_of, parse_toml, read_text


def test_reads_utf8_with_or_without_mark(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes("name = '½'".encode("utf-8-sig"))
    assert read_text(path, 1000) == "name = '½'"


def test_missing_file_names_its_neighbor(tmp_path: Path) -> None:
    (tmp_path / "den.toml").touch()
    with pytest.raises(FileError, match=r"no such file.*'den.toml'"):
        read_text(tmp_path / "dne.toml", 1000)
    with pytest.raises(FileError, match=r"Check the name"):
        read_text(tmp_path / "zzz", 1000)
    with pytest.raises(FileError, match=r"Check the folder"):
        read_text(tmp_path / "no" / "such", 1000)


def test_refuses_folders_large_and_binary_files(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="not a file"):
        read_text(tmp_path, 1000)
    large = tmp_path / "large.json"
    large.write_bytes(b" " * 2001)
    with pytest.raises(FileError, match="too large"):
        read_text(large, 2000)
    large.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FileError, match="UTF-8"):
        read_text(large, 2000)


def test_kind_by_ending() -> None:
    assert kind_of(Path("a.TOML")) == "toml"
    assert kind_of(Path("a.geojson")) == "json"
    with pytest.raises(FileError, match="job file"):
        kind_of(Path("a.docx"))


def test_toml_errors_name_the_line() -> None:
    with pytest.raises(FileError, match="line 2"):
        parse_toml("a = 1\nb = \nc = 2", "f")
    with pytest.raises(FileError, match="nested too deeply"):
        parse_toml("a = " + "[" * 50_000, "f")
