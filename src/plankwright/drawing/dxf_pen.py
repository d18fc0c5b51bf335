"""A DXF document (AC1024, the form of the year 2010) that is drawn into in millimeters.

The file is in millimeters, or in inches for inch jobs; it holds no date, no machine and no random
number, so that the same drawing gives the same bytes.
"""

import io
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any

from plankwright.drawing.scene import Point
from plankwright.dxf_library import load_ezdxf
from plankwright.units import MM_PER, Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing

VERSION = "R2010"
# Codes of $INSUNITS in the DXF reference: 1 inches, 4 millimeters.
INSUNITS: dict[Unit, int] = {"in": 1, "mm": 4}
# The line weights that a DXF file can say [1/100 mm].
WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120)
DASHED = "DASHED"
APPLICATION = "PLANKWRIGHT"
_STRING = 1000  # group code of a string in extended data


@dataclass(frozen=True, slots=True)
class Pen:
    """A DXF document that is drawn into in millimeters; it is kept in the unit of the file."""

    document: "Drawing"
    per_mm: float

    def layer(
        self, name: str, about: str = "", *, weight_mm: float = 0.25, dashed: bool = False
    ) -> str:
        """A layer of a name, made when it is first asked for."""
        if name not in self.document.layers:
            layer = self.document.layers.add(
                name,
                color=7,
                lineweight=weight_of(weight_mm),
                linetype=DASHED if dashed else "Continuous",
            )
            layer.description = about
        return name

    def ring(self, points: Iterable[Point], layer: str, **looks: object) -> Any:
        """A closed line [mm]."""
        return self.line(points, layer, close=True, **looks)

    def line(
        self, points: Iterable[Point], layer: str, *, close: bool = False, **looks: Any
    ) -> Any:
        """A line through points [mm]."""
        scaled = [(x * self.per_mm, y * self.per_mm) for x, y in points]
        space = self.document.modelspace()
        return space.add_lwpolyline(scaled, close=close, dxfattribs={"layer": layer, **looks})

    def tell(self, entity: Any, *told: str) -> None:
        """Put words that no one sees, such as a piece's number, on something drawn."""
        if told:
            entity.set_xdata(APPLICATION, [(_STRING, one_line(words)) for words in told])

    def ellipse(self, center: Point, major: Point, ratio: float, layer: str, **looks: Any) -> None:
        """An ellipse: center, longer half axis as a step [mm], share of the other."""
        space = self.document.modelspace()
        space.add_ellipse(
            [c * self.per_mm for c in center],
            [c * self.per_mm for c in major],
            ratio,
            dxfattribs={"layer": layer, **looks},
        )

    def words(
        self,
        text: str,
        at: Point,
        cap_mm: float,
        layer: str,
        *,
        turned_deg: float = 0.0,
        align: str = "MIDDLE_CENTER",
        **looks: Any,
    ) -> None:
        """One line of words, its capitals ``cap_mm`` high."""
        from ezdxf.enums import TextEntityAlignment

        entity = self.document.modelspace().add_text(
            one_line(text),
            height=cap_mm * self.per_mm,
            rotation=turned_deg,
            dxfattribs={"layer": layer, **looks},
        )
        place = (at[0] * self.per_mm, at[1] * self.per_mm)
        entity.set_placement(place, align=TextEntityAlignment[align])

    def text(self) -> str:
        """The document as the text of a file: no date, no machine, no random number in it."""
        written = io.StringIO()
        self._say_extent()
        with _undated():
            self.document.write(written)
        return written.getvalue()

    def _say_extent(self) -> None:
        """Let a program that opens the file show all that is drawn."""
        space = self.document.modelspace()
        lines: Any = space.query("LWPOLYLINE")
        points = [point for line in lines for point in line.get_points("xy")]
        if points:
            low, high = ([pick(c) for c in zip(*points, strict=True)] for pick in (min, max))
            space.reset_extents((*low, 0.0), (*high, 0.0))
            self.document.header["$EXTMIN"] = (*low, 0.0)
            self.document.header["$EXTMAX"] = (*high, 0.0)
            self.document.set_modelspace_vport(
                height=1.1 * max(high[0] - low[0], high[1] - low[1]),
                center=((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0),
            )


def new_pen(unit: Unit) -> Pen:
    """An empty DXF document in millimeters or inches."""
    load_ezdxf()
    from ezdxf.filemanagement import new

    with _undated():
        document = new(VERSION, setup=["linetypes"], units=INSUNITS[unit])
    document.appids.add(APPLICATION)
    document.header["$MEASUREMENT"] = 0 if unit == "in" else 1
    document.header["$LUNITS"] = 4 if unit == "in" else 2
    document.header["$LTSCALE"] = 1.0 if unit == "in" else 25.4
    return Pen(document, 1.0 / float(MM_PER[unit]))


@contextmanager
def _undated() -> Iterator[None]:
    """Let no date and no random number into a document."""
    options: Any = import_module("ezdxf").options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def one_line(text: str) -> str:
    """Words as a DXF text may hold them: no line break, no code of the format.

    >>> one_line("50 %%u\\nden ^J")
    '50 % %u den ^ J'
    """
    plain = "".join(letter if letter.isprintable() else " " for letter in text)
    return re.sub(r"\^(?! )", "^ ", plain.replace("%%", "% %")).strip()[:250] or "-"


def weight_of(width_mm: float) -> int:
    """The nearest line weight that a DXF file can say [1/100 mm]."""
    return min(WEIGHTS, key=lambda weight: abs(weight - 100.0 * width_mm))
