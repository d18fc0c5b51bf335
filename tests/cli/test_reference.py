"""The reference page of the commands is the one made from the command table."""

from pathlib import Path

from plankwright.cli.reference import command_reference

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "commands.md"


def test_the_page_is_up_to_date() -> None:
    """When it is not: python -m plankwright.cli.reference > docs/reference/commands.md"""
    assert PAGE.read_text(encoding="utf-8") == command_reference()


def test_every_option_is_explained() -> None:
    lines = [line for line in command_reference().splitlines() if line.startswith("| `--")]
    assert len(lines) > 20
    assert all(line.rstrip("| ").endswith(".") for line in lines)
