"""How far the floor moves over the room's year, against its gap and its longest run."""

from plankwright.application.told import told_temperatures, told_thickness
from plankwright.errors import RangeError
from plankwright.model.advice import Section
from plankwright.model.air import Climate
from plankwright.model.findings import Finding
from plankwright.model.floor_run import FloorRun
from plankwright.model.sourced import Sourced
from plankwright.physics.movement import (
    LAMINATE_MM_PER_M,
    LONGEST_RUN_MM,
    VINYL_PER_K,
    laminate_growth_mm,
    rule_of_thumb,
    vinyl_growth_mm,
)
from plankwright.physics.wood_moisture import SPECIES, solid_width_change_mm, wood_moisture_pct
from plankwright.units import Unit, format_length

# A board of wood grows along its grain by about a tenth of a percent from dry to soaked.
ALONG_GRAIN = Sourced(0.001, "of the length", "wood along the grain, dry to soaked", "from memory")


def movement_section(run: FloorRun, swing: Climate | None, unit: Unit) -> Section:
    """Growth along and across, the gap, the rule of thumb, and the longest run."""
    lines: list[str] = []
    findings: list[Finding] = []
    if swing is None:
        lines.append("The room's swing over the year is not given: growth is not computed.")
    else:
        try:
            growth = growth_mm(run, swing)
        except RangeError as error:
            findings.append(_out_of_range(error))
        else:
            lines += _growth_lines(run, swing, growth, unit)
            findings += _gap_findings(run, growth, unit)
    lines.append(_thumb_line(run, unit))
    findings += _length_findings(run, unit)
    return Section("Movement", tuple(lines), tuple(findings))


def growth_mm(run: FloorRun, swing: Climate) -> tuple[float, float]:
    """Most growth along and across the boards over the room's swing [mm].

    Raises
    ------
    RangeError
        when the swing leaves the published range of the formula for this kind of board.
    """
    if run.kind == "laminate":
        along, across = (
            laminate_growth_mm(mm, swing.driest_pct, swing.dampest_pct)
            for mm in (run.along_mm, run.across_mm)
        )
        return along, across
    if run.kind == "vinyl":
        warming = swing.warmest_c - swing.coldest_c
        highest = VINYL_PER_K[2].value
        return (
            vinyl_growth_mm(run.along_mm, warming, highest),
            vinyl_growth_mm(run.across_mm, warming, highest),
        )
    dry = wood_moisture_pct(run.laid_c, swing.driest_pct)
    damp = wood_moisture_pct(run.laid_c, swing.dampest_pct)
    coefficient = SPECIES[run.species].tangential
    across = solid_width_change_mm(run.across_mm, coefficient, dry, damp)
    return ALONG_GRAIN.value * run.along_mm, across


def _growth_lines(
    run: FloorRun, swing: Climate, growth: tuple[float, float], unit: Unit
) -> list[str]:
    along, across = growth
    said = {
        "laminate": f"at most, {LAMINATE_MM_PER_M.told()}, over the test's whole humidity range",
        "vinyl": f"from {told_temperatures(swing.coldest_c, swing.warmest_c, unit)}, "
        f"{VINYL_PER_K[2].told()}",
        "engineered": f"as if solid {run.species}: an upper bound (Wood Handbook)",
        "solid": f"{run.species}, flat-sawn (Wood Handbook)",
    }[run.kind]
    return [
        f"{run.kind.capitalize()}: grows by {told_thickness(along, unit)} along "
        f"{format_length(run.along_mm, unit)} and {told_thickness(across, unit)} across "
        f"{format_length(run.across_mm, unit)} ({said}).",
        f"At each side half of it: {told_thickness(along / 2, unit)} and "
        f"{told_thickness(across / 2, unit)}; all of it at one side if something heavy pins the "
        f"floor. The narrowest gap is {told_thickness(run.narrowest_mm, unit)}.",
    ]


def _thumb_line(run: FloorRun, unit: Unit) -> str:
    longest = max(run.along_mm, run.across_mm)
    thumb = rule_of_thumb(longest)
    inches = unit in ("in", "ft")
    slope = "0.018 in. per foot (1.5 mm per meter)" if inches else "1.5 mm per meter"
    return (
        f"Rule of thumb, {slope} on {format_length(longest, unit)} (common practice): "
        f"{told_thickness(thumb.per_side_mm, unit)} on each side by one reading, "
        f"{told_thickness(thumb.in_total_mm, unit)} by the other (in total). The leaflet decides."
    )


def _gap_findings(run: FloorRun, growth: tuple[float, float], unit: Unit) -> list[Finding]:
    half = max(growth) / 2.0
    need = format_length(half, unit, rounding="up")
    return [
        Finding(
            "growth-over-gap",
            edge,
            f"the floor may grow {told_thickness(half, unit)} toward it; the gap there is "
            f"{told_thickness(gap, unit)}",
            f"Leave {need} or more, or part the floor.",
        )
        for edge, gap in run.gaps_mm
        if half > gap
    ]


def _length_findings(run: FloorRun, unit: Unit) -> list[Finding]:
    found = []
    usual = LONGEST_RUN_MM.get(run.kind)
    pairs = (
        ("along the boards", run.along_mm, run.longest_along_mm, 0),
        ("across the boards", run.across_mm, run.longest_across_mm, 1),
    )
    for words, length, leaflet, which in pairs:
        limit = leaflet if leaflet is not None else (usual[which].value if usual else None)
        if limit is not None and length > limit:
            source = "leaflet" if leaflet is not None else "usual leaflets, common practice"
            message = (
                f"{format_length(length, unit)} {words}, longest floating length "
                f"{format_length(limit, unit)} ({source})"
            )
            found.append(
                Finding("run-too-long", words, message, "Plan an expansion break with a T-molding.")
            )
    return found


def _out_of_range(error: RangeError) -> Finding:
    return Finding(
        "out-of-range", "movement", str(error),
        "Growth is not told for this swing; ask the maker, or dry the room.",
    )  # fmt: skip
