"""What stands below a contour map: verdict, material, what the hatches mean, a scale bar."""

from collections.abc import Iterator

from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.scene import Area, Group, Item, Polyline, Text
from plankwright.drawing.sheet import Frame, scale_words
from plankwright.drawing.slab_view import SlabView
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.units import MM_PER, Unit, format_weight

LINE_MM = 5.0
BLOCK_MM = 8.0 * LINE_MM
WORDS_MM = 118.0
SWATCH_MM = (9.0, 4.0)
LONGEST_TITLE = 44


def draw_block(view: SlabView, frame: Frame, name: str) -> Group:
    """The block in its frame: words at the left, legend and scale bar at the right."""
    return Group((*_words(view, frame, name), *_legend(view, frame)), layer="title")


def _words(view: SlabView, frame: Frame, name: str) -> Iterator[Text]:
    title = f"Slab: {name}" if name else "The slab"
    yield Text((frame.left, frame.top + LINE_MM), title[:LONGEST_TITLE], TITLE_MM, "title")
    for number, line in enumerate(_told(view), start=1):
        at = (frame.left, frame.top + LINE_MM + number * LINE_MM)
        yield Text(at, line, TEXT_MM, "label")


def _told(view: SlabView) -> Iterator[str]:
    flat = view.flatness
    scale = scale_words(view.placement.scale, view.unit)
    yield f"{carpenter_figure(scale)}, print at 100 %"
    yield f"Figures: below the highest reading, a line each {view.figure(view.step_mm)}"
    if flat.worst is not None:
        told = "flat enough" if flat.worst.passes else "NOT flat enough"
        yield f"Limit: {flat.rule.name}"
        allowed = view.figure(round(flat.worst.allowed_mm, 1))
        yield f"Worst gap {view.figure(round(flat.worst.gap_mm, 1))}, allowed {allowed}: {told}"
    if flat.patch is not None:
        bag = format_weight(view.bag_kg, view.unit)
        yield f"Least patch {view.bags(flat.patch.fill_l)} of {bag}"
        yield "Fill in the order of the ringed numbers; never over a drain"


def _legend(view: SlabView, frame: Frame) -> Iterator[Item]:
    left = frame.left + WORDS_MM
    entries: list[tuple[str, tuple[str, ...]]] = []
    if view.flatness.patch is not None:
        entries = [
            ("fill", ("starter",)),
            (f"fill over {view.figure(view.deep_mm)}", ("starter", "end-piece")),
        ]
    for number, (words, hatches) in enumerate(entries):
        x, y = left, frame.top + LINE_MM - 3.0 + number * 6.0
        wide, high = SWATCH_MM
        outline = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        for hatch in hatches:
            yield Area(outline, "laid" if hatch == "starter" else "overlay", hatch=hatch)
        yield Polyline(outline, "joint", closed=True)
        yield Text((x + wide + 2.0, y + high / 2.0), words, TEXT_MM, level="middle")
    yield from _scale_bar(view, left, frame.top + LINE_MM + 18.0)


def _scale_bar(view: SlabView, x: float, y: float) -> Iterator[Item]:
    """Alternating fields of a foot or half a meter, figures above."""
    unit: Unit = "ft" if view.inches else "m"
    field = float(MM_PER[unit]) * (1.0 if view.inches else 0.5) / view.placement.scale
    fields = max(2, min(8, int(56.0 / field)))
    for number in range(fields):
        style = "scale-black" if number % 2 == 0 else "scale-white"
        a, b = x + number * field, x + (number + 1) * field
        yield Area(((a, y), (b, y), (b, y + 1.6), (a, y + 1.6)), style)
    yield Text((x, y - 1.2), "0", TEXT_MM, "figure")
    told = f"{fields * (1.0 if view.inches else 0.5):g} {unit}"
    yield Text((x + fields * field, y - 1.2), told, TEXT_MM, "figure", "end")
