"""``plankwright check``: the independent checker."""

from plankwright.cli.options import AsJson, PlanFile


def check(plan: PlanFile, json_output: AsJson = False) -> None:
    """Check a plan file with the independent checker: exit 1 when it finds a fault."""
    from dataclasses import asdict

    import typer

    from plankwright.cli.terminal import DONE, WANTING, print_json, progress, say
    from plankwright.files.plan_file import load_plan
    from plankwright.files.source import LARGEST_PLAN_BYTES, read_text

    loaded = load_plan(read_text(plan, LARGEST_PLAN_BYTES), str(plan))
    from plankwright.checker.check import check_plan

    with progress(f"Checking {plan.name}"):
        verdict = check_plan(loaded)
    if json_output:
        print_json({"plan": str(plan), "passed": not verdict.faults, **asdict(verdict)})
    else:
        for fault in verdict.faults:
            typer.echo(f"{fault.place}: {fault.message} [{fault.code}]")
        for fault in verdict.excused:
            typer.echo(f"{fault.place}: excused, {fault.message} [{fault.code}]")
        say(f"{plan}: " + (f"{len(verdict.faults)} faults" if verdict.faults else "no fault found"))
    raise typer.Exit(WANTING if verdict.faults else DONE)
