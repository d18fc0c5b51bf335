"""Gaps read under a straightedge against a limit, which may be for another edge."""

from collections.abc import Sequence

from plankwright.application.told import told_thickness
from plankwright.errors import RangeError
from plankwright.model.advice import MEASURE, Step
from plankwright.model.findings import Finding
from plankwright.model.slab_heights import GapReading
from plankwright.physics.flatness_rules import FlatnessRule
from plankwright.units import Unit, format_length


def no_gaps_step(rule: FlatnessRule, unit: Unit) -> Step:
    """What to measure when nothing was."""
    return Step(
        f"Lay a straightedge of {format_length(rule.edge_mm, unit)} on the slab in every "
        "direction and write down the widest gaps with their places.",
        MEASURE,
    )


def judge_gaps(
    gaps: Sequence[GapReading], rule: FlatnessRule, unit: Unit
) -> tuple[bool | None, list[str], list[Finding], list[Step]]:
    """Whether the gaps pass (None: not known), and what is told, found and to be done."""
    judged = [judge_gap(gap, rule, unit) for gap in gaps]
    findings, steps = _other_edges(gaps, judged, rule, unit)
    verdicts = {verdict for verdict, _ in judged}
    passes: bool | None = None if "unproven" in verdicts else True
    if verdicts & {"fails", "fails as it stands"}:
        passes = False
        steps.append(
            Step("Read heights every 2 ft (600 mm) to know where to fill and how much.", MEASURE)
        )
    return passes, [words for _, words in judged], findings, steps


def judge_gap(gap: GapReading, rule: FlatnessRule, unit: Unit) -> tuple[str, str]:
    """One gap against the rule: *passes*, *fails*, *fails as it stands* or *unproven*; and why.

    A shorter edge never shows a larger gap at the same place, and that is all that can be said
    about another edge: gaps do not scale with length.
    """
    head = (
        f"{gap.place}: {told_thickness(gap.gap_mm, unit)} under {format_length(gap.edge_mm, unit)}"
    )
    same = abs(gap.edge_mm - rule.edge_mm) <= 0.01 * rule.edge_mm
    try:
        limit = rule.allowed_mm(min(gap.edge_mm, rule.edge_mm))
    except RangeError as error:
        return "unproven", f"{head}: {error}."
    within = gap.gap_mm <= limit + 1e-9
    if same:
        return ("passes", f"{head}: within the limit.") if within else (
            "fails", f"{head}: over {told_thickness(limit, unit)}.",
        )  # fmt: skip
    wanted = format_length(rule.edge_mm, unit)
    if gap.edge_mm > rule.edge_mm:
        if within:
            return "passes", f"{head}: within the limit, and a shorter edge shows no more."
        return (
            "fails as it stands",
            f"{head}: over {told_thickness(limit, unit)}, but read under another edge. Gaps do not "
            f"scale with length: it fails as it stands; read it again under {wanted}.",
        )
    if within:
        return "unproven", f"{head}: a longer edge may show more; read it under {wanted}."
    return "fails", f"{head}: over {told_thickness(limit, unit)}, and a longer edge shows no less."


def _other_edges(
    gaps: Sequence[GapReading], judged: Sequence[tuple[str, str]], rule: FlatnessRule, unit: Unit
) -> tuple[list[Finding], list[Step]]:
    wanted = format_length(rule.edge_mm, unit)
    pairs = zip(gaps, judged, strict=True)
    open_places = [gap for gap, (v, _) in pairs if v in ("fails as it stands", "unproven")]
    findings = [
        Finding(
            "flatness-other-edge",
            gap.place,
            f"read under {format_length(gap.edge_mm, unit)}, the limit is for {wanted}",
            f"Read it under {wanted}.",
        )
        for gap in open_places
    ]
    places = ", ".join(gap.place for gap in open_places)
    words = f"Read the gaps again with a straightedge of {wanted}: {places}."
    return findings, [Step(words, MEASURE)] if open_places else []
