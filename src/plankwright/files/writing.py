"""Writing files: a folder that can be made or a plain message; a file whole or not at all."""

from pathlib import Path

from plankwright.errors import FileError


def make_folder(folder: Path) -> None:
    """The folder, made with its parents where it is missing."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(
            f"no such folder can be made: {error.strerror}",
            where=f"--out {folder}",
            remedy="Name a folder that you may write to.",
        ) from None


def write_whole(path: Path, content: str | bytes) -> Path:
    """Write a text or bytes beside their place, then put them there in one step."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    beside = path.with_name(path.name + ".part")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    except OSError as error:
        raise FileError(
            f"cannot be written: {error.strerror}",
            where=str(path),
            remedy="Look whether the disk is full and the folder may be written to.",
        ) from None
    return path
