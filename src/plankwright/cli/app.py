"""The command table. What a command needs is imported when it runs, so that help is instant."""

import os
import sys
from typing import Annotated

import typer

from plankwright import __version__
from plankwright.cli.batch import batch
from plankwright.cli.buy import buy
from plankwright.cli.check import check
from plankwright.cli.demo import demo
from plankwright.cli.how_to import how_to
from plankwright.cli.lay import lay
from plankwright.cli.measure import measure
from plankwright.cli.plan import plan
from plankwright.cli.rooms import rooms
from plankwright.cli.serve import serve
from plankwright.cli.sheets import sheets
from plankwright.cli.slab import slab
from plankwright.cli.terminal import DEFECT, STOPPED, WANTING, refuse, say
from plankwright.errors import InputError, PlanFaultError, RangeError

app = typer.Typer(
    name="plankwright",
    help="Plans, checks and explains a floating click-together floor.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
)


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"plankwright {__version__}")
        raise typer.Exit


@app.callback()
def common(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_show_version, is_eager=True, help="Show the version."),
    ] = False,
) -> None:
    """Plans, checks and explains a floating click-together floor."""


for command in (demo, measure, slab, rooms, plan, check, buy, sheets, how_to, batch, serve):
    app.command(command.__name__.replace("_", "-"))(command)
app.add_typer(lay, name="lay")


def run() -> None:
    """Run a command line: exit 0 done, 1 checked and found wanting, 2 bad input.

    A defect of the program itself leaves with 3; ``PLANKWRIGHT_TRACEBACK=1`` shows where it is.
    """
    json_output = "--json" in sys.argv[1:]
    try:
        app()
    except (InputError, RangeError) as error:
        refuse(error, json_output)
    except PlanFaultError as error:
        say(f"plankwright: a plan of our own was refused, please report it: {error}")
        raise SystemExit(WANTING) from None
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        refuse(InputError(f"{place}{error.strerror or error}"), json_output)
    except KeyboardInterrupt:
        raise SystemExit(STOPPED) from None
    except SystemExit as leaving:
        if leaving.code == STOPPED:
            say("Stopped.")
        raise
    except Exception as error:
        if _was_stopped(error):
            say("Stopped.")
            raise SystemExit(STOPPED) from None
        if os.environ.get("PLANKWRIGHT_TRACEBACK"):
            raise
        say(f"plankwright: a defect of the program, please report it: {error!r}")
        say("PLANKWRIGHT_TRACEBACK=1 before the command shows where it is.")
        raise SystemExit(DEFECT) from None


def _was_stopped(error: BaseException | None) -> bool:
    """Whether Ctrl-C is behind an error, as when a library is stopped while it loads."""
    while error is not None and not isinstance(error, KeyboardInterrupt):
        error = error.__cause__ or error.__context__
    return error is not None
