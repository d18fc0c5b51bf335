"""The entries of the plan file and its JSON Schema: what ``plan.json`` may hold.

Keys may be added, meanings never change; unknown keys are ignored when reading.
"""

import json
from importlib import resources
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from plankwright.model.board import EndLock, Laid, Profile
from plankwright.model.plan import Cut, EvidenceKind, Status

SCHEMA_FILE = "plan.schema.json"


class _Entry(BaseModel):
    model_config = ConfigDict(extra="ignore", allow_inf_nan=False, frozen=True)


Position = tuple[float, float]
Count = Annotated[int, Field(ge=-1_000_000_000, le=1_000_000_000)]


class PolygonEntry(_Entry):
    """A GeoJSON Polygon (RFC 7946) in millimeters of the room: outer ring, then holes."""

    type: Literal["Polygon"] = Field("Polygon", description="Kind of geometry.")
    coordinates: list[list[Position]] = Field(description="Rings of [x, y], closed [mm].")


class MultiPolygonEntry(_Entry):
    """A GeoJSON MultiPolygon (RFC 7946) in millimeters of the room."""

    type: Literal["MultiPolygon"] = Field("MultiPolygon", description="Kind of geometry.")
    coordinates: list[list[list[Position]]] = Field(description="Polygons, as lists of rings [mm].")


class BoardEntry(_Entry):
    """The board: cover size, pack and lock."""

    length: float = Field(description="Cover length [mm].")
    width: float = Field(description="Cover width [mm].")
    per_pack: int = Field(description="Boards in a pack.")
    lock: Literal["handed", "reversible"] = Field(
        description="handed: two different ends and sides; reversible: may be turned end for end."
    )
    wall_side: Profile | None = Field(
        description="Profile of the long side at the start wall; null when reversible."
    )
    near_end: Profile | None = Field(
        description="Profile of the end where laying starts; null when reversible."
    )
    end_lock: EndLock = Field("drop", description="How an end closes.")
    either_way: bool = Field(False, description="The leaflet allows both laying directions.")
    laid_backwards: bool = Field(
        False, description="Lock and leaflet let a row be joined on its room side."
    )
    spline: bool = Field(False, description="Lock and leaflet take a spline.")
    shave_and_glue: bool = Field(
        False, description="The leaflet lets a lip be shaved and glued where nothing can be tilted."
    )
    tilt_deg: float = Field(25.0, description="How far a piece is tilted to go into the lock [°].")
    thickness: float = Field(0.0, description="Thickness [mm]; 0 when unknown.")


class RulesEntry(_Entry):
    """What the plan must keep [mm]."""

    gap: float = Field(description="Expansion gap at walls and fixed things [mm].")
    kerf: float = Field(description="Width the saw takes [mm].")
    allowance: float = Field(description="What a cut piece may differ from the plan [mm].")
    shortest_piece: float = Field(description="No piece is shorter, unless its stretch is [mm].")
    joint_offset: float = Field(description="Least, between end joints of neighboring rows [mm].")
    narrowest_row: float = Field(description="No first, last or partial row is narrower [mm].")
    trim_cover: float = Field(description="Widest gap that the trim covers [mm].")
    least_gap: float | None = Field(
        None, description="Least gap the leaflet allows [mm]; null when only `gap` is known."
    )


class LayingEntry(_Entry):
    """Row direction, laying direction, start wall and start line."""

    row_angle_deg: float = Field(description="Of u (near to far), anticlockwise from x [°].")
    laid: Laid = Field(description="left-to-right: v is u turned by -90°; right-to-left: by +90°.")
    start_wall: str = Field(description="The wall row 1 lies along, such as A-B.")
    start_line: float = Field(description="v of row 1's wall side as if it were a full board [mm].")


class EdgeEntry(_Entry):
    """An edge whose gap differs from the rules."""

    edge: str = Field(description="The wall, such as A-B.")
    gap: float = Field(ge=0.0, description="Its gap [mm].")


class FixedEntry(_Entry):
    """A fixed thing and the gap kept round it."""

    kind: str = Field(description="post, pipe, hearth, stair, cabinet, drain or hatch.")
    outline: PolygonEntry = Field(description="Its outline.")
    gap: float = Field(ge=0.0, description="The gap kept round it [mm].")
    name: str = Field("", description="How the person calls it.")


class RecessEntry(_Entry):
    """What is added to the floor beyond the outline: a doorway, the place under a jamb."""

    kind: str = Field(description="doorway, or doorway with undercut jambs.")
    outline: PolygonEntry = Field(description="What is added.")


class OverhangEntry(_Entry):
    """What hangs over the floor, which runs under it."""

    kind: str = Field(description="jamb, toe-kick or radiator.")
    outline: PolygonEntry = Field(description="Its outline.")
    clearance: float | None = Field(
        None, ge=0.0, description="Free height under it [mm]; null: just enough for a board."
    )
    name: str = Field("", description="How the person calls it.")


class StockEntry(_Entry):
    """A board that is not whole and new."""

    id: Count = Field(description="Its number, as pieces name it.")
    length: float = Field(gt=0.0, description="Cover length [mm].")
    ends: Literal["both", "near", "far", "none"] = Field(
        "both", description="Which factory ends it still has."
    )
    width: float | None = Field(None, gt=0.0, description="Where it is not a whole board's [mm].")
    label: str = Field("", description="The letter on it.")
    side: Literal["wall", "room", "none"] = Field(
        "none", description="Of a strip: the factory long side it still has."
    )


