"""``plankwright demo``: the demo room through the whole job."""

from pathlib import Path
from typing import Annotated

import typer

from plankwright.cli.options import AsJson

FOLDER = Path("plankwright-demo")


def demo(
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for what is written.")
    ] = FOLDER,
    json_output: AsJson = False,
) -> None:
    """Plan the demo room, below grade and crooked, into ./plankwright-demo/."""
    from importlib import resources

    from plankwright.cli.plan import make_plan, tell
    from plankwright.files.job import read_job
    from plankwright.files.writing import make_folder, write_whole

    name = "demo_room.toml"
    text = resources.files("plankwright").joinpath("data", name).read_text(encoding="utf-8")
    make_folder(out)
    write_whole(out / name, text)
    job = read_job(text, name)
    tell(make_plan(job, name), out, json_output, job.room)
