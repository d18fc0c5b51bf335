"""The slab sheet: advice, what to do in order, what was read, and the contour map."""

from collections.abc import Iterator

from plankwright.application.slab_advice import SlabReport
from plankwright.drawing.contour_map import contour_map
from plankwright.model.advice import Section, Step
from plankwright.paper.blocks import Block, Drawing, Heading, Points, Sheet, Words
from plankwright.paper.material import Material

HEIGHTS = "Heights"  # the section that has a sheet of its own


def slab_sheet(material: Material) -> Sheet | None:
    """The slab and the air before the first board; None where nothing is known of them."""
    report, job = material.slab, material.job.slab
    if report is None or job is None:
        return None
    blocks: list[Block] = [Heading("Advice"), *_advice(report)]
    blocks += [Heading("To do, in this order"), Points(_steps(report.steps), box=True)]
    for section in report.sections:
        if section.title != HEIGHTS:
            blocks += section_blocks(section)
    if report.flatness.surface is not None:
        scene = contour_map(
            report.flatness, material.unit, name=material.plan.name, room=material.plan.room,
            bag_kg=job.compound.bag_kg, paper=material.paper,
        )  # fmt: skip
        blocks.append(Drawing(scene))
    return Sheet("slab", "The slab and the air", tuple(blocks))


def _advice(report: SlabReport) -> Iterator[Block]:
    first, *others = report.advice
    yield Words(first, "stop" if report.verdict == "stop" else "strong")
    yield from (Words(line) for line in others)


def _steps(steps: tuple[Step, ...]) -> tuple[str, ...]:
    return tuple(
        f"{number}. {step.text}"
        + (f" (Only after {' and '.join(map(str, step.after))}.)" if step.after else "")
        for number, step in enumerate(steps, 1)
    )


def section_blocks(section: Section) -> Iterator[Block]:
    """A section of the advice: its lines, and what to check."""
    if section.lines or section.findings:
        yield Heading(section.title)
    if section.lines:
        yield Points(section.lines)
    for finding in section.findings:
        told = f"{finding.where}: {finding.message}. {finding.remedy}"
        yield Words(told.strip(), "check")
