"""Options that several commands share."""

from pathlib import Path
from typing import Annotated

import typer

RoomFile = Annotated[
    Path, typer.Argument(metavar="ROOM", help="A job file (.toml) or a room: .geojson, .dxf, .ifc.")
]
PlanFile = Annotated[Path, typer.Argument(metavar="PLAN.json", help="A plan file.")]
AsJson = Annotated[bool, typer.Option("--json", help="Machine-readable output on stdout.")]
OutFolder = Annotated[
    Path | None, typer.Option("--out", metavar="DIR", help="Folder for what is written.")
]
UnitName = Annotated[
    str | None,
    typer.Option("--unit", metavar="mm|cm|m|in|ft", help="Unit of bare numbers."),
]
FeatureName = Annotated[
    str | None, typer.Option("--feature", metavar="ID", help="Which room of a file with several.")
]
LayerName = Annotated[
    str | None,
    typer.Option(metavar="NAME", help="Layer of a DXF drawing with the rooms or the walls."),
]
