"""Plays drawings as DXF: a plan in the true size of the room, or a scene at its scale."""

from plankwright.drawing.dxf_pen import new_pen
from plankwright.drawing.plan_dxf import draw_plan
from plankwright.drawing.scene import Scene
from plankwright.drawing.scene_dxf import draw_scene
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.units import Unit, parse_unit


def render_dxf(drawing: Plan | Scene, *, room: Room | None = None, unit: Unit = "mm") -> str:
    """The text of a DXF file, a layer for each kind of thing.

    Inch and foot jobs are written in inches, all others in millimeters.

    Parameters
    ----------
    room : with a plan, the room it was made for: doorways the floor does not run into.
    unit : with a scene, the job's unit; a plan knows its own.
    """
    job_unit = parse_unit(drawing.unit) if isinstance(drawing, Plan) else unit
    pen = new_pen("in" if job_unit in ("in", "ft") else "mm")
    if isinstance(drawing, Plan):
        draw_plan(pen, drawing, room)
    else:
        draw_scene(pen, drawing)
    return pen.text()
