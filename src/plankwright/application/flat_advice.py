"""Is the slab flat enough, and if not, what makes it so with the least material."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from plankwright.application.gap_advice import judge_gaps, no_gaps_step
from plankwright.application.told import (
    counted,
    told_limit,
    told_temperature,
    told_temperatures,
    told_thickness,
)
from plankwright.model.advice import DRY, FLATTEN, Section, Step
from plankwright.model.findings import Finding
from plankwright.model.slab_heights import GapReading, HeightGrid, ScatteredHeights
from plankwright.model.sourced import Sourced
from plankwright.physics.dips import Place, places_of
from plankwright.physics.flatness import Gap, StraightedgeSearch, worst_on_surface
from plankwright.physics.flatness_rules import FlatnessRule
from plankwright.physics.floor_numbers import STEPS_MM, floor_numbers
from plankwright.physics.leveling import Mending, best_plane_fill_l, least_material
from plankwright.physics.pouring import (
    Compound,
    Pour,
    bags_band,
    lowest_passing_pour,
    whole_floor_pour,
)
from plankwright.physics.surface import Surface, grid_surface, scattered_surface
from plankwright.units import Unit, format_area, format_length, format_volume, format_weight

DEEPEST_GRIND = Sourced(6.0, "mm", "most that is ground off", "common practice")
SPARSE_SHARE = 0.3  # readings farther apart than this share of the edge miss dips between them


@dataclass(frozen=True, slots=True, eq=False)
class Flatness:
    """What the heights say, for the page and for the contour map.

    Parameters
    ----------
    rule : what it is held against.
    passes : whether it is flat enough; None when nothing tells.
    surface, worst : the slab and its worst gap, where heights were read.
    patch, grind, both : least material by each way; None where not needed or not possible.
    pours : self-leveling compound: lowest level that passes, and the whole floor.
    section : the page's section.
    """

    rule: FlatnessRule
    passes: bool | None
    section: Section
    surface: Surface | None = None
    worst: Gap | None = None
    patch: Mending | None = None
    grind: Mending | None = None
    both: Mending | None = None
    pours: tuple[Pour, ...] = ()

    @property
    def dips(self) -> list[Place]:
        """Places to fill, deepest first: the order of pours."""
        if self.patch is None:
            return []
        return places_of(self.patch.surface, self.patch.fill_mm)


def surface_of(heights: HeightGrid | ScatteredHeights) -> Surface:
    """The slab's surface from its readings."""
    if isinstance(heights, HeightGrid):
        return grid_surface(heights.rows, heights.step_mm, heights.origin_mm)
    numbers = np.array(heights.readings)
    return scattered_surface(numbers[:, :2], numbers[:, 2])


def judge_flatness(
    heights: HeightGrid | ScatteredHeights | None,
    gaps: Sequence[GapReading],
    rule: FlatnessRule,
    others: Sequence[FlatnessRule],
    compound: Compound,
    unit: Unit,
    slab_c: float | None = None,
) -> Flatness:
    """The verdict on flatness from heights or from gaps under a straightedge.

    Parameters
    ----------
    rule : what is asked for.
    others : published rules to show beside it.
    slab_c : temperature of the slab [°C], for the compound.
    """
    if heights is None:
        return _from_gaps(gaps, rule, unit)
    return _from_heights(heights, rule, tuple(others), compound, unit, slab_c)


@lru_cache(maxsize=16)  # advice, shopping list, sheets and article ask for the same slab
def _from_heights(
    heights: HeightGrid | ScatteredHeights,
    rule: FlatnessRule,
    others: tuple[FlatnessRule, ...],
    compound: Compound,
    unit: Unit,
    slab_c: float | None,
) -> Flatness:
    surface = surface_of(heights)
    search = StraightedgeSearch(surface, rule)
    worst = next(iter(search.worst_gaps(surface.heights)), None)
    lines = [_rule_line(rule, unit), _worst_line(worst, unit)]
    lines += [_other_line(surface, other, unit) for other in others]
    lines += _number_lines(heights)
    passes = worst is None or worst.passes
    findings = _sparse(surface, rule, unit)
    if passes:
        section = Section("Flatness", tuple(lines), tuple(findings))
        return Flatness(rule, True, section, surface, worst)
    patch, grind, both = (
        least_material(surface, rule, way, deepest_grind_mm=DEEPEST_GRIND.value, search=search)
        for way in ("fill", "grind", "both")
    )
    pours = (
        lowest_passing_pour(surface, rule, compound), whole_floor_pour(surface, rule, compound),
    )  # fmt: skip
    lines += _material_lines(surface, patch, grind, both, pours, compound, unit)
    findings += [*_pour_findings(pours[0], compound, unit), *_temperature(compound, slab_c, unit)]
    steps = _steps(patch, grind, compound, unit)
    section = Section("Flatness", tuple(lines), tuple(findings), tuple(steps))
    return Flatness(rule, False, section, surface, worst, patch, grind, both, pours)


