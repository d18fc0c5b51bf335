"""Places for words: none on another, none on what must stay readable, none off the sheet."""

from collections.abc import Iterable

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.lettering import text_box
from plankwright.drawing.scene import Dimension, Text
from plankwright.drawing.sheet import Frame

CLEAR_MM = 0.7  # between two labels


class LabelSpace:
    """The room that is left for words on a sheet; what is placed takes its room away.

    Words keep off everything; dimension lines off words and each other; witness lines, which end
    dimensions and may cross them, off words.
    """

    def __init__(self, frame: Frame) -> None:
        self._frame = shapely.box(frame.left, frame.top, frame.right, frame.bottom)
        self._words: list[BaseGeometry] = []
        self._lines: list[BaseGeometry] = []
        self._witnesses: list[BaseGeometry] = []

    def take(self, *shapes: BaseGeometry) -> None:
        """Let nothing be placed on these shapes."""
        self._words.extend(shapes)

    def holds(self, shape: BaseGeometry) -> bool:
        """Whether a shape lies on the sheet."""
        return bool(self._frame.covers(shape))

    def is_free(self, shape: BaseGeometry, keep_off: BaseGeometry | None = None) -> bool:
        """Whether words would lie on the sheet and clear of everything placed so far."""
        return self._clear(shape, keep_off, self._words, self._lines, self._witnesses)

    def _clear(
        self, shape: BaseGeometry, keep_off: BaseGeometry | None, *taken: list[BaseGeometry]
    ) -> bool:
        if not self.holds(shape):
            return False
        if keep_off is not None and shape.intersects(keep_off):
            return False
        grown = shape.buffer(CLEAR_MM)
        return not any(grown.intersects(other) for shapes in taken for other in shapes)

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
        """The first dimension that is free.

        Witness lines begin farther out where words stand close to what is measured.
        """
        for dimension in candidates:
            figures, lines, witnesses = _sorted_parts(dimension)
            if (
                all(self.is_free(figure, keep_off) for figure in figures)
                and all(self._clear(line, keep_off, self._words, self._lines) for line in lines)
                and all(self._clear(line, None, self._words) for line in witnesses)
            ):
                self._words.extend(figures)
                self._lines.extend(lines)
                self._witnesses.extend(witnesses)
                return dimension
        return None


def _sorted_parts(
    dimension: Dimension,
) -> tuple[list[BaseGeometry], list[BaseGeometry], list[BaseGeometry]]:
    """The figure, the dimension line and the witness lines, as the room they take."""
    figures: list[BaseGeometry] = []
    lines: list[BaseGeometry] = []
    witnesses: list[BaseGeometry] = []
    for part in dimension.parts():
        if isinstance(part, Text):
            figures.append(text_box(part))
        else:
            kept = lines if part.arrow_end else witnesses
            kept.append(shapely.LineString(part.points))
    return figures, lines, witnesses
