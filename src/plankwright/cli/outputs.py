"""The files that belong to a plan, written into one folder."""

from pathlib import Path

from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.svg import render_svg
from plankwright.files.cut_list import cut_list_csv
from plankwright.files.plan_file import dump_plan
from plankwright.files.writing import write_whole
from plankwright.model.plan import Plan
from plankwright.model.room import Room


def write_outputs(plan: Plan, folder: Path, room: Room | None = None) -> list[Path]:
    """Write plan file, drawing and cut list; each appears whole or not at all.

    The folder is there already. The room adds to the drawing the doorways that the floor does not
    run into.
    """
    texts = {
        "plan.json": dump_plan(plan),
        "plan.svg": render_svg(compose_plan(plan, room=room)),
        "cuts.csv": cut_list_csv(plan),
    }
    return [write_whole(folder / name, text) for name, text in texts.items()]
