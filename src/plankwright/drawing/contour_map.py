"""The contour map of a slab: level lines, dips to fill in the order of work, the worst gap."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.application.flat_advice import Flatness
from plankwright.drawing.contours import band_above, level_lines, levels_of
from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.scene import (
    Group,
    Item,
    Point,
    Polyline,
    Scene,
    Text,
    circle,
    upright,
)
from plankwright.drawing.sheet import (
    MARGIN_MM,
    PAPERS,
    Frame,
    Paper,
    areas,
    fitting_scale,
    place,
    scales_for,
    turned_size,
)
from plankwright.drawing.slab_block import BLOCK_MM, draw_block
from plankwright.drawing.slab_view import SlabView
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.errors import PlankwrightError
from plankwright.physics.dips import NOTICED_MM
from plankwright.units import Unit, format_volume

BAND_MM = 9.0  # round the slab
RING_MM = 3.6
CROSS_MM = 0.7
MAIN_EVERY = 4  # every fourth level line is heavy
LEAST_LINE_MM = 12.0  # a level line shorter on paper gets no figure


def contour_map(
    flatness: Flatness,
    unit: Unit,
    *,
    name: str = "",
    room: Polygon | None = None,
    bag_kg: float = 25.0,
    paper: Paper = "A4",
) -> Scene:
    """The contour map of a slab whose heights were read.

    Parameters
    ----------
    flatness : what :func:`plankwright.application.flat_advice.judge_flatness` found.
    name : of the job, for the title.
    room : outline of the room in the same coordinates, if it is at hand.
    bag_kg : weight of a bag of patch.

    Raises
    ------
    PlankwrightError
        when no heights were read.
    """
    if flatness.surface is None:
        raise PlankwrightError("a contour map needs heights")
    surface = flatness.surface.with_heights(
        flatness.surface.heights - flatness.surface.heights.max()
    )
    shown = band_above(surface, -np.inf) if room is None else room
    sheet, scale = _choose_sheet(shown, unit, paper)
    whole, drawing, block = _frames(sheet)
    view = SlabView(flatness, surface, place(shown, _inner(drawing), scale, 0.0), unit, bag_kg)
    space = LabelSpace(drawing)
    marks = tuple(_dip_marks(view, space, view.placement.geometry(shown)))
    worst = tuple(_worst_gap(view, space, view.placement.geometry(shown)))
    items = (
        Group(areas(view.placement.geometry(shown), "floor"), layer="floor"),
        Group(tuple(_fills(view)), layer="fill", title="What to fill"),
        Group(tuple(_lines(view)), layer="contours", title="Level lines"),
        Group(tuple(_readings(view)), layer="readings", title="Places of the readings"),
        Group(areas(view.placement.geometry(shown), "outline"), layer="walls"),
        Group(worst, layer="worst", title="The worst gap"),
        Group(marks, layer="dips", title="Dips in the order of work"),
        Group(tuple(_figures(view, space)), layer="figures"),
        draw_block(view, block, name),
    )
    title = f"Contour map of the slab: {name}" if name else "Contour map of the slab"
    return Scene(whole.right, whole.bottom, items, title, _description(view), float(scale))


# --- the sheet --------------------------------------------------------------------------------


def _choose_sheet(shown: BaseGeometry, unit: Unit, paper: Paper) -> tuple[tuple[float, float], int]:
    short, long = PAPERS[paper]
    size = turned_size(shown, 0.0)
    options = [
        (fitting_scale(size, _inner(_frames(sheet)[1]), scales_for(unit)), rank, sheet)
        for rank, sheet in enumerate(((long, short), (short, long)))
    ]
    scale, _, sheet = min(options)
    return sheet, scale


def _frames(sheet: tuple[float, float]) -> tuple[Frame, Frame, Frame]:
    """The whole sheet, the frame of the drawing and that of the words below."""
    left, right, bottom = MARGIN_MM, sheet[0] - MARGIN_MM, sheet[1] - MARGIN_MM
    top = bottom - BLOCK_MM
    return (
        Frame(0.0, 0.0, *sheet),
        Frame(left, MARGIN_MM, right, top - 1.0),
        Frame(left, top, right, bottom),
    )


def _inner(frame: Frame) -> Frame:
    return Frame(
        frame.left + BAND_MM, frame.top + BAND_MM, frame.right - BAND_MM, frame.bottom - BAND_MM
    )


# --- the slab ---------------------------------------------------------------------------------


def _fills(view: SlabView) -> Iterator[Item]:
    patch = view.flatness.patch
    if patch is None:
        return
    thickness = view.surface.with_heights(patch.fill_mm)
    for level, hatch in ((NOTICED_MM, "starter"), (view.deep_mm, "end-piece")):
        band = view.placement.geometry(band_above(thickness, level))
        yield from areas(band, "laid" if hatch == "starter" else "overlay", hatch)


def _level_lines(view: SlabView) -> Iterator[tuple[int, float, shapely.LineString]]:
    """Number, height and line of every level line, on the sheet."""
    step = view.step_mm
    for level in levels_of(view.surface.heights, step):
        for line in level_lines(view.surface, level):
            on_sheet = view.placement.geometry(line)
            yield round(level / step), level, shapely.LineString(on_sheet.coords)


def _lines(view: SlabView) -> Iterator[Item]:
    for number, _, line in _level_lines(view):
        style = "contour-main" if number % MAIN_EVERY == 0 else "contour"
        yield Polyline(tuple((float(x), float(y)) for x, y in line.coords), style)


def _figures(view: SlabView, space: LabelSpace) -> Iterator[Item]:
    """The height on each level line that is long enough, where there is room."""
    for _, level, line in _level_lines(view):
        if line.length < LEAST_LINE_MM:
            continue
        candidates = [_on_line(view, line, level, share) for share in _SHARES]
        placed = space.place(candidates)
        if placed is not None:
            yield placed


_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)


def _on_line(view: SlabView, line: shapely.LineString, level: float, share: float) -> Text:
    at, before, after = (
        line.interpolate(min(max(share * line.length + d, 0.0), line.length)) for d in (0, -2, 2)
    )
    angle = float(np.degrees(np.arctan2(before.y - after.y, after.x - before.x)))
    spot = (float(at.x), float(at.y))
    return Text(
        spot, view.figure(-level), TEXT_MM, "figure", "middle", "middle", upright(angle), clear=True
    )


def _readings(view: SlabView) -> Iterator[Item]:
    for x, y in view.surface.points.tolist():
        a, b = view.placement.point((x, y))
        yield Polyline(((a - CROSS_MM, b), (a + CROSS_MM, b)), "contour")
        yield Polyline(((a, b - CROSS_MM), (a, b + CROSS_MM)), "contour")


def _dip_marks(view: SlabView, space: LabelSpace, room: BaseGeometry) -> Iterator[Item]:
    """The dips' numbers, in the order of work, each with depth and bags beside it."""
    spots = [view.placement.point(dip.at) for dip in view.flatness.dips]
    space.take(*(shapely.Point(spot).buffer(RING_MM) for spot in spots))
    edge = _edge_on_sheet(view)
    for number, (dip, spot) in enumerate(zip(view.flatness.dips, spots, strict=True), 1):
        yield circle(spot, RING_MM, "ring")
        yield Text(spot, str(number), TITLE_MM, "strong", "middle", "middle")
        words = f"{view.figure(round(dip.deepest_mm, 1))} deep, {view.bags(dip.liters)}"
        candidates = list(_beside(spot, words))
        placed = (
            space.place(candidates, inside=room, keep_off=edge)
            or space.place(candidates, inside=room)
            or space.place(candidates)
        )
        if placed is not None:
            yield placed