class RowEntry(_Entry):
    """A row that is not the ordinary kind."""

    row: Count = Field(description="Number of the row.")
    turned: bool = Field(False, description="Boards lie turned end for end: beyond a spline.")
    joined: Literal["wall-side", "room-side"] = Field(
        "wall-side", description="The side on which it joins the row laid before it."
    )
    stretches: list[Count] = Field(
        [], description="The stretches that are meant, where it is not the whole row."
    )


class PieceEntry(_Entry):
    """A board or part of one, where it lies on the floor and in its board."""

    id: str = Field(description="row.stretch.seat, with a letter where a seat holds several.")
    row: Count = Field(description="Counted from the start wall, from 1.")
    stretch: Count = Field(description="Counted from the near end, from 1.")
    seat: Count = Field(description="Place in the stretch, from the near end, from 1.")
    outline: PolygonEntry = Field(description="Its shape on the floor, room coordinates.")
    board: Count = Field(description="Number of the board it is cut from.")
    length: float = Field(description="Of the bounding rectangle, along u [mm].")
    width: float = Field(description="Of the bounding rectangle, along v [mm].")
    from_near: float = Field(description="From the board's near end to the rectangle [mm].")
    from_wall_side: float = Field(description="From the board's wall side to the rectangle [mm].")
    near_end: Cut = Field(description="Edge at the near end.")
    far_end: Cut = Field(description="Edge at the far end.")
    wall_side: Cut = Field(description="Edge toward the start wall.")
    room_side: Cut = Field(description="Edge away from the start wall.")
    lay_order: Count = Field(description="When it is laid, from 1.")
    cut_order: Count | None = Field(None, description="When it is sawn; null for a whole board.")
    label: str | None = Field(None, description="Of the offcut it is taken from, or null.")


class EvidenceEntry(_Entry):
    """What proves the bound; prices are a step function, pairs of a length [mm] and a price."""

    kind: EvidenceKind = Field(description="What proves the bound; a search is not checked again.")
    prices: list[tuple[float, float]] = Field(
        [], description="Of lengths [mm], rising; between two the lower one's price holds."
    )
    joint_offsets: bool = Field(
        False,
        description="Prices are added up along chains of stretches that keep their joint offsets.",
    )
    second: list[tuple[float, float]] = Field(
        [], description="Prices for the rows of the second batch, proven by themselves."
    )
    line: tuple[float, float] | None = Field(
        None, description="The line that is priced: distance from the boards' wall sides, reach."
    )
    second_line: tuple[float, float] | None = Field(
        None, description="The same for the rows of the second batch."
    )


class BoardsEntry(_Entry):
    """Boards used, the bound, whether they meet and what proves it."""

    used: Count = Field(description="Boards the plan takes.")
    bound: Count = Field(description="No plan of this floor with these row lines takes fewer.")
    status: Status = Field(description="optimal only where used and bound meet.")
    evidence: EvidenceEntry = Field(description="What proves the bound.")


class FindingEntry(_Entry):
    """Something the program noticed; it excuses a broken rule only for the place it names."""

    code: str = Field(description="One of the finding codes.")
    where: str = Field(description="A piece, a wall, or another place.")
    message: str = Field(description="What is odd, with its figures.")
    remedy: str = Field("", description="What to do about it.")


class PlanEntry(_Entry):
    """A Plankwright plan file: complete, so that everything printed can be derived from it."""

    format: Literal["plankwright-plan"] = Field(description="Tells a plan file from others.")
    version: Literal[1] = Field(description="Of the format; meanings never change within it.")
    length_unit: Literal["mm"] = Field(description="Unit of every length in the file.")
    name: str = Field("room", description="How the person calls the job.")
    unit: str = Field("mm", description="Unit in which lengths are shown to people.")
    board: BoardEntry = Field(description="The board.")
    rules: RulesEntry = Field(description="The rules.")
    laying: LayingEntry = Field(description="Directions, start wall and start line.")
    room: PolygonEntry = Field(description="The room's outline, with holes.")
    edges: list[EdgeEntry] = Field([], description="Walls with a gap of their own.")
    fixed: list[FixedEntry] = Field([], description="Fixed things.")
    recesses: list[RecessEntry] = Field([], description="Floor beyond the outline.")
    floor: MultiPolygonEntry = Field(description="What the pieces must cover.")
    stock: list[StockEntry] = Field([], description="Boards that are not whole and new.")
    rows: list[RowEntry] = Field([], description="Only rows that are not the ordinary kind.")
    pieces: list[PieceEntry] = Field(description="Every piece.")
    boards: BoardsEntry = Field(description="The count and its proof.")
    packs: Count = Field(description="Packs to buy.")
    findings: list[FindingEntry] = Field([], description="What to check; on screen *check this*.")
    overhangs: list[OverhangEntry] = Field([], description="What hangs over the floor.")
    laid: list[str] = Field(
        [], description="Pieces that lay already: the count is proven for plans that keep them."
    )
    second_batch_row: Count | None = Field(
        None, description="From this row on only new boards of a second batch are used."
    )


# --- schema ----------------------------------------------------------------------------------


def schema_text() -> str:
    """The JSON Schema (draft 2020-12) of the plan file, made from the entries above."""
    schema = PlanEntry.model_json_schema()
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def shipped_schema() -> str:
    """The schema that is published with the package."""
    return resources.files("plankwright").joinpath("data", SCHEMA_FILE).read_text(encoding="utf-8")


def write_schema(path: Path) -> None:
    """Write the schema to a file; a test keeps the shipped one true."""
    path.write_text(schema_text(), encoding="utf-8")
