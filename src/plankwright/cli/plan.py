"""``plankwright plan``: a room in, a plan out."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from plankwright.cli.options import (
    Allowance,
    AsDxf,
    AsJson,
    BoardSize,
    FeatureName,
    FirstRow,
    Gap,
    Kerf,
    LaidWay,
    LayerName,
    LockKind,
    Narrowest,
    Offset,
    OutFolder,
    PerPack,
    Preferred,
    RoomFile,
    RowAngle,
    Seconds,
    SeedNumber,
    Shortest,
    Spend,
    UnitName,
)
from plankwright.cli.request import Request

if TYPE_CHECKING:
    from plankwright.model.job import Job
    from plankwright.model.plan import Plan
    from plankwright.model.room import Room


def plan(
    room: RoomFile,
    out: OutFolder = None,
    board: BoardSize = None,
    per_pack: PerPack = None,
    lock: LockKind = None,
    gap: Gap = None,
    kerf: Kerf = None,
    allowance: Allowance = None,
    shortest: Shortest = None,
    offset: Offset = None,
    narrowest: Narrowest = None,
    row_angle: RowAngle = None,
    first_row: FirstRow = None,
    laid: LaidWay = None,
    prefer: Preferred = None,
    spend: Spend = None,
    feature: FeatureName = None,
    unit: UnitName = None,
    layer: LayerName = None,
    time: Seconds = None,
    seed: SeedNumber = 1,
    rule_costs: Annotated[
        bool, typer.Option("--rule-costs", help="Plan again without each rule: what it costs.")
    ] = False,
    choices: Annotated[
        bool,
        typer.Option("--choices", help="Several plans side by side, each with what speaks for it."),
    ] = False,
    parts: Annotated[
        bool,
        typer.Option("--parts", help="Each part between expansion breaks with rows of its own."),
    ] = False,
    dxf: AsDxf = False,
    json_output: AsJson = False,
) -> None:
    """Plan every row, joint and cut of a room."""
    from plankwright.api import stop_after
    from plankwright.cli.overrides import Overrides
    from plankwright.files.writing import make_folder

    stop = stop_after(time, where="--time")
    _require_place_for_dxf(dxf, out, choices)
    overrides = Overrides(
        board=board,
        per_pack=per_pack,
        lock=lock,
        gap=gap,
        kerf=kerf,
        allowance=allowance,
        shortest=shortest,
        offset=offset,
        narrowest=narrowest,
        row_angle=row_angle,
        first_row=first_row,
        laid=laid,
        prefer=prefer,
        spend=spend,
    )
    if out is not None:
        make_folder(out)
    job = overrides.applied_to(open_room(room, feature, unit, layer, out))
    request = Request(job, str(room), out, seed, stop, json_output)
    if choices:
        from plankwright.cli.choices_report import offer_choices

        offer_choices(request)
        return
    if parts:
        from plankwright.cli.parts_report import offer_parts

        offer_parts(request, dxf=dxf)
        return
    made = make_plan(job, str(room), seed, stop)
    if rule_costs:
        made = with_rule_costs(job, made, seed, stop)
    tell(made, out, json_output, job.room, dxf=dxf)


def _require_place_for_dxf(dxf: bool, out: Path | None, choices: bool) -> None:
    from plankwright.errors import InputError

    if dxf and choices:
        raise InputError(
            "choices are no plan yet", where="--dxf", remedy="Plan the one you take with --dxf."
        )
    if dxf and out is None:
        raise InputError("no folder to write into", where="--dxf", remedy="Add --out DIR.")


def open_room(
    path: Path,
    feature: str | None = None,
    unit: str | None = None,
    layer: str | None = None,
    out: Path | None = None,
) -> "Job":
    """The job in a file, its unit named on the command line or not.

    Out of a drawing rooms are found first: a picture of them goes into the folder ``out``.
    """
    from plankwright.api import is_drawing, open_job
    from plankwright.units import parse_unit

    if is_drawing(path):
        from plankwright.cli.rooms import chosen_job

        return chosen_job(path, feature, unit, layer, out)
    named = None if unit is None else parse_unit(unit, where="--unit")
    return open_job(path, feature=feature, unit=named)


def make_plan(
    job: "Job", where: str, seed: int = 1, stop: Callable[[], bool] | None = None
) -> "Plan":
    """The plan of a job from the file ``where``, with progress shown."""
    from plankwright.api import Effort, InputError, plan_job, stop_after
    from plankwright.cli.terminal import progress

    with progress(f"Planning {job.name}"):
        try:
            return plan_job(job, effort=Effort(seed=seed), stop=stop or stop_after(None))
        except InputError as error:
            raise error.at(where) from None


def with_rule_costs(job: "Job", plan: "Plan", seed: int, stop: Callable[[], bool]) -> "Plan":
    """The plan, with a finding for each rule that costs boards."""
    from dataclasses import replace

    from plankwright.api import Effort, rule_costs
    from plankwright.application.rule_costs import cost_findings
    from plankwright.cli.terminal import progress

    with progress("Planning without each rule"):
        costs = rule_costs(job, plan, effort=Effort(seed=seed), stop=stop)
    return replace(plan, findings=(*plan.findings, *cost_findings(plan, costs)))


def tell(
    plan: "Plan", out: Path | None, json_output: bool, room: "Room", *, dxf: bool = False
) -> None:
    """Write what was asked for and show the summary."""
    from plankwright.api import plan_figures, save_plan
    from plankwright.cli.summary import print_summary, summary_json
    from plankwright.cli.terminal import print_json, say

    figures = plan_figures(plan)
    written = [] if out is None else save_plan(plan, out, room=room, dxf=dxf)
    if json_output:
        print_json({**summary_json(plan, figures), "files": [str(path) for path in written]})
        return
    print_summary(plan, figures)
    for path in written:
        say(f"Wrote {path}")
    if out is None:
        say("Nothing was written; add --out DIR for the plan file, the drawing and the cut list.")