def _beside(spot: Point, words: str) -> Iterator[Text]:
    for distance in (RING_MM + 1.4, RING_MM + 6.0, RING_MM + 12.0):
        yield Text((spot[0] + distance, spot[1]), words, TEXT_MM, "strong", "start", "middle",
                   clear=True)  # fmt: skip
        yield Text((spot[0] - distance, spot[1]), words, TEXT_MM, "strong", "end", "middle",
                   clear=True)  # fmt: skip
        for y in (spot[1] - distance - 1.0, spot[1] + distance + 1.0):
            yield Text((spot[0], y), words, TEXT_MM, "strong", "middle", "middle", clear=True)


def _edge_on_sheet(view: SlabView) -> shapely.LineString | None:
    """The straightedge where its gap is worst, if that fails."""
    worst = view.flatness.worst
    if worst is None or worst.passes:
        return None
    return shapely.LineString(view.line([worst.left, worst.right]))


def _worst_gap(view: SlabView, space: LabelSpace, room: BaseGeometry) -> Iterator[Item]:
    """The straightedge where its gap is worst, its contacts ringed."""
    line, worst = _edge_on_sheet(view), view.flatness.worst
    if line is None or worst is None:
        return
    ends = [(float(x), float(y)) for x, y in line.coords]
    yield Polyline(tuple(ends), "stop")
    for spot in ends:
        yield circle(spot, 1.0, "ring-check")
    words = f"worst gap {view.figure(round(worst.gap_mm, 1))}"
    middles = [line.interpolate(share, normalized=True) for share in (0.75, 0.25, 0.5, 0.9, 0.1)]
    candidates = [
        Text((spot.x + aside, spot.y + lift), words, TEXT_MM, "check", "middle", "middle",
             clear=True)
        for lift in (-4.0, 4.0, -8.0, 8.0)
        for aside in (0.0, -14.0, 14.0, -22.0, 22.0)
        for spot in middles
    ]  # fmt: skip
    inside = space.place(candidates, inside=room, keep_off=line)
    placed = inside or space.place(candidates, keep_off=line)
    if placed is not None:
        yield placed


def _description(view: SlabView) -> str:
    flat = view.flatness
    dips = "; ".join(
        f"dip {number}: {view.figure(round(dip.deepest_mm, 1))} deep, "
        f"{format_volume(dip.liters, view.unit)}"
        for number, dip in enumerate(flat.dips, 1)
    )
    fall = float(np.ptp(view.surface.heights))
    between = view.figure(round(fall, 1))
    told = f"Level lines of a slab with {between} between its highest and lowest reading."
    return told + (f" To fill, in this order: {dips}." if dips else " Nothing needs filling.")
