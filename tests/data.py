"""The open test data beside the repository: PLANKWRIGHT_DATA, or ../shared/data."""

import os
from pathlib import Path

import pytest

DATA = Path(os.environ.get("PLANKWRIGHT_DATA") or Path(__file__).parents[2] / "shared" / "data")


def data_file(name: str) -> Path:
    """A file of the test data; the test is skipped, saying so, where there is none."""
    path = DATA / name
    if not path.exists():
        pytest.skip(f"no test data: {name} is neither in PLANKWRIGHT_DATA nor in ../shared/data")
    return path