def _from_gaps(gaps: Sequence[GapReading], rule: FlatnessRule, unit: Unit) -> Flatness:
    limit = _rule_line(rule, unit)
    if not gaps:
        told = "Nothing was measured: read heights every 2 ft (600 mm), or straightedge gaps."
        section = Section("Flatness", (limit, told), (), (no_gaps_step(rule, unit),))
        return Flatness(rule, None, section)
    passes, lines, findings, steps = judge_gaps(gaps, rule, unit)
    section = Section("Flatness", (limit, *lines), tuple(findings), tuple(steps))
    return Flatness(rule, passes, section)


# --- heights ----------------------------------------------------------------------------------


def _rule_line(rule: FlatnessRule, unit: Unit) -> str:
    edge = format_length(rule.edge_mm, unit)
    if len(rule.limits) == 1:
        allowed = told_thickness(rule.limits[0][1], unit)
        return f"Limit: {allowed} under {edge} ({rule.source}; {rule.tag})."
    return f"Limit: {rule.name}, by the distance of the contacts ({rule.source}; {rule.tag})."


def _worst_line(worst: Gap | None, unit: Unit) -> str:
    if worst is None:
        return "No straightedge can rest on so few readings."
    verdict = "passes" if worst.passes else "FAILS"
    return (
        f"Worst gap {told_thickness(worst.gap_mm, unit)} at {_where(worst.low, unit)}, with "
        f"contacts {format_length(worst.span_mm, unit)} apart: {verdict}."
    )


def _where(place: tuple[float, float], unit: Unit) -> str:
    """A place by the room's own coordinates."""
    x, y = (format_length(v, unit) for v in place)
    return f"x {x}, y {y}"


def _other_line(surface: Surface, rule: FlatnessRule, unit: Unit) -> str:
    worst = worst_on_surface(surface, rule)
    if worst is None:
        return f"For comparison, {rule.name}: no edge can rest."
    verdict = "passes" if worst.passes else "fails"
    return (
        f"For comparison, {rule.name}: {told_thickness(worst.gap_mm, unit)} where "
        f"{told_thickness(worst.allowed_mm, unit)} is allowed, {verdict} ({rule.tag})."
    )


def _number_lines(heights: HeightGrid | ScatteredHeights) -> list[str]:
    """FF and FL of the grid's longest complete row, where the step is the standard's."""
    if not isinstance(heights, HeightGrid):
        return []
    step = heights.step_mm[0]
    rows = [[h for h in row if h is not None] for row in heights.rows if None not in row]
    if not rows or not STEPS_MM[0] <= step <= STEPS_MM[1] or len(rows[0]) < 4:
        return []
    numbers = [floor_numbers(row, step) for row in rows]
    least = min(numbers, key=lambda n: n.flatness)
    valid = all(n.valid for n in numbers)
    levels = [n.levelness for n in numbers if n.levelness is not None]
    level = f", FL {min(levels):.0f}" if levels else ""
    return [
        f"FF {least.flatness:.0f}{level} in the worst row (ASTM E1155, constants from memory)"
        + ("." if valid else "; indicative: the rows are too short for the standard.")
    ]


def _sparse(surface: Surface, rule: FlatnessRule, unit: Unit) -> list[Finding]:
    ends = surface.points[surface.edges()]
    apart = float(np.median(np.hypot(*(ends[:, 1] - ends[:, 0]).T)))
    if apart <= SPARSE_SHARE * rule.edge_mm:
        return []
    message = f"readings lie about {format_length(apart, unit)} apart"
    remedy = "Read closer, at least where the slab looks low: dips between readings are not seen."
    return [Finding("heights-sparse", "slab.heights", message, remedy)]


def _material_lines(
    surface: Surface,
    patch: Mending | None,
    grind: Mending | None,
    both: Mending | None,
    pours: tuple[Pour, Pour],
    compound: Compound,
    unit: Unit,
) -> list[str]:
    plane, _ = best_plane_fill_l(surface)
    lines = []
    if patch is not None:
        saved = 1.0 - patch.fill_l / plane if plane > 0.0 else 0.0
        lines.append(
            f"Least patch: {_with_bags(patch.fill_l, compound, unit)}; filling to the "
            f"best plane takes {format_volume(plane, unit)} ({saved:.0%} saved)."
        )
    told = (
        f"not enough within {told_limit(DEEPEST_GRIND, unit)}"
        if grind is None
        else f"{format_volume(grind.grind_l, unit)} of concrete"
    )
    lines.append(f"Grinding only: {told} (silica dust).")
    if both is not None and both.grind_l > 0.05:
        fill, ground = (format_volume(liters, unit) for liters in (both.fill_l, both.grind_l))
        lines.append(f"Both: {fill} of patch and {ground} ground off.")
    low, whole = pours
    lines.append(
        f"Self-leveling compound: {format_volume(low.liters, unit)} in "
        f"{counted(len(low.pools), 'pool')} at the lowest level that passes, "
        f"{_bags(low.liters, compound, unit)}, deepest "
        f"{format_length(low.deepest_mm, unit)}, {counted(low.layers, 'layer')}; "
        f"over the whole floor {_with_bags(whole.liters, compound, unit)}, deepest "
        f"{format_length(whole.deepest_mm, unit)}."
    )
    lines += _place_lines(surface, patch, compound, unit)
    return lines


