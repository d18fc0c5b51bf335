"""The new floor in section at true size: its layers, the door leaf, the floor beyond."""

from collections.abc import Iterator, Sequence

from plankwright.application.height_advice import JAMB_PLAY, told_layer
from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.scene import Area, Item, Polyline, Scene, Text
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.model.build_up import Layers, Meeting
from plankwright.units import Unit, format_length

WIDE_MM, HIGH_MM = 180.0, 66.0
SLAB_MM = (56.0, 62.0)  # its top and where the drawing ends, y down
NEW_MM = (62.0, 112.0)  # the new floor, along
BEYOND_MM = (124.0, 174.0)  # the floor beyond
LEAF_MM = (114.0, 122.0)
TOP_MM = 14.0
LABEL_RIGHT_MM = 50.0
LABEL_STEP_MM = 5.2
SEEN_MM = 0.15  # a film thinner than a line is drawn as a line
TALLEST_MM = SLAB_MM[0] - TOP_MM


def compose_heights(layers: Layers, meetings: Sequence[Meeting], unit: Unit) -> tuple[Scene, ...]:
    """One section for each door or opening that is told of; one without where there is none.

    Heights are drawn 1:1, so that the sheet can be held against the jamb.
    """
    flat = [meeting for meeting in meetings if meeting.kind != "stair"]
    if not flat:
        return (_section(layers, None, unit),)
    return tuple(_section(layers, meeting, unit) for meeting in flat)


def _section(layers: Layers, meeting: Meeting | None, unit: Unit) -> Scene:
    name = meeting.name if meeting else "New floor"
    items = (
        Text((2.0, 7.0), f"{name}: heights at true size", TITLE_MM, "title"),
        *_slab(),
        *_floor(layers),
        *_labels(layers, unit),
        *_total(layers, unit),
        *(_beyond(meeting, unit) if meeting else ()),
        *(_leaf(meeting, unit) if meeting else ()),
    )
    told = f"{name}: the new floor is {format_length(layers.total_mm, unit)} high over the slab"
    return Scene(WIDE_MM, HIGH_MM, tuple(items), f"Heights: {name}", f"{told}, drawn 1:1.", 1.0)


def _slab() -> Iterator[Item]:
    top, bottom = SLAB_MM
    left, right = NEW_MM[0] - 8.0, BEYOND_MM[1]
    yield Area(((left, top), (right, top), (right, bottom), (left, bottom)), "fixed")


def _parts(layers: Layers) -> Iterator[tuple[str, float, str, str | None]]:
    """Name, thickness, style and hatch of each layer, from the slab up."""
    yield "leveling", layers.leveling_mm, "laid", "wall-to-wall"
    yield "vapor barrier", layers.film_mm, "wall", None
    yield "pad", layers.pad_mm, "laid", "starter"
    yield "board", layers.board_mm, "piece", None


def _floor(layers: Layers) -> Iterator[Item]:
    level = SLAB_MM[0]
    left, right = NEW_MM
    for _, thick, style, hatch in _parts(layers):
        top = level - thick
        if thick >= SEEN_MM:
            ring = ((left, top), (right, top), (right, level), (left, level))
            yield Area(ring, style, hatch=hatch)
            yield Polyline(ring, "dimension", closed=True)
        level = top


def _labels(layers: Layers, unit: Unit) -> Iterator[Item]:
    """Names beside the layers, each with a line to its own."""
    level, spot = SLAB_MM[0], SLAB_MM[0] + 4.5
    yield Text((LABEL_RIGHT_MM, spot), "slab", TEXT_MM, "label", "end", "middle")
    for name, thick, _, _ in _parts(layers):
        if thick <= 0.0:
            continue
        middle = level - thick / 2.0
        spot = min(spot - LABEL_STEP_MM, middle)
        words = f"{name} {told_layer(thick, unit)}"
        yield Text((LABEL_RIGHT_MM, spot), words, TEXT_MM, "label", "end", "middle")
        yield Polyline(((LABEL_RIGHT_MM + 1.0, spot), (NEW_MM[0] + 2.0, middle)), "leader")
        level -= thick


def _total(layers: Layers, unit: Unit) -> Iterator[Item]:
    """The floor's height, and where jambs are sawn off."""
    top = SLAB_MM[0] - layers.total_mm
    jamb = layers.total_mm + JAMB_PLAY.value
    level = SLAB_MM[0] - jamb
    words = f"saw jambs off {_figure(jamb, unit)} up"
    yield Polyline(((NEW_MM[0] - 4.0, level), (NEW_MM[1], level)), "saw")
    yield Text((NEW_MM[0], level - 1.6), words, TEXT_MM, "act")
    yield Polyline(((NEW_MM[1], top), (NEW_MM[1] + 2.0, top)), "dimension")


def _beyond(meeting: Meeting, unit: Unit) -> Iterator[Item]:
    if meeting.beyond_mm is None:
        return
    left, right = BEYOND_MM
    top = SLAB_MM[0] - min(meeting.beyond_mm, TALLEST_MM)
    if meeting.beyond_mm > 0.0:
        yield Area(
            ((left, top), (right, top), (right, SLAB_MM[0]), (left, SLAB_MM[0])), "laid",
            hatch="end-piece",
        )  # fmt: skip
    words = f"floor beyond {_figure(meeting.beyond_mm, unit)}"
    yield Text(((left + right) / 2.0, top - 1.6), words, TEXT_MM, "label", "middle")


def _leaf(meeting: Meeting, unit: Unit) -> Iterator[Item]:
    if meeting.under_leaf_mm is None:
        return
    left, right = LEAF_MM
    bottom = SLAB_MM[0] - min(meeting.under_leaf_mm, TALLEST_MM - 8.0)
    yield Area(((left, TOP_MM), (right, TOP_MM), (right, bottom), (left, bottom)), "fixed")
    yield Text((right + 2.0, TOP_MM + 3.0), "door leaf", TEXT_MM, "label", level="middle")
    words = f"{_figure(meeting.under_leaf_mm, unit)} under it"
    yield Text((right + 2.0, TOP_MM + 9.0), words, TEXT_MM, "label", level="middle")


def _figure(mm: float, unit: Unit) -> str:
    return carpenter_figure(format_length(mm, unit))
