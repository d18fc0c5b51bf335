"""The reference page of the commands, made from the command table.

``python -m plankwright.cli.reference`` prints it; it stands in ``docs/reference``.
"""

import inspect
from collections.abc import Iterator
from typing import Any

import typer

from plankwright.cli.app import app

_HEAD = """# The commands

<!-- Made from the code: python -m plankwright.cli.reference -->

Every command tells `--help`. Results go to standard output, messages to standard error, progress
to a terminal. Exit 0: done. 1: checked and found wanting. 2: bad input, told with file, field,
value and remedy. 3: a defect of the program (`PLANKWRIGHT_TRACEBACK=1` shows where). 130: stopped.

With `--json`, bad input is told on standard output too, as one object:
`{"error": {"message": …, "where": …, "value": …, "remedy": …}}`.
"""


def command_reference() -> str:
    """The page as Markdown."""
    group: Any = typer.main.get_command(app)
    return "\n".join([_HEAD, *_commands(group, "plankwright")])


def _commands(group: Any, before: str) -> Iterator[str]:
    """Every command of a group, those of its own groups under their names."""
    for command in group.commands.values():
        if hasattr(command, "commands"):
            yield f"## `{before} {command.name}`\n\n{inspect.cleandoc(command.help or '')}\n"
            yield from _commands(command, f"{before} {command.name}")
        else:
            yield _command(command, before)


def _command(command: Any, before: str) -> str:
    options = [p for p in command.params if p.param_type_name == "option" and p.name != "help"]
    arguments = [p for p in command.params if p.param_type_name == "argument"]
    names = [argument.metavar or argument.name.upper() for argument in arguments]
    lines = [f"## `{' '.join([before, command.name, *names])}`", ""]
    lines += [inspect.cleandoc(command.help or ""), "", "| option | meaning |", "| --- | --- |"]
    lines += [_option(option) for option in options]
    return "\n".join(lines) + "\n"


def _option(option: Any) -> str:
    value = "" if option.is_flag else f" {option.metavar or option.name.upper()}"
    spelled = f"{option.opts[0]}{value}".replace("|", "\\|")
    default = option.default
    told = "" if default in (None, False, "") else f" Default: `{default}`."
    return f"| `{spelled}` | {option.help or ''}{told} |"


if __name__ == "__main__":
    typer.echo(command_reference(), nl=False)
