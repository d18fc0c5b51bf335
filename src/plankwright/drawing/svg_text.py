"""A drawing as SVG text that a notebook shows as the picture it is."""


class SvgText(str):
    """SVG text: a string like any other, shown as a picture in a notebook."""

    __slots__ = ()

    def _repr_svg_(self) -> str:
        return str(self)
