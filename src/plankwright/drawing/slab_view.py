"""A slab as it comes to lie on its sheet: what every part of the contour map needs."""

from dataclasses import dataclass

import numpy as np

from plankwright.application.flat_advice import Flatness
from plankwright.application.told import counted, told_thickness
from plankwright.drawing.contours import contour_step
from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.scene import Point
from plankwright.drawing.sheet import Placement
from plankwright.physics.pouring import bags_band
from plankwright.physics.surface import Surface
from plankwright.units import Unit, format_volume


@dataclass(frozen=True, slots=True)
class SlabView:
    """A slab and its place on the sheet.

    Parameters
    ----------
    flatness : what is drawn.
    surface : the slab, heights counted from its highest reading.
    placement : where it lies on the sheet.
    unit : unit of the figures.
    bag_kg : weight of a bag of patch.
    """

    flatness: Flatness
    surface: Surface
    placement: Placement
    unit: Unit
    bag_kg: float

    @property
    def inches(self) -> bool:
        """Whether figures are inches."""
        return self.unit in ("in", "ft")

    @property
    def step_mm(self) -> float:
        """Height from level line to level line [mm]."""
        return contour_step(float(np.ptp(self.surface.heights)), inches=self.inches)

    @property
    def deep_mm(self) -> float:
        """The thickness from which a fill is drawn as deep: half the deepest, a round figure."""
        deepest = max((dip.deepest_mm for dip in self.flatness.dips), default=0.0)
        step = 25.4 / 16 if self.inches else 1.0
        return max(step, round(deepest / 2.0 / step) * step)

    def line(self, points: list[Point]) -> tuple[Point, ...]:
        """Points of the room on the sheet."""
        return tuple(self.placement.point(point) for point in points)

    def figure(self, mm: float) -> str:
        """A small height as a carpenter writes it."""
        told = told_thickness(mm, self.unit)
        return carpenter_figure(told.partition(" (")[0] if self.inches else f"{mm:g} mm")

    def bags(self, liters: float) -> str:
        """A volume of patch and its bags."""
        low, high = bags_band(liters, self.bag_kg)
        told = counted(low, "bag") if low == high else f"{low} to {high} bags"
        return f"{format_volume(liters, self.unit)}, {told}"