def _place_lines(
    surface: Surface, patch: Mending | None, compound: Compound, unit: Unit
) -> list[str]:
    if patch is None:
        return []
    return [
        f"Dip {number}: {told_thickness(place.deepest_mm, unit)} deep at "
        f"{_where(place.at, unit)}, {format_volume(place.liters, unit)} over "
        f"{format_area(place.area_m2, unit)}, {_bags(place.liters, compound, unit)}."
        for number, place in enumerate(places_of(surface, patch.fill_mm), 1)
    ]


def _with_bags(liters: float, compound: Compound, unit: Unit) -> str:
    return f"{format_volume(liters, unit)}, {_bags(liters, compound, unit)}"


def _bags(liters: float, compound: Compound, unit: Unit) -> str:
    low, high = bags_band(liters, compound.bag_kg)
    number = counted(low, "bag") if low == high else f"{low} to {high} bags"
    return f"{number} of {format_weight(compound.bag_kg, unit)}"


def _pour_findings(pour: Pour, compound: Compound, unit: Unit) -> list[Finding]:
    found = []
    if pour.layers > 1:
        message = (
            f"{format_length(pour.deepest_mm, unit)} is deeper than one layer of "
            f"{format_length(compound.greatest_mm, unit)}"
        )
        found.append(
            Finding("pour-unsuitable", "pour", message, "Pour in layers, or patch the deep part.")
        )
    if pour.shallow_m2 > 0.05:
        message = (
            f"over {format_area(pour.shallow_m2, unit)} the pour would be thinner than "
            f"{told_thickness(compound.least_mm, unit)}"
        )
        remedy = "It runs out there: feather that rim with patch, or take troweled patch alone."
        found.append(Finding("pour-unsuitable", "pour", message, remedy))
    return found


def _temperature(compound: Compound, slab_c: float | None, unit: Unit) -> list[Finding]:
    """The slab's temperature against the compound's."""
    if slab_c is None or compound.least_c <= slab_c <= compound.greatest_c:
        return []
    message = (
        f"the slab is at {told_temperature(slab_c, unit)}, compound and patch want "
        f"{told_temperatures(compound.least_c, compound.greatest_c, unit)}"
    )
    return [Finding("pour-unsuitable", "slab temperature", message, "Warm the room first.")]


# --- what to do -------------------------------------------------------------------------------


def _steps(
    patch: Mending | None, grind: Mending | None, compound: Compound, unit: Unit
) -> list[Step]:
    steps = []
    if grind is not None and patch is not None and grind.grind_l < 0.3 * patch.fill_l:
        humps = places_of(grind.surface, grind.grind_mm)
        ground = format_volume(grind.grind_l, unit)
        steps.append(
            Step(
                f"Or grind {counted(len(humps), 'hump')} instead ({ground}): shroud and "
                "HEPA vacuum or wet, respirator for silica (29 CFR 1926.1153).",
                FLATTEN,
            )
        )
    if patch is not None:
        dips = places_of(patch.surface, patch.fill_mm)
        depths = (told_thickness(dip.deepest_mm, unit) for dip in dips)
        order = "; ".join(f"dip {n} ({depth} deep)" for n, depth in enumerate(depths, 1))
        steps += [
            Step(
                "Seal the edges before anything is poured: dams at doors and where the pour ends, "
                "foam at walls and posts; never over a drain, a sump or a clean-out.",
                FLATTEN,
            ),
            Step(
                f"Prime as the leaflet says; no solvent primer near a pilot flame. Slab "
                f"{told_temperatures(compound.least_c, compound.greatest_c, unit)} "
                f"({_page(compound)}).",
                FLATTEN,
            ),
            Step(f"Fill the dips, deepest first: {order}.", FLATTEN),
            Step(
                f"Let it dry {compound.hours_to_cover:g} h or as the leaflet says "
                f"({_page(compound)}), then lay the straightedge on it again. No calcium chloride "
                "test on patch or compound.",
                DRY,
            ),
        ]
    return steps


def _page(compound: Compound) -> str:
    return f"leaflet, {compound.page}" if compound.page else "common practice; ask the leaflet"
