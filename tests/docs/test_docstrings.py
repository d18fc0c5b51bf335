"""Examples in docstrings run."""

import doctest
from importlib import import_module

import pytest
from docs.build import ROOT

SOURCE = ROOT / "src"
MODULES = sorted(
    ".".join(path.relative_to(SOURCE).with_suffix("").parts)
    for path in SOURCE.rglob("*.py")
    if ">>> " in path.read_text(encoding="utf-8")
)


def test_there_are_examples() -> None:
    assert len(MODULES) > 30


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_print_what_stands_below_them(name: str) -> None:
    results = doctest.testmod(import_module(name))
    assert results.attempted > 0
    assert results.failed == 0
