"""``plankwright check``: the independent checker."""

from plankwright.cli.options import AsJson, PlanFile


def check(plan: PlanFile, json_output: AsJson = False) -> None:
    """Check a plan file with the independent checker: exit 1 when it finds a fault."""
    from dataclasses import asdict

    import typer

    from plankwright.api import check_plan, load_plan
    from plankwright.cli.terminal import DONE, WANTING, print_json, progress, say

    loaded = load_plan(plan)
    with progress(f"Checking {plan.name}"):
        verdict = check_plan(loaded)
    if json_output:
        print_json({"plan": str(plan), "ok": verdict.ok, **asdict(verdict)})
    else:
        for fault in verdict.faults:
            typer.echo(str(fault))
        for fault in verdict.excused:
            typer.echo(f"excused by the plan: {fault}")
        for note in verdict.notes:
            typer.echo(f"not checked again: {note}")
        count = len(verdict.faults)
        told = "no fault" if count == 0 else "1 fault" if count == 1 else f"{count} faults"
        say(f"{plan}: {told}")
    raise typer.Exit(DONE if verdict.ok else WANTING)
