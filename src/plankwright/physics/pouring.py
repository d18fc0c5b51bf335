"""Self-leveling compound as what it is: it finds its own level and has a least and greatest depth.

Poured to a level, it fills whatever lies lower; where the pour would be thinner than the least
depth it needs a rim of troweled patch or a dam, where it would be thicker than the greatest it
goes in several layers.
"""

import math
from dataclasses import dataclass

import numpy as np

from plankwright.errors import InputError
from plankwright.model.sourced import Sourced
from plankwright.physics.arrays import Floats
from plankwright.physics.cut_surface import cut_at_level
from plankwright.physics.dips import Place, places_of
from plankwright.physics.flatness import (
    Gap,
    Line,
    StraightedgeSearch,
    lines_through_readings,
    worst_on_surface,
)
from plankwright.physics.flatness_rules import FlatnessRule
from plankwright.physics.surface import Surface

# Dry powder for a liter of set compound [kg]: the band that packs give.
POWDER_KG_PER_L = (
    Sourced(1.5, "kg/L", "usual packs, lower", "common practice"),
    Sourced(1.8, "kg/L", "usual packs, upper", "common practice"),
)


@dataclass(frozen=True, slots=True)
class Compound:
    """A self-leveling compound by its leaflet; the defaults are common practice.

    Parameters
    ----------
    least_mm, greatest_mm : depth of one layer.
    bag_kg : weight of a bag of powder.
    least_c, greatest_c : slab temperature at which it may be poured.
    hours_to_cover : from pouring to the next layer of the floor.
    page : page of the leaflet; empty while the defaults stand.
    """

    least_mm: float = 3.0
    greatest_mm: float = 25.0
    bag_kg: float = 25.0
    least_c: float = 10.0
    greatest_c: float = 30.0
    hours_to_cover: float = 24.0
    page: str = ""

    def __post_init__(self) -> None:
        if not 0.0 <= self.least_mm < self.greatest_mm <= 200.0:
            raise InputError(
                "the least depth must be below the greatest",
                where="slab.compound",
                value=(self.least_mm, self.greatest_mm),
            )
        if not 1.0 <= self.bag_kg <= 100.0:
            raise InputError("a bag holds 1 to 100 kg", where="slab.compound", value=self.bag_kg)


@dataclass(frozen=True, slots=True, eq=False)
class Pour:
    """One pour to one level.

    Parameters
    ----------
    level_mm : height of the finished pour, in the terms of the readings.
    liters : volume [L].
    deepest_mm : greatest depth [mm].
    layers : how many layers that takes.
    shallow_m2 : area where it would be thinner than the least depth [m²].
    whole_floor : whether every reading is covered by the least depth or more.
    pools : the separate pools, deepest first.
    surface : the slab after the pour.
    worst : worst gap of the slab after the pour.
    """

    level_mm: float
    liters: float
    deepest_mm: float
    layers: int
    shallow_m2: float
    whole_floor: bool
    pools: tuple[Place, ...]
    surface: Surface
    worst: Gap | None

    @property
    def passes(self) -> bool:
        """Whether the slab is flat enough after the pour."""
        return self.worst is None or self.worst.passes


def volume_below_l(surface: Surface, level_mm: float) -> float:
    """Volume between the slab and a level above it [L], exact for flat triangles.

    Source: integral of a linear function over a triangle cut by its zero line.
    """
    depth = np.sort(level_mm - surface.heights[surface.triangles], axis=1)
    least, middle, most = depth.T
    mean = depth.sum(axis=1) / 3.0
    with np.errstate(divide="ignore", invalid="ignore"):
        tip_above = most**3 / (3.0 * (most - middle) * (most - least))
        tip_below = (-least) ** 3 / (3.0 * (middle - least) * (most - least))
    wet = np.select(
        [least >= 0.0, middle >= 0.0, most > 0.0], [mean, mean + tip_below, tip_above], 0.0
    )
    return float(wet @ surface.triangle_areas_mm2()) * 1e-6


