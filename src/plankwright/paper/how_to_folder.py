"""The how-to in its folder: Markdown with drawings, one HTML page, and what the writer wrote."""

import base64
from dataclasses import dataclass
from pathlib import Path

from plankwright.application.how_to import HowToSource
from plankwright.application.how_to_article import write_how_to
from plankwright.drawing.style import PRINT
from plankwright.drawing.svg import render_svg
from plankwright.errors import FileError
from plankwright.files.source import read_text
from plankwright.files.writing import make_folder, write_whole
from plankwright.paper.how_to_html import how_to_html
from plankwright.paper.how_to_markdown import PICTURES, how_to_markdown
from plankwright.paper.how_to_pictures import pictures_of
from plankwright.paper.own_words import OwnWords, read_own_words

MARKDOWN, PAGE = "how-to.md", "how-to.html"
LARGEST_MARKDOWN = 10_000_000
LARGEST_PICTURE = 20_000_000
KINDS = {
    ".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".webp": "image/webp",
    ".gif": "image/gif", ".svg": "image/svg+xml",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SavedHowTo:
    """What was written.

    Parameters
    ----------
    files : Markdown, page and drawings.
    notices : what the writer should know.
    """

    files: tuple[Path, ...]
    notices: tuple[str, ...] = ()


def write_how_to_folder(source: HowToSource, folder: Path) -> SavedHowTo:
    """Write the how-to; the folder is there.

    Raises
    ------
    FileError : something cannot be read or written.
    """
    article, pictures = write_how_to(source), pictures_of(source)
    own, notices = _own_words(folder)
    named = {step.picture for step in article.steps}
    used = {key: scene for key, scene in pictures.items() if key in named}
    markdown = how_to_markdown(article, used, own)
    missing: list[str] = []
    page = how_to_html(article, used, own, lambda path: _embedded(folder, path, missing))
    make_folder(folder / PICTURES)
    files = [write_whole(folder / MARKDOWN, markdown), write_whole(folder / PAGE, page)]
    files += [
        write_whole(folder / PICTURES / f"{key}.svg", render_svg(scene, PRINT))
        for key, scene in used.items()
    ]
    notices += [f"no such picture beside {MARKDOWN}: {path}" for path in dict.fromkeys(missing)]
    return SavedHowTo(tuple(files), tuple(notices))


def _own_words(folder: Path) -> tuple[OwnWords, list[str]]:
    """The words of an earlier export; the old file is kept beside where more was changed."""
    path = folder / MARKDOWN
    if not path.exists():
        return OwnWords(), []
    text = read_text(path, LARGEST_MARKDOWN)
    own = read_own_words(text)
    if not own.touched:
        return own, []
    copy = write_whole(_free_name(folder), text)
    return own, [
        f"{MARKDOWN} was changed outside the places for your words: the old one is kept as "
        f"{copy.name}"
    ]


def _free_name(folder: Path) -> Path:
    names = (folder / f"how-to.before-{number}.md" for number in range(1, 10_000))
    for path in names:
        if not path.exists():
            return path
    raise FileError("too many kept copies", where=str(folder), remedy="Move some of them away.")


def _embedded(folder: Path, path: str, missing: list[str]) -> str | None:
    """A picture beside the Markdown as a data address; None for one that is not there."""
    file = (folder / path).resolve()
    kind = KINDS.get(file.suffix.lower())
    inside = file.is_relative_to(folder.resolve())
    if kind is None or not inside or not file.is_file() or file.stat().st_size > LARGEST_PICTURE:
        missing.append(path)
        return None
    return f"data:{kind};base64,{base64.b64encode(file.read_bytes()).decode()}"
