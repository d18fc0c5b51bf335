"""The fonts that every sheet is set in: shipped with the package, no others are looked at."""

from functools import cache
from importlib import resources
from pathlib import Path

from plankwright.errors import FileError

FACES = ("Inter-Regular.otf", "Inter-Bold.otf")
MISSING = "□"  # printed for a character that the font lacks


def font_folder() -> Path:
    """The folder with the fonts.

    Raises
    ------
    FileError
        when a font is missing, so that no sheet is set in whatever the machine happens to have.
    """
    folder = Path(str(resources.files("plankwright").joinpath("data", "fonts")))
    for face in FACES:
        if not (folder / face).is_file():
            raise FileError(
                "a font that sheets are set in is missing",
                where=str(folder / face),
                remedy="Install plankwright again; its fonts are part of it.",
            )
    return folder


def lacking(text: str) -> str:
    """The characters of a text that the font lacks, each once, in order."""
    if text.isascii():
        return ""
    known = _characters(str(font_folder() / FACES[0]))
    return "".join(dict.fromkeys(c for c in text if ord(c) not in known and not c.isspace()))


def printable(text: str) -> str:
    """The text with :data:`MISSING` where the font lacks a character."""
    missing = lacking(text)
    return text.translate({ord(c): MISSING for c in missing}) if missing else text


@cache
def _characters(path: str) -> frozenset[int]:
    from fontTools.ttLib import TTFont

    with TTFont(path, lazy=True) as font:
        return frozenset(font.getBestCmap())
