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

    type: Literal["Polygon"] = "Polygon"
    coordinates: list[list[Position]]


class MultiPolygonEntry(_Entry):
    """A GeoJSON MultiPolygon (RFC 7946) in millimeters of the room."""

    type: Literal["MultiPolygon"] = "MultiPolygon"
    coordinates: list[list[list[Position]]]


class BoardEntry(_Entry):
    """The board: cover size, pack and lock."""

    length: float = Field(description="Cover length [mm].")
    width: float = Field(description="Cover width [mm].")
    per_pack: int = Field(description="Boards in a pack.")
    lock: Literal["handed", "reversible"]
    wall_side: Profile | None = Field(description="Profile of the long side at the start wall.")
    near_end: Profile | None = Field(description="Profile of the end where laying starts.")
    end_lock: EndLock = Field("drop", description="How an end closes.")
    either_way: bool = Field(False, description="The leaflet allows both laying directions.")
    thickness: float = Field(0.0, description="Thickness [mm]; 0 when unknown.")


class RulesEntry(_Entry):
    """What the plan must keep [mm]."""

    gap: float
    kerf: float
    allowance: float
    shortest_piece: float
    joint_offset: float
    narrowest_row: float
    trim_cover: float


class LayingEntry(_Entry):
    """Row direction, laying direction, start wall and start line."""

    row_angle_deg: float = Field(description="Of u (near to far), anticlockwise from x [°].")
    laid: Laid = Field(description="left-to-right: v is u turned by -90°; right-to-left: by +90°.")
    start_wall: str
    start_line: float = Field(description="v of row 1's wall side as if it were a full board [mm].")


class EdgeEntry(_Entry):
    """An edge whose gap differs from the rules."""

    edge: str
    gap: float = Field(ge=0.0)


class FixedEntry(_Entry):
    """A fixed thing and the gap kept round it."""

    kind: str
    outline: PolygonEntry
    gap: float = Field(ge=0.0)
    name: str = ""


class RecessEntry(_Entry):
    """What is added to the floor beyond the outline: a doorway, the place under a jamb."""

    kind: str
    outline: PolygonEntry


class StockEntry(_Entry):
    """A board that is not whole and new."""

    id: Count
    length: float = Field(gt=0.0)
    ends: Literal["both", "near", "far", "none"] = "both"
    width: float | None = Field(None, gt=0.0)
    label: str = ""


class RowEntry(_Entry):
    """A row that is not the ordinary kind."""

    row: Count
    turned: bool = False
    joined: Literal["wall-side", "room-side"] = "wall-side"


class PieceEntry(_Entry):
    """A board or part of one, where it lies on the floor and in its board."""

    id: str
    row: Count
    stretch: Count
    seat: Count
    outline: PolygonEntry
    board: Count
    length: float = Field(description="Of the bounding rectangle, along u [mm].")
    width: float = Field(description="Of the bounding rectangle, along v [mm].")
    from_near: float = Field(description="From the board's near end to the rectangle [mm].")
    from_wall_side: float = Field(description="From the board's wall side to the rectangle [mm].")
    near_end: Cut
    far_end: Cut
    wall_side: Cut
    room_side: Cut
    lay_order: Count
    cut_order: Count | None = Field(None, description="When it is sawn; null for a whole board.")
    label: str | None = Field(None, description="Of the offcut it is taken from, or null.")


class EvidenceEntry(_Entry):
    """What proves the bound; prices are a step function, pairs of a length [mm] and a price."""

    kind: EvidenceKind
    prices: list[tuple[float, float]] = []


class BoardsEntry(_Entry):
    """Boards used, the bound, whether they meet and what proves it."""

    used: Count
    bound: Count
    status: Status
    evidence: EvidenceEntry


class FindingEntry(_Entry):
    """Something the program noticed; it excuses a broken rule only for the place it names."""

    code: str
    where: str
    message: str
    remedy: str = ""


class PlanEntry(_Entry):
    """A Plankwright plan file: complete, so that everything printed can be derived from it."""

    format: Literal["plankwright-plan"]
    version: Literal[1]
    length_unit: Literal["mm"]
    name: str = "room"
    unit: str = Field("mm", description="Unit in which lengths are shown to people.")
    board: BoardEntry
    rules: RulesEntry
    laying: LayingEntry
    room: PolygonEntry
    edges: list[EdgeEntry] = []
    fixed: list[FixedEntry] = []
    recesses: list[RecessEntry] = []
    floor: MultiPolygonEntry
    stock: list[StockEntry] = []
    rows: list[RowEntry] = []
    pieces: list[PieceEntry]
    boards: BoardsEntry
    packs: Count
    findings: list[FindingEntry] = []


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
