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
AsDxf = Annotated[
    bool, typer.Option("--dxf", help="Write plan.dxf, too: the plan in true size, by layers.")
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

Text = str | None
BOARD, RULES, LAYING = "The board", "The rules", "The laying"

BoardSize = Annotated[
    Text, typer.Option(metavar="1285x192", help="Cover length x width.", rich_help_panel=BOARD)
]
PerPack = Annotated[
    int | None, typer.Option(metavar="NUMBER", help="Boards in a pack.", rich_help_panel=BOARD)
]
LockKind = Annotated[
    Text,
    typer.Option(metavar="handed|reversible", help="Kind of board.", rich_help_panel=BOARD),
]
Gap = Annotated[Text, typer.Option(metavar="LENGTH", help="Expansion gap.", rich_help_panel=RULES)]
Kerf = Annotated[
    Text, typer.Option(metavar="LENGTH", help="Width of the cut.", rich_help_panel=RULES)
]
Allowance = Annotated[
    Text,
    typer.Option(metavar="LENGTH", help="What a cut piece may differ.", rich_help_panel=RULES),
]
Shortest = Annotated[
    Text, typer.Option(metavar="LENGTH", help="Shortest piece.", rich_help_panel=RULES)
]
Offset = Annotated[
    Text, typer.Option(metavar="LENGTH", help="Least joint offset.", rich_help_panel=RULES)
]
Narrowest = Annotated[
    Text, typer.Option(metavar="LENGTH", help="Narrowest row.", rich_help_panel=RULES)
]
RowAngle = Annotated[
    Text,
    typer.Option(
        metavar="auto|DEG|A-B",
        help="Direction of the rows: chosen, in degrees, or along a wall.",
        rich_help_panel=LAYING,
    ),
]
FirstRow = Annotated[
    Text,
    typer.Option(metavar="auto|WIDTH", help="Width of the first row.", rich_help_panel=LAYING),
]
LaidWay = Annotated[
    Text,
    typer.Option(
        metavar="left-to-right|right-to-left",
        help="Laying direction, facing the start wall.",
        rich_help_panel=LAYING,
    ),
]
Preferred = Annotated[
    Text,
    typer.Option(
        metavar="spares|looks|cuts",
        help="Keep boards below the next pack as spares, or spend them.",
        rich_help_panel=LAYING,
    ),
]
Spend = Annotated[
    int | None,
    typer.Option(metavar="NUMBER", help="Boards that may be spent so.", rich_help_panel=LAYING),
]
Seconds = Annotated[
    float | None,
    typer.Option(metavar="SECONDS", help="Stop looking for a better plan after this long."),
]
SeedNumber = Annotated[
    int, typer.Option(min=0, metavar="NUMBER", help="Of the random numbers that break ties.")
]
