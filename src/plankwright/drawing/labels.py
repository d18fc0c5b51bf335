"""Places for words: none on another, none on what must stay readable, none off the sheet."""

from collections.abc import Iterable

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.lettering import text_box
from plankwright.drawing.scene import Dimension, Polyline, Text
from plankwright.drawing.sheet import Frame

CLEAR_MM = 0.4  # between two labels


class LabelSpace:
    """The room that is left for words on a sheet; what is placed takes its room away."""

    def __init__(self, frame: Frame) -> None:
        self._frame = shapely.box(frame.left, frame.top, frame.right, frame.bottom)
        self._taken: list[BaseGeometry] = []

    def take(self, *shapes: BaseGeometry) -> None:
        """Let nothing be placed on these shapes."""
        self._taken.extend(shapes)

    def is_free(self, shape: BaseGeometry, keep_off: BaseGeometry | None = None) -> bool:
        """Whether a shape lies on the sheet and clear of everything placed so far."""
        if not self._frame.covers(shape):
            return False
        if keep_off is not None and shape.intersects(keep_off):
            return False
        grown = shape.buffer(CLEAR_MM)
        return not any(grown.intersects(taken) for taken in self._taken)

    def place(
        self,
        candidates: Iterable[Text],
        *,
        keep_off: BaseGeometry | None = None,
        inside: Polygon | None = None,
        rim_mm: float = 0.0,
    ) -> Text | None:
        """The first candidate that is free, and inside a shape if one is given; None for none."""
        for text in candidates:
            box = text_box(text).buffer(rim_mm) if rim_mm else text_box(text)
            if (inside is None or inside.covers(box)) and self.is_free(box, keep_off):
                self.take(box)
                return text
        return None

    def place_dimension(
        self, candidates: Iterable[Dimension], keep_off: BaseGeometry
    ) -> Dimension | None:
        """The first dimension whose line and figure are free; witness lines may cross others."""
        for dimension in candidates:
            shapes = [_room_of(part) for part in dimension.parts() if not _is_witness(part)]
            if all(self.is_free(shape, keep_off) for shape in shapes):
                self.take(*shapes)
                return dimension
        return None


def _is_witness(part: Polyline | Text) -> bool:
    return isinstance(part, Polyline) and not part.arrow_end


def _room_of(part: Polyline | Text) -> BaseGeometry:
    return text_box(part) if isinstance(part, Text) else shapely.LineString(part.points)
