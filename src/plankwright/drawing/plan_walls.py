"""What stands round the floor of a plan: walls, doorways, fixed things."""

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.plan_view import WALL_MM, PlanView
from plankwright.drawing.scene import Group, circle
from plankwright.drawing.sheet import areas
from plankwright.model.room import Doorway, Edge

THIN_WALL_RIM_MM = 0.2  # white kept on both sides of a thin wall
LEAST_FIXED_MM = 0.9  # radius below which a post or pipe is drawn as a dot


def draw_gap(view: PlanView) -> Group:
    """The ground under the floor: what stays white of it is the gap."""
    ground = view.grown(view.wall_shift_mm).union(_recesses(view))
    return Group(areas(ground, "gap"), layer="gap")


def draw_walls(view: PlanView) -> Group:
    """Walls as a band outside their faces, open where a doorway is."""
    band = wall_band(view).difference(openings(view))
    return Group(areas(band, "wall"), layer="walls", title="Walls")


def draw_doorways(view: PlanView) -> Group:
    """The part of each opening beyond the wall's face, dashed up to the transition."""
    beyond = _recesses(view, grown=True).difference(view.outline)
    return Group(areas(beyond, "doorway"), layer="doorways")


def draw_fixed(view: PlanView) -> Group:
    """Fixed things, solid gray, a little smaller where the gap round them would vanish."""
    found = []
    for thing in view.plan.fixed:
        outline = view.on_sheet(thing.outline)
        shown = outline.buffer(-view.wall_shift_mm, join_style="mitre", mitre_limit=3.0)
        shown = shown.intersection(view.outline)
        if shown.is_empty or shown.area < LEAST_FIXED_MM**2:
            x, y = outline.centroid.coords[0]
            marks = (circle((x, y), LEAST_FIXED_MM, "fixed"),)
            found.append(Group(marks, title=thing.name or thing.kind))
        else:
            found.append(Group(areas(shown, "fixed"), title=thing.name or thing.kind))
    return Group(tuple(found), layer="fixed")


def wall_band(view: PlanView) -> BaseGeometry:
    """The walls on the sheet, doorways not yet open.

    Walls so thin that moving their faces apart leaves nothing of them are drawn between the faces.
    """
    shift = view.wall_shift_mm
    band = view.grown(shift + WALL_MM).difference(view.grown(shift))
    reach = shift + THIN_WALL_RIM_MM
    closed = view.grown(reach).buffer(-reach, join_style="mitre", mitre_limit=3.0)
    thin = closed.difference(view.outline).buffer(-THIN_WALL_RIM_MM, join_style="mitre")
    return band.union(thin)


def openings(view: PlanView) -> BaseGeometry:
    """Every doorway on the sheet, a little deeper than the wall's band."""
    deep = 2.0 * (view.wall_shift_mm + WALL_MM)
    doors = [_opening(view, doorway, deep) for doorway in _doorways(view)]
    return shapely.union_all([*doors, _recesses(view, grown=True)])


def breaks(view: PlanView) -> BaseGeometry:
    """The openings on the sheet that are no doorways: expansion breaks beside another part."""
    deep = view.wall_shift_mm + WALL_MM
    lines = [door for door in _doorways(view) if door.transition != "by the heights"]
    return shapely.union_all([_opening(view, line, deep) for line in lines])


def _doorways(view: PlanView) -> tuple[Doorway, ...]:
    return view.room.doorways if view.room else ()


def _opening(view: PlanView, doorway: Doorway, deep_mm: float) -> BaseGeometry:
    """A doorway's clear width across its wall."""
    edge = next(edge for edge in view.edges() if edge.name == doorway.edge)
    first, last = doorway.from_corner_mm, doorway.from_corner_mm + doorway.width_mm
    line = shapely.LineString([_along(edge, first), _along(edge, last)])
    across: BaseGeometry = view.on_sheet(line).buffer(deep_mm, cap_style="flat")
    return across


def _along(edge: Edge, distance: float) -> tuple[float, float]:
    share = distance / edge.length_mm
    (xa, ya), (xb, yb) = edge.start, edge.end
    return xa + (xb - xa) * share, ya + (yb - ya) * share


def _recesses(view: PlanView, *, grown: bool = False) -> BaseGeometry:
    """The recesses on the sheet, with the gap at their jambs if wanted."""
    by = max(view.plan.rules.gap_mm, view.placement.scale * 0.6) if grown else 0.0
    shapes: list[Polygon] = [
        recess.outline.buffer(by, join_style="mitre") for recess in view.plan.recesses
    ]
    return view.on_sheet(shapely.union_all(shapes))
