"""What every part of the shopping list is worked out from, and how sizes are said in a store."""

import math
from dataclasses import dataclass
from functools import cached_property

from shapely import Polygon

from plankwright.application.slab_advice import SlabJob, SlabReport, advise_on_slab
from plankwright.buying.wall_runs import Opening, openings_in_plan, openings_of
from plankwright.model.buying import Buying
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan, PlanFixed
from plankwright.model.room import Doorway
from plankwright.model.shopping import Line
from plankwright.units import Unit, format_area, format_length, same

ROUND = 0.97  # 4 pi area / perimeter² from which an outline counts as round; a square has 0.785
AREA_TOOK = frozenset({"stair", "hearth", "cabinet"})  # no floor and no film under these


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the list: its lines, what must be known beside them, what to check."""

    title: str
    lines: tuple[Line, ...] = ()
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class BuyJob:
    """A plan with what is known about buying for it.

    Parameters
    ----------
    plan : what is to be laid.
    buying : prices, sizes, spares, tools.
    unit : unit of what is printed.
    doorways : of the room; None when only the plan file is at hand.
    slab : what is known of the slab, or None.
    judged : the advice on that slab, where it was worked out before.
    """

    plan: Plan
    buying: Buying
    unit: Unit
    doorways: tuple[Doorway, ...] | None = None
    slab: SlabJob | None = None
    judged: SlabReport | None = None

    @cached_property
    def standing(self) -> tuple[tuple[str, str, Polygon], ...]:
        """Kind, name and outline of what trim runs along or ends at; round things left out."""
        return tuple(
            (thing.kind, thing.name, thing.outline)
            for thing in self.plan.fixed
            if thing.kind in AREA_TOOK or (thing.kind == "post" and not is_round(thing))
        )

    @cached_property
    def round_things(self) -> tuple[PlanFixed, ...]:
        """Pipes and round posts: rosettes and collars."""
        return tuple(t for t in self.plan.fixed if t.kind in ("pipe", "post") and is_round(t))

    @cached_property
    def openings(self) -> tuple[Opening, ...]:
        """The parts of walls without trim."""
        if self.doorways is None:
            return openings_in_plan(self.plan)
        return openings_of(self.doorways, self.buying.trim.casing_mm)

    @cached_property
    def slab_report(self) -> SlabReport | None:
        """The advice on the slab, worked out once; None where nothing is known of it."""
        if self.judged is not None or self.slab is None:
            return self.judged
        return advise_on_slab(self.slab)

    @property
    def inches(self) -> bool:
        """Whether sizes are said in feet and inches."""
        return self.unit in ("in", "ft")

    def total(self, mm: float) -> str:
        """A sum of lengths, rounded up: in feet, or in meters."""
        return format_length(mm, "ft" if self.inches else "m", rounding="up")

    def length(self, mm: float) -> str:
        """A need, rounded up, as people read it."""
        return format_length(mm, self.unit, rounding="up")


def is_round(thing: PlanFixed) -> bool:
    """Whether an outline is a circle drawn with corners."""
    perimeter = thing.outline.length
    return float(4.0 * math.pi * thing.outline.area / perimeter**2) >= ROUND


def told_size(mm: float, unit: Unit) -> str:
    """A size as a store says it: whole feet as feet, else inches; meters, or millimeters.

    >>> told_size(4876.8, "in"), told_size(914.4, "in"), told_size(2400.0, "mm")
    ('16 ft', '36"', '2.4 m')
    """
    if unit in ("in", "ft"):
        feet = mm / 304.8
        if feet >= 4.0 and same(feet, round(feet), 1e-6):
            return f"{round(feet)} ft"
        return format_length(mm, "in")
    return f"{mm / 1000.0:g} m" if mm >= 1000.0 else f"{mm:g} mm"


def told_area(mm2: float, unit: Unit) -> str:
    """An area [mm²] in square feet or square meters."""
    return format_area(mm2 / 1e6, unit)
