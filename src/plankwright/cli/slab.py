"""``plankwright slab``: the page on moisture, air, flatness, movement and heights."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from plankwright.cli.options import AsJson, OutFolder, UnitName

if TYPE_CHECKING:
    from plankwright.application.slab_advice import SlabJob, SlabReport
    from plankwright.model.job import Job

JobFileArgument = Annotated[Path, typer.Argument(metavar="JOB", help="A job file (.toml).")]


def slab(
    job: JobFileArgument,
    out: OutFolder = None,
    unit: UnitName = None,
    json_output: AsJson = False,
) -> None:
    """Judge the slab and the air: what to do before the first board, in order.

    With --out, the page (slab.txt), the reminders (slab.ics) and, where heights were read, the
    contour map (slab.svg) are written.
    """
    from plankwright.application.slab_advice import advise_on_slab
    from plankwright.cli.terminal import DONE, WANTING, print_json, progress
    from plankwright.files.slab_file import open_slab
    from plankwright.units import parse_unit

    opened = open_slab(job, unit=parse_unit(unit, where="--unit") if unit else None)
    with progress("Judging the slab"):
        report = advise_on_slab(opened.slab)
    if out is not None:
        _write(report, opened.slab, opened.job, out)
    if json_output:
        print_json(as_plain(report))
    else:
        typer.echo(page(report))
    raise typer.Exit(DONE if report.ready else WANTING)


def _write(report: "SlabReport", slab_job: "SlabJob", job: "Job | None", out: Path) -> None:
    from datetime import UTC, datetime

    from plankwright.cli.terminal import say
    from plankwright.drawing.contour_map import contour_map
    from plankwright.drawing.svg import render_svg
    from plankwright.files.calendar import calendar
    from plankwright.files.writing import make_folder, write_whole

    make_folder(out)
    texts = {"slab.txt": page(report) + "\n"}
    if report.reminders:
        texts["slab.ics"] = calendar(report.reminders, datetime.now(UTC))
    if report.flatness.surface is not None:
        texts["slab.svg"] = render_svg(
            contour_map(
                report.flatness,
                slab_job.unit,
                name=job.name if job else "",
                room=job.room.outline if job else None,
                bag_kg=slab_job.compound.bag_kg,
            )
        )
    for name, text in texts.items():
        say(f"wrote {write_whole(out / name, text)}")


def page(report: "SlabReport") -> str:
    """The page as text."""
    blocks = ["THE SLAB AND THE AIR"]
    for section in report.sections:
        lines = [section.title.upper(), *(f"  {line}" for line in section.lines)]
        for finding in section.findings:
            remedy = f" {finding.remedy}" if finding.remedy else ""
            lines.append(f"  Check this: {finding.where}: {finding.message}.{remedy}")
        blocks.append("\n".join(lines))
    blocks.append("\n".join(["ADVICE", *(f"  {line}" for line in report.advice)]))
    steps = [
        f"  {number:2}. {step.text}" + _after_words(step.after)
        for number, step in enumerate(report.steps, 1)
    ]
    blocks.append("\n".join(["TO DO, IN THIS ORDER", *steps]))
    return "\n\n".join(_wrapped(block) for block in blocks)


def _after_words(after: tuple[int, ...]) -> str:
    """The gates a step waits for."""
    return f" (Only after {' and '.join(map(str, after))}.)" if after else ""


def _wrapped(block: str, width: int = 96) -> str:
    import textwrap

    return "\n".join(
        textwrap.fill(line, width, subsequent_indent=" " * (len(line) - len(line.lstrip()) + 4))
        for line in block.splitlines()
    )


def as_plain(report: "SlabReport") -> dict[str, Any]:
    """The page as plain values for ``--json``."""
    from dataclasses import asdict

    flatness = report.flatness
    worst = None if flatness.worst is None else asdict(flatness.worst)
    return {
        "verdict": report.verdict,
        "ready": report.ready,
        "advice": list(report.advice),
        "sections": [
            {
                "title": section.title,
                "lines": list(section.lines),
                "findings": [asdict(finding) for finding in section.findings],
            }
            for section in report.sections
        ],
        "steps": [{"text": step.text, "after": list(step.after)} for step in report.steps],
        "flatness": {
            "rule": flatness.rule.name,
            "passes": flatness.passes,
            "worst": worst,
            "ways": {
                name: {"fill_l": way.fill_l, "grind_l": way.grind_l, "passes": way.passes}
                for name in ("patch", "grind", "both")
                if (way := getattr(flatness, name)) is not None
            },
            "pours": [
                {
                    "level_mm": p.level_mm,
                    "liters": p.liters,
                    "deepest_mm": p.deepest_mm,
                    "layers": p.layers,
                    "shallow_m2": p.shallow_m2,
                    "passes": p.passes,
                }
                for p in flatness.pours
            ],
            "dips": [asdict(dip) for dip in flatness.dips],
        },
        "reminders": [
            {"when": r.when.isoformat(), "title": r.title, "text": r.text} for r in report.reminders
        ],
    }
