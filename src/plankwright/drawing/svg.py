"""Plays a scene as SVG: true size in millimeters, one style sheet, the same bytes every time."""

from collections.abc import Iterable, Iterator
from xml.sax import saxutils

from plankwright.drawing.hatching import hatch_lines
from plankwright.drawing.lettering import cap_shift_mm
from plankwright.drawing.scene import (
    Area,
    Dimension,
    Ellipse,
    Group,
    Item,
    Point,
    Polyline,
    Scene,
    Text,
    arrowheads,
    one_line,
)
from plankwright.drawing.style import PAPER, Palette, Style, hatch_named, style_named

FONTS = "Inter,'Source Sans 3','Helvetica Neue',Arial,'DejaVu Sans',sans-serif"
CLEAR_RIM_EM = 0.34


def render_svg(scene: Scene, palette: Palette = PAPER) -> str:
    """The scene as an SVG document, ``width`` and ``height`` in real millimeters of the sheet."""
    wide, high = _number(scene.width_mm), _number(scene.height_mm)
    head = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" role="graphics-document" '
        f"aria-label={_quoteattr(scene.title)}>",
        f"<title>{_escape(scene.title)}</title>",
        *([f"<desc>{_escape(scene.description)}</desc>"] if scene.description else []),
        f"<style>{_style_sheet(scene, palette)}</style>",
        f'<rect class="pw-sheet" width="{wide}" height="{high}"/>',
    ]
    return "\n".join([*head, svg_body(scene), "</svg>"]) + "\n"


def svg_body(scene: Scene) -> str:
    """The scene's shapes as SVG elements, to stand in an ``svg`` element with its style rules."""
    return "\n".join(line for item in scene.items for line in _item(item))


def _item(item: Item) -> Iterator[str]:
    match item:
        case Group():
            yield from _group(item)
        case Dimension():
            yield "<g>"
            for part in item.parts():
                yield from _item(part)
            yield "</g>"
        case Polyline():
            yield _path(_line_data(item), item.style)
        case Area():
            yield from _area(item)
        case Ellipse():
            yield _ellipse(item)
        case Text():
            yield _text(item)


def _group(group: Group) -> Iterator[str]:
    layer = f' class="pw-layer-{group.layer}"' if group.layer else ""
    key = f" data-key={_quoteattr(group.key)}" if group.key else ""
    yield f"<g{layer}{key}>"
    if group.title:
        yield f"<title>{_escape(group.title)}</title>"
    if group.description:
        yield f"<desc>{_escape(group.description)}</desc>"
    for item in group.items:
        yield from _item(item)
    yield "</g>"


def _line_data(line: Polyline) -> str:
    shaft = _points(line.points) + ("Z" if line.closed else "")
    return shaft + "".join(_points(head) for head in arrowheads(line))


def _area(area: Area) -> Iterator[str]:
    rings = "".join(_points(ring) + "Z" for ring in (area.outline, *area.holes))
    yield _path(rings, area.style)
    if area.hatch is not None:
        lines = "".join(_points(line) for line in hatch_lines(area, hatch_named(area.hatch)))
        if lines:
            yield _path(lines, "hatch")


def _path(data: str, style: str) -> str:
    return f'<path class="pw-{style}" d="{data}"/>'


def _ellipse(item: Ellipse) -> str:
    x, y = (_number(c) for c in item.center)
    a, b = (_number(axis) for axis in item.semi_axes_mm)
    if a == b:
        return f'<circle class="pw-{item.style}" cx="{x}" cy="{y}" r="{a}"/>'
    turn = f' transform="rotate({_number(-item.angle_deg)} {x} {y})"' if item.angle_deg else ""
    return f'<ellipse class="pw-{item.style}" cx="{x}" cy="{y}" rx="{a}" ry="{b}"{turn}/>'


def _text(text: Text) -> str:
    (x, y), shift = text.at, cap_shift_mm(text)
    turn = (
        f' transform="rotate({_number(-text.angle_deg)} {_number(x)} {_number(y)})"'
        if text.angle_deg
        else ""
    )
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    names = f"pw-{text.style}" + (" pw-clear" if text.clear else "")
    rim = f' stroke-width="{_number(CLEAR_RIM_EM * text.size_mm)}"' if text.clear else ""
    return (
        f'<text class="{names}" x="{_number(x)}" y="{_number(y + shift)}" '
        f'font-size="{_number(text.size_mm)}"{anchor}{rim}{turn}>{_escape(text.text)}</text>'
    )


def _style_sheet(scene: Scene, palette: Palette) -> str:
    """Rules for the styles that the scene uses."""
    return style_rules([scene], palette) + "@media print{.pw-sheet{fill:#fff}}"


def style_rules(scenes: Iterable[Scene], palette: Palette) -> str:
    """Rules for the styles that some scenes use, in alphabetical order."""
    shapes = [shape for scene in scenes for shape in scene.shapes()]
    names = {shape.style for shape in shapes} | {"sheet"}
    if any(isinstance(shape, Area) and shape.hatch for shape in shapes):
        names.add("hatch")
    rules = [f".pw-{name}{{{_declarations(style_named(name), palette)}}}" for name in sorted(names)]
    text = f"text{{font-family:{FONTS};font-variant-numeric:tabular-nums}}"
    clear = (
        f".pw-clear{{stroke:{palette['floor']};paint-order:stroke;stroke-linejoin:round}}"
        if any(isinstance(shape, Text) and shape.clear for shape in shapes)
        else ""
    )
    return text + "".join(rules) + clear


def _declarations(style: Style, palette: Palette) -> str:
    told = ["fill:" + (palette[style.fill] if style.fill else "none")]
    if style.line:
        told.append(f"stroke:{palette[style.line]};stroke-width:{_number(style.width_mm)}")
    if style.dash_mm:
        told.append("stroke-dasharray:" + " ".join(_number(dash) for dash in style.dash_mm))
    if style.bold:
        told.append("font-weight:bold")
    return ";".join(told)


def _escape(words: str) -> str:
    """Words as XML text; characters that XML does not allow (1.0, section 2.2) left out."""
    return saxutils.escape(one_line(words))


def _quoteattr(words: str) -> str:
    """Words as an XML attribute with its quotes."""
    return saxutils.quoteattr(one_line(words))


def _points(points: tuple[Point, ...]) -> str:
    first, *rest = (f"{_number(x)} {_number(y)}" for x, y in points)
    return f"M{first}" + "".join(f"L{point}" for point in rest)


def _number(value: float) -> str:
    """A number to a thousandth of a millimeter, without idle zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
