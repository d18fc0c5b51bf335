"""The files that belong to a plan, written into one folder."""

from pathlib import Path

from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.svg import render_svg
from plankwright.errors import FileError
from plankwright.files.cut_list import cut_list_csv
from plankwright.files.plan_file import dump_plan
from plankwright.model.plan import Plan
from plankwright.model.room import Room


def write_outputs(plan: Plan, folder: Path, room: Room | None = None) -> list[Path]:
    """Write plan file, drawing and cut list; each appears whole or not at all.

    The folder is there already, see :func:`make_folder`. The room adds to the drawing the doorways
    that the floor does not run into.
    """
    texts = {
        "plan.json": dump_plan(plan),
        "plan.svg": render_svg(compose_plan(plan, room=room)),
        "cuts.csv": cut_list_csv(plan),
    }
    return [write_whole(folder / name, text) for name, text in texts.items()]


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


def write_whole(path: Path, text: str) -> Path:
    """Write a text beside its place, then put it there in one step."""
    beside = path.with_name(path.name + ".part")
    try:
        beside.write_text(text, encoding="utf-8", newline="\n")
        beside.replace(path)
    except OSError as error:
        raise FileError(
            f"cannot be written: {error.strerror}",
            where=str(path),
            remedy="Look whether the disk is full and the folder may be written to.",
        ) from None
    return path
