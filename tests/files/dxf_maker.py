"""Small DXF files for tests, written by ezdxf."""

import io
from collections.abc import Callable
from importlib import import_module
from itertools import pairwise
from pathlib import Path
from typing import Any

from ezdxf.filemanagement import new

OPTIONS: Any = import_module("ezdxf").options
Draw = Callable[[Any], object]


def dxf_text(draw: Draw, insunits: int = 4) -> str:
    """What ``draw`` puts into model space, as a DXF file with a header's unit."""
    before = OPTIONS.write_fixed_meta_data_for_testing
    OPTIONS.write_fixed_meta_data_for_testing = True  # no date, no random number in it
    try:
        document = new("R2010", setup=True)
        document.header["$INSUNITS"] = insunits
        draw(document.modelspace())
        written = io.StringIO()
        document.write(written)
    finally:
        OPTIONS.write_fixed_meta_data_for_testing = before
    return written.getvalue()


def write_dxf(path: Path, draw: Draw, insunits: int = 4) -> Path:
    path.write_text(dxf_text(draw, insunits), encoding="utf-8")
    return path


def rectangle(space: Any, x: float, y: float, wide: float, deep: float, layer: str = "0") -> None:
    corners = [(x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})


def lines(space: Any, points: list[tuple[float, float]], layer: str = "WALL") -> None:
    """Single lines from point to point."""
    for start, end in pairwise(points):
        space.add_line(start, end, dxfattribs={"layer": layer})