def pour_to(surface: Surface, level_mm: float, rule: FlatnessRule, compound: Compound) -> Pour:
    """What a pour to a level takes and whether the slab is flat then."""
    cut = cut_at_level(surface, level_mm)
    depth: Floats = np.maximum(level_mm - cut.heights, 0.0)
    after = cut.with_heights(cut.heights + depth)
    deepest = float(depth.max())
    return Pour(
        level_mm=level_mm,
        liters=volume_below_l(surface, level_mm),
        deepest_mm=deepest,
        layers=max(1, math.ceil(deepest / compound.greatest_mm - 1e-9)),
        shallow_m2=_shallow_m2(surface, level_mm, compound),
        whole_floor=bool(depth.min() >= compound.least_mm - 1e-9),
        pools=tuple(places_of(cut, depth)),
        surface=after,
        worst=worst_on_surface(after, rule),
    )


def _shallow_m2(surface: Surface, level_mm: float, compound: Compound) -> float:
    """Area poured thinner than the least depth [m²]."""
    return wet_area_m2(surface, level_mm) - wet_area_m2(surface, level_mm - compound.least_mm)


def wet_area_m2(surface: Surface, level_mm: float) -> float:
    """Area of the slab that lies below a level [m²]."""
    cut = cut_at_level(surface, level_mm)
    wet = (cut.heights[cut.triangles] <= level_mm + 1e-5).all(axis=1)
    return float(cut.triangle_areas_mm2()[wet].sum()) * 1e-6


def whole_floor_pour(surface: Surface, rule: FlatnessRule, compound: Compound) -> Pour:
    """The pour that covers the highest place by the least depth: a level floor, much material."""
    level = float(surface.heights.max()) + compound.least_mm
    return pour_to(surface, level, rule, compound)


def lowest_passing_pour(
    surface: Surface, rule: FlatnessRule, compound: Compound, to_mm: float = 0.25
) -> Pour:
    """The lowest level, to ``to_mm``, that was found to make the slab flat enough.

    By bisection between the lowest reading and the highest: filled to the highest it is a level
    floor, which passes.
    """
    lines = lines_through_readings(surface, rule.edge_mm)
    low, high = float(surface.heights.min()), float(surface.heights.max())
    if _seems_flat_at(surface, low, rule, lines):
        high = low
    while high - low > to_mm:
        level = (low + high) / 2.0
        if _seems_flat_at(surface, level, rule, lines):
            high = level
        else:
            low = level
    pour = pour_to(surface, high, rule, compound)
    while not pour.passes:  # the full search also starts from the rim of the pool
        high += to_mm
        pour = pour_to(surface, high, rule, compound)
    return pour


def _seems_flat_at(
    surface: Surface, level_mm: float, rule: FlatnessRule, lines: list[Line]
) -> bool:
    """Whether the slab, poured to a level, is flat on and near lines through its readings."""
    cut = cut_at_level(surface, level_mm)
    return StraightedgeSearch(cut, rule, lines).is_flat(np.maximum(cut.heights, level_mm))


def powder_kg(liters: float, kg_per_l: float) -> float:
    """Dry powder [kg] for a volume [L]."""
    return liters * kg_per_l


def bags(kilograms: float, bag_kg: float) -> int:
    """Whole bags for a weight of powder.

    >>> bags(powder_kg(48.0, 1.7), 25.0)
    4
    """
    return math.ceil(kilograms / bag_kg - 1e-9)


def bags_band(liters: float, bag_kg: float, reserve: float = 0.10) -> tuple[int, int]:
    """Fewest and most bags [of ``bag_kg``] for a volume [L].

    From the least powder a liter takes to the most with a reserve for what stays in the bucket
    and for readings that missed a dip (common practice: 10 %).
    """
    low, high = POWDER_KG_PER_L
    least = bags(powder_kg(liters, low.value), bag_kg)
    return least, bags(powder_kg(liters, high.value) * (1.0 + reserve), bag_kg)
