"""No snippet on a page is only looked at: what is not run is at least known to be spelled right.

Commands that go on for ever, or need a phone or a bare machine, stand in ``sh`` blocks, which are
not run; and commands are named within sentences.
"""

import re
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typer.main
from docs.build import ROOT, walks
from docs.walks import BLOCK

from plankwright.cli.app import app

PAGES = [*walks(), *(ROOT / name for name in ("CONTRIBUTING.md", "GLOSSARY.md", "CHANGELOG.md"))]
NAMES = [str(path.relative_to(ROOT)) for path in PAGES]
RUN = {"console", "python"}
NOT_RUN = {"make", "curl", ".venv/bin/pytest", ".venv/bin/ruff", ".venv/bin/mypy", "plankwright"}
PRINTED_ELSEWHERE = {"CONTRIBUTING.md"}  # a drawing, which test_contributing compares


@pytest.mark.parametrize("path", PAGES, ids=NAMES)
def test_every_block_is_run_or_a_file_or_the_shell_s(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    blocks = list(BLOCK.finditer(text))
    assert len(blocks) + sum(bool(block["printed"]) for block in blocks) == _fences(text) / 2
    for block in blocks:
        if block["language"] == "sh":
            commands = block["body"].splitlines()
            assert {command.split()[0] for command in commands} <= NOT_RUN
        else:
            is_run = block["language"] in RUN or block["what"] == "file:"
            assert is_run or path.name in PRINTED_ELSEWHERE, block.group()


def _fences(text: str) -> int:
    return len(re.findall(r"^```", text, re.M))


@pytest.mark.parametrize("path", PAGES, ids=NAMES)
def test_every_command_that_is_named_is_there_with_its_options(path: Path) -> None:
    for words in _named(path.read_text(encoding="utf-8")):
        command, rest = _command(words[1:])
        known = {name for part in command.params for name in part.opts} | {"--help"}
        options = {word.partition("=")[0] for word in rest if word.startswith("--")}
        assert options <= known, " ".join(words)


def _named(text: str) -> Iterator[list[str]]:
    """Commands in blocks that are not run, and in sentences, word by word."""
    blocks = "\n".join(re.findall(r"^```sh\n(.*?)^```", text, re.S | re.M))
    spans = re.findall(
        r"`(plankwright [^`]*)`", re.sub(r"^```.*?^```", "", text, flags=re.S | re.M)
    )
    for line in [*blocks.splitlines(), *spans]:
        words = shlex.split(line.replace("\n", " "), comments=True)
        if words[:1] == ["plankwright"]:
            yield words


def _command(words: list[str]) -> tuple[Any, list[str]]:
    """The command that some words call, and the words after its name."""
    command: Any = typer.main.get_command(app)
    while hasattr(command, "commands") and words and not words[0].startswith("-"):
        command, words = command.commands[words[0]], words[1:]
    return command, words
