"""A figure with its source and how sure we are of it; every limit is shown with both."""

from dataclasses import dataclass
from typing import Literal

Tag = Literal["leaflet", "retrieved", "secondary", "from memory", "common practice"]
"""How a figure came here.

*leaflet*: typed by the person from the product's own leaflet; *retrieved*: read on a published
page; *secondary*: read on a page that quotes the standard; *from memory*: recalled, confirm before
quoting; *common practice*: a habit of the trade without a published source.
"""


@dataclass(frozen=True, slots=True)
class Sourced:
    """A figure, its unit, where it comes from and how sure we are.

    >>> Sourced(3.0, "K", "ISO 8502-4, ISO 12944-7", "secondary").told()
    '3 K (ISO 8502-4, ISO 12944-7; secondary)'
    """

    value: float
    unit: str
    source: str
    tag: Tag

    def told(self, figure: str = "") -> str:
        """The figure as a person reads it, with source and tag.

        Parameters
        ----------
        figure : value and unit as the job tells them; by default as they are here.
        """
        unit = f" {self.unit}" if self.unit else ""
        tag = "" if self.tag in self.source else f"; {self.tag}"
        return f"{figure or f'{self.value:g}{unit}'} ({self.source}{tag})"
