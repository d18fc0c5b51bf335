"""The README shows what really happens: its drawing and its examples."""

import re

import pytest
from docs.build import DRAWING, README, ROOT, demo_drawing

TEXT = README.read_text(encoding="utf-8")


def test_the_drawing_is_the_demo_room_s() -> None:
    """When it is not: make docs"""
    assert DRAWING.read_bytes() == demo_drawing()


def test_the_first_screen_names_the_job_the_drawing_and_the_two_commands() -> None:
    order = ["You lay a floating", "docs/demo_room.svg", "make demo", "make test", "$ plankwright"]
    places = [TEXT.index(words) for words in order]
    assert places == sorted(places)


@pytest.mark.parametrize("name", ["README.md", "CONTRIBUTING.md", "GLOSSARY.md", "CHANGELOG.md"])
def test_links_lead_somewhere(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    links = [link for link in re.findall(r"\]\(([^)#]+)[^)]*\)", text) if "://" not in link]
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_every_target_of_the_makefile_that_is_named_is_there() -> None:
    targets = set(re.findall(r"^(\w+):", (ROOT / "Makefile").read_text(), re.M))
    for name in ("README.md", "CONTRIBUTING.md"):
        named = set(re.findall(r"\bmake (\w+)\b(?=[`\s])", "".join(_code(name))))
        assert named <= targets


def _code(name: str) -> list[str]:
    """What stands in code spans and blocks."""
    return re.findall(r"```.*?```|`[^`]+`", (ROOT / name).read_text(encoding="utf-8"), re.S)
