"""What the commands share on a terminal: messages on stderr, JSON on stdout, late progress."""

import json
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NoReturn

import typer

DONE, WANTING, BAD_INPUT, DEFECT, STOPPED = 0, 1, 2, 3, 130
PATIENCE_S = 1.0  # what is over sooner needs no progress


def say(text: str = "") -> None:
    """A line for the person, on stderr, where it cannot disturb machine-readable output."""
    typer.echo(text, err=True)


def print_json(value: Any) -> None:
    """Machine-readable output on stdout."""
    typer.echo(json.dumps(value, ensure_ascii=False, indent=2))


def refuse(error: Exception, json_output: bool) -> NoReturn:
    """Tell of bad input (file, field, value, remedy) and leave with exit code 2."""
    say(f"plankwright: {error}")
    if json_output:
        fields = ("message", "where", "value", "remedy")
        told = {name: getattr(error, name, None) for name in fields}
        told["message"] = told["message"] or str(error)
        value = told["value"]
        told["value"] = value if isinstance(value, str | int | float | None) else str(value)
        print_json({"error": told})
    raise SystemExit(BAD_INPUT)


@contextmanager
def progress(what: str) -> Iterator[None]:
    """A spinner on a terminal while the work inside takes longer than a second."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    status = Console(stderr=True).status(what + " …")
    timer = threading.Timer(PATIENCE_S, status.start)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        status.stop()
