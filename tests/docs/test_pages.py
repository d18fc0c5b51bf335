"""The reference pages are those made from the code, and leave nothing out."""

import inspect
import re
from collections.abc import Iterator
from typing import Any

import pytest
import typer.main
from docs.build import PAGES, REFERENCE, ROOT

from plankwright import api
from plankwright.checker.verdict import FAULT_CODES
from plankwright.cli.app import app
from plankwright.files.plan_entries import PlanEntry
from plankwright.model.findings import CODES


def page(name: str) -> str:
    return (REFERENCE / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_the_page_is_up_to_date(name: str) -> None:
    """When it is not: make docs"""
    assert page(name) == PAGES[name]()


def test_every_page_is_made_from_the_code() -> None:
    assert {path.name for path in REFERENCE.iterdir()} == {*PAGES}


def commands(group: Any, name: str) -> Iterator[tuple[str, Any]]:
    """Every command by all its words, groups among them."""
    for word, command in group.commands.items():
        yield f"{name} {word}", command
        if hasattr(command, "commands"):
            yield from commands(command, f"{name} {word}")


def test_every_command_and_option_is_documented() -> None:
    sections = page("commands.md").split("\n## ")
    for name, command in commands(typer.main.get_command(app), "plankwright"):
        [section] = [text for text in sections if re.match(rf"`{name}( [^a-z][^`]*)?`", text)]
        says = inspect.cleandoc(command.help or "").partition("\n\n")[0]
        assert len(says.split()) > 2, name
        assert says.endswith((".", ":", ")")), (name, says)
        for argument in (part for part in command.params if part.param_type_name == "argument"):
            assert argument.help, (name, argument.name)
        for option in (part for part in command.params if part.param_type_name == "option"):
            assert option.name == "help" or f"`{option.opts[0]}" in section, (name, option.name)
            assert option.name == "help" or option.help, (name, option.name)


@pytest.mark.parametrize(
    ("name", "codes"),
    [("findings.md", CODES), ("faults.md", FAULT_CODES)],
    ids=["finding", "fault"],
)
def test_every_code_is_documented(name: str, codes: dict[str, str]) -> None:
    lines = page(name).splitlines()
    for code, sentence in codes.items():
        assert any(line.startswith(f"| `{code}` | {sentence} |") for line in lines), code
        assert sentence.endswith(".")


def test_every_code_that_is_said_is_one_of_those() -> None:
    """A finding of another code cannot be made; here it is seen though no test comes by."""
    said = {
        code
        for path in (ROOT / "src").rglob("*.py")
        for code in re.findall(r'\bFinding\(\s*"([^"]*)"', path.read_text(encoding="utf-8"))
    }
    assert len(said) > 30
    assert said <= {*CODES}


def test_every_key_of_the_plan_file_is_documented() -> None:
    text, schema = page("plan-file.md"), PlanEntry.model_json_schema()
    for entry in (schema, *schema["$defs"].values()):
        for key, field in entry["properties"].items():
            assert f"| `{key}` |" in text, key
            assert field["description"].endswith("."), (entry["title"], key)


def test_every_name_of_the_python_api_is_documented() -> None:
    text = page("python.md")
    for name in api.__all__:
        assert f"### `{name}(" in text or f"- `{name}`: " in text, name
