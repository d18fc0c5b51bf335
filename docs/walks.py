"""Pages whose commands are run: a *walk* is one page, its commands typed one after another.

A page is Markdown. In an empty folder, from the top of the page to its end:

* a block under ``<!-- file: NAME -->`` is written to the file NAME;
* in a ``console`` block every line that begins with ``$`` is run by the shell, and what it prints,
  standard output and then standard error, stands below it;
* a ``python`` block is run in the same folder, and what it prints stands in the ``text`` block
  after it, if there is one.

A command that ends in anything but 0 must be announced: ``<!-- exits with 2 -->`` over its block.
"""

import os
import re
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

BLOCK = re.compile(
    r"(?P<note><!-- (?P<what>file:|exits with) (?P<value>[^>]*?) -->\n+)?"
    r"^```(?P<language>\w+)\n(?P<body>.*?)^```\n"
    r"(?P<printed>(?<=```\n)\n```text\n.*?^```\n)?",
    re.S | re.M,
)
WIDE = 92  # columns of a terminal on the page
PROMPT = "$ "


class WalkError(Exception):
    """A command of a page did not end as the page says."""


def walked(page: str, python: str = sys.executable) -> str:
    """The page as it must read: every output as it is printed now by this Python's package.

    Raises
    ------
    WalkError : a command failed that should not, or the other way round.
    """
    with tempfile.TemporaryDirectory() as folder:
        return BLOCK.sub(lambda match: _block(match, Path(folder), python), page)


def _block(match: re.Match[str], folder: Path, python: str) -> str:
    text = match.group()
    what, value, language = match["what"], match["value"], match["language"]
    if what == "file:":
        path = folder / value
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(match["body"], encoding="utf-8")
        return text
    if language == "console":
        exit_code = int(value) if what == "exits with" else 0
        shown = _console(match["body"], exit_code, folder, python)
        return f"{match['note'] or ''}```console\n{shown}```\n{match['printed'] or ''}"
    if language == "python":
        printed = _run([python, "-c", match["body"]], folder, 0)
        return _with_printed(match, printed)
    return text


def _with_printed(match: re.Match[str], printed: str) -> str:
    code = f"```python\n{match['body']}```\n"
    return f"{code}\n```text\n{printed}```\n" if printed or match["printed"] else code


def _console(body: str, exit_code: int, folder: Path, python: str) -> str:
    """The commands of a block, each with what it prints now."""
    commands = [line.removeprefix(PROMPT) for line in body.splitlines() if line.startswith(PROMPT)]
    shown = []
    for number, command in enumerate(commands, 1):
        last = number == len(commands)
        printed = _run(["sh", "-c", _runnable(command, python)], folder, exit_code if last else 0)
        shown.append(f"{PROMPT}{command}\n{printed}")
    return "\n".join(shown)


def _runnable(command: str, python: str) -> str:
    """The command with ``plankwright`` as a module of this Python, for the shell."""
    module = f"{shlex.quote(python)} -m plankwright"
    return re.sub(r"^plankwright\b", lambda _: module, command)


def _run(argv: list[str], folder: Path, exit_code: int) -> str:
    environment = {
        **os.environ,
        "COLUMNS": str(WIDE),
        "NO_COLOR": "1",
        "PYTHONIOENCODING": "utf-8",
        "LC_ALL": "C.UTF-8",
    }
    done = subprocess.run(
        argv, cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False
    )
    printed = done.stdout + done.stderr
    if done.returncode != exit_code:
        raise WalkError(f"{argv[-1]} ended with {done.returncode}:\n{printed}")
    lines = [line.rstrip() for line in printed.splitlines()]
    return "".join(f"{line}\n" for line in lines)
