"""The plan file (the *certificate*): ``plan.json`` to and from :class:`~plankwright.model.Plan`.

The format is the interface between planner, checker, drawings, laying guide and other people's
programs. Keys may be added, meanings never change; unknown keys are ignored when reading.
Lengths are millimeters, written to 0.001 mm; the same plan always gives the same bytes.
"""

import json
from collections.abc import Iterable
from typing import Any

from pydantic import ValidationError
from shapely import MultiPolygon, Polygon
from shapely.errors import GEOSException

from plankwright.errors import FileError, InputError, PlankwrightError
from plankwright.files.plan_entries import (
    BoardEntry,
    EvidenceEntry,
    FindingEntry,
    PieceEntry,
    PlanEntry,
    Position,
)
from plankwright.model.board import Board, Hand, Laid
from plankwright.model.findings import CODES, Finding
from plankwright.model.plan import (
    BoardCount,
    Evidence,
    Laying,
    Overhang,
    Piece,
    Plan,
    PlanFixed,
    Recess,
    RowKind,
    StockBoard,
)
from plankwright.model.rules import Rules

FORMAT = "plankwright-plan"
VERSION = 1
DECIMALS = 3  # of a length [mm] in the file
ANGLE_DECIMALS = 9  # of an angle [°]: below 0.001 mm over 50 m


# --- writing ---------------------------------------------------------------------------------


def dump_plan(plan: Plan) -> str:
    """The plan file's text: one line for each head entry and each piece, always the same bytes."""
    entries = _document(plan)
    lines = [f"{json.dumps(key)}: {_layout(value)}" for key, value in entries.items()]
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _layout(value: Any) -> str:
    """Lists of entries with an entry a line, everything else on one line."""
    if isinstance(value, list) and value:
        return "[\n  " + ",\n  ".join(_line(entry) for entry in value) + "\n]"
    return _line(value)


def _line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _document(plan: Plan) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "version": VERSION,
        "length_unit": "mm",
        "name": plan.name,
        "unit": plan.unit,
        "board": _board_entry(plan.board, plan.laying.laid),
        "rules": {
            "gap": _mm(plan.rules.gap_mm),
            "kerf": _mm(plan.rules.kerf_mm),
            "allowance": _mm(plan.rules.allowance_mm),
            "shortest_piece": _mm(plan.rules.shortest_piece_mm),
            "joint_offset": _mm(plan.rules.joint_offset_mm),
            "narrowest_row": _mm(plan.rules.narrowest_row_mm),
            "trim_cover": _mm(plan.rules.trim_cover_mm),
            **_least_gap_entry(plan.rules),
        },
        "laying": {
            "row_angle_deg": round(plan.laying.row_angle_deg, ANGLE_DECIMALS) + 0.0,
            "laid": plan.laying.laid,
            "start_wall": plan.laying.start_wall,
            "start_line": _mm(plan.laying.start_line_mm),
        },
        "room": _polygon_entry(plan.room),
        "edges": [{"edge": name, "gap": _mm(gap)} for name, gap in plan.edges],
        "fixed": [_fixed_entry(thing) for thing in plan.fixed],
        "recesses": [
            {"kind": recess.kind, "outline": _polygon_entry(recess.outline)}
            for recess in plan.recesses
        ],
        "floor": {
            "type": "MultiPolygon",
            "coordinates": [_rings(part) for part in plan.floor.geoms],
        },
        "stock": [_stock_entry(board) for board in plan.stock],
        "rows": [_row_entry(row) for row in plan.rows],
        "pieces": [_piece_entry(piece) for piece in plan.pieces],
        "boards": _boards_entry(plan.boards),
        "packs": plan.packs,
        "findings": [
            {"code": f.code, "where": f.where, "message": f.message, "remedy": f.remedy}
            for f in plan.findings
        ],
        **({"laid": list(plan.laid)} if plan.laid else {}),
        **({"second_batch_row": plan.second_batch_row} if plan.second_batch_row else {}),
        **({"overhangs": [_overhang_entry(o) for o in plan.overhangs]} if plan.overhangs else {}),
    }


def _row_entry(row: RowKind) -> dict[str, Any]:
    only = {"stretches": list(row.stretches)} if row.stretches else {}
    return {"row": row.row, "turned": row.turned, "joined": row.joined, **only}


def _overhang_entry(overhang: Overhang) -> dict[str, Any]:
    clearance = overhang.clearance_mm
    return {
        "kind": overhang.kind,
        "outline": _polygon_entry(overhang.outline),
        "clearance": None if clearance is None else _mm(clearance),
        "name": overhang.name,
    }


def _mm(length: float) -> float:
    return round(float(length), DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0


def _rings(polygon: Polygon) -> list[list[list[float]]]:
    if polygon.is_empty:
        return []
    return [
        [[_mm(x), _mm(y)] for x, y, *_ in ring.coords]
        for ring in (polygon.exterior, *polygon.interiors)
    ]


def _polygon_entry(polygon: Polygon) -> dict[str, Any]:
    return {"type": "Polygon", "coordinates": _rings(polygon)}


def _least_gap_entry(rules: Rules) -> dict[str, float]:
    return {} if rules.least_gap_mm is None else {"least_gap": _mm(rules.least_gap_mm)}


def _board_entry(board: Board, laid: Laid) -> dict[str, Any]:
    return {
        "length": _mm(board.length_mm),
        "width": _mm(board.width_mm),
        "per_pack": board.per_pack,
        "lock": "reversible" if board.reversible else "handed",
        "wall_side": None if board.reversible else board.start_side,
        "near_end": board.near_end(laid),
        "end_lock": board.end_lock,
        "either_way": board.either_way,
        "laid_backwards": board.laid_backwards,
        "spline": board.spline,
        "shave_and_glue": board.shave_and_glue,
        "tilt_deg": round(board.tilt_deg, ANGLE_DECIMALS) + 0.0,
        "thickness": _mm(board.thickness_mm),
    }


def _fixed_entry(thing: PlanFixed) -> dict[str, Any]:
    return {
        "kind": thing.kind,
        "outline": _polygon_entry(thing.outline),
        "gap": _mm(thing.gap_mm),
        "name": thing.name,
    }


def _stock_entry(board: StockBoard) -> dict[str, Any]:
    return {
        "id": board.id,
        "length": _mm(board.length_mm),
        "ends": board.ends,
        "width": None if board.width_mm is None else _mm(board.width_mm),
        "label": board.label,
        "side": board.side,
    }


def _piece_entry(piece: Piece) -> dict[str, Any]:
    return {
        "id": piece.id,
        "row": piece.row,
        "stretch": piece.stretch,
        "seat": piece.seat,
        "outline": _polygon_entry(piece.outline),
        "board": piece.board,
        "length": _mm(piece.length_mm),
        "width": _mm(piece.width_mm),
        "from_near": _mm(piece.from_near_mm),
        "from_wall_side": _mm(piece.from_wall_side_mm),
        "near_end": piece.near_end,
        "far_end": piece.far_end,
        "wall_side": piece.wall_side,
        "room_side": piece.room_side,
        "lay_order": piece.lay_order,
        "cut_order": piece.cut_order,
        "label": piece.label,
    }


def _boards_entry(boards: BoardCount) -> dict[str, Any]:
    evidence: dict[str, Any] = {"kind": boards.evidence.kind}
    if boards.evidence.prices:
        # Prices are a proof: written as they are, not rounded.
        evidence["prices"] = [[float(t), float(p)] for t, p in boards.evidence.prices]
    if boards.evidence.joint_offsets:
        evidence["joint_offsets"] = True
    if boards.evidence.second:
        evidence["second"] = [[float(t), float(p)] for t, p in boards.evidence.second]
    if boards.evidence.line_mm is not None:
        evidence["line"] = [float(mm) for mm in boards.evidence.line_mm]
    if boards.evidence.second_line_mm is not None:
        evidence["second_line"] = [float(mm) for mm in boards.evidence.second_line_mm]
    return {
        "used": boards.used,
        "bound": boards.bound,
        "status": boards.status,
        "evidence": evidence,
    }


# --- reading ---------------------------------------------------------------------------------


def load_plan(text: str, where: str = "plan.json") -> Plan:
    """The plan in a plan file's text.

    Parameters
    ----------
    text : JSON.
    where : name of the file, for messages.

    Raises
    ------
    FileError
        when the text is not JSON or not a plan file at all.
    InputError
        when an entry is missing, of the wrong kind or impossible; names the entry.
    """
    try:
        entry = PlanEntry.model_validate_json(text)
    except ValidationError as error:
        raise _told(error, where) from None
    try:
        return _plan(entry)
    except InputError as error:
        raise error.at(where) from None


def _told(error: ValidationError, where: str) -> InputError:
    """Pydantic's first complaint as one of ours, with the number of the others."""
    first = error.errors(include_url=False)[0]
    place = _place(first["loc"])
    if first["type"] == "json_invalid":
        return FileError(
            "this is not JSON",
            where=where,
            value=first["msg"],
            remedy="Make the plan file anew with plankwright plan.",
        )
    if place in ("", "format"):
        return FileError(
            "this is not a plan file",
            where=where,
            remedy='A plan file is a JSON object with "format": "plankwright-plan".',
        )
    if place == "version":
        return FileError(
            "unknown version of the plan file",
            where=f"{where}: version",
            value=first["input"],
            remedy="Use the program that wrote it, or a newer one.",
        )
    others = error.error_count() - 1
    message = "is missing" if first["type"] == "missing" else first["msg"].lower()
    more = f" (and {others} more entries are wrong)" if others else ""
    value = None if first["type"] == "missing" else first["input"]
    return InputError(
        message + more,
        where=f"{where}: {place}",
        value=value,
        remedy="Make the plan file anew with plankwright plan.",
    )


def _place(steps: Iterable[int | str]) -> str:
    place = ""
    for step in steps:
        place += f"[{step}]" if isinstance(step, int) else f".{step}"
    return place.removeprefix(".")


def _plan(entry: PlanEntry) -> Plan:
    laying = entry.laying
    return Plan(
        board=_board(entry.board, laying.laid),
        rules=Rules(**{f"{name}_mm": value for name, value in entry.rules}),
        laying=Laying(laying.row_angle_deg, laying.laid, laying.start_wall, laying.start_line),
        room=_polygon(entry.room.coordinates, "room"),
        edges=tuple((edge.edge, edge.gap) for edge in entry.edges),
        fixed=tuple(
            PlanFixed(thing.kind, _polygon(thing.outline.coordinates, f"fixed[{i}].outline"),
                      thing.gap, thing.name)
            for i, thing in enumerate(entry.fixed)
        ),
        recesses=tuple(
            Recess(recess.kind, _polygon(recess.outline.coordinates, f"recesses[{i}].outline"))
            for i, recess in enumerate(entry.recesses)
        ),
        floor=MultiPolygon(
            [_polygon(rings, f"floor[{i}]") for i, rings in enumerate(entry.floor.coordinates)]
        ),
        stock=tuple(
            StockBoard(
                board.id, board.length, board.ends, board.width, board.label, board.side
            )
            for board in entry.stock
        ),
        rows=tuple(
            RowKind(row.row, row.turned, row.joined, tuple(row.stretches)) for row in entry.rows
        ),
        pieces=tuple(_piece(piece, i) for i, piece in enumerate(entry.pieces)),
        boards=BoardCount(
            entry.boards.used,
            entry.boards.bound,
            entry.boards.status,
            _evidence(entry.boards.evidence),
        ),
        packs=entry.packs,
        findings=tuple(_finding(finding, i) for i, finding in enumerate(entry.findings)),
        name=entry.name,
        unit=entry.unit,
        laid=tuple(entry.laid),
        second_batch_row=entry.second_batch_row,
        overhangs=tuple(
            Overhang(over.kind, _polygon(over.outline.coordinates, f"overhangs[{i}].outline"),
                     over.clearance, over.name)
            for i, over in enumerate(entry.overhangs)
        ),
    )  # fmt: skip


def _board(entry: BoardEntry, laid: Laid) -> Board:
    handed = entry.lock == "handed"
    if handed and (entry.wall_side is None or entry.near_end is None):
        raise InputError(
            "a handed board needs the profiles of its wall side and near end", where="board"
        )
    near: Hand = "left" if laid == "left-to-right" else "right"
    far: Hand = "right" if near == "left" else "left"
    return Board(
        length_mm=entry.length,
        width_mm=entry.width,
        per_pack=entry.per_pack,
        thickness_mm=entry.thickness,
        reversible=not handed,
        start_side=entry.wall_side or "tongue",
        tongue_end=far if entry.near_end == "groove" else near,
        end_lock=entry.end_lock,
        either_way=entry.either_way,
        laid_backwards=entry.laid_backwards,
        spline=entry.spline,
        shave_and_glue=entry.shave_and_glue,
        tilt_deg=entry.tilt_deg,
    )


def _polygon(rings: list[list[Position]], where: str) -> Polygon:
    if not rings:
        raise InputError("an outline needs a ring of corners", where=where)
    for ring in rings:
        if len(ring) < 4 or ring[0] != ring[-1]:
            raise InputError(
                "a ring needs at least three corners and ends where it began",
                where=where,
                value=len(ring),
            )
    try:
        return Polygon(rings[0], rings[1:])
    except (GEOSException, ValueError) as error:
        raise InputError("not an outline", where=where, value=str(error)) from None


def _piece(entry: PieceEntry, index: int) -> Piece:
    return Piece(
        id=entry.id,
        row=entry.row,
        stretch=entry.stretch,
        seat=entry.seat,
        outline=_polygon(entry.outline.coordinates, f"pieces[{index}].outline"),
        board=entry.board,
        length_mm=entry.length,
        width_mm=entry.width,
        from_near_mm=entry.from_near,
        from_wall_side_mm=entry.from_wall_side,
        near_end=entry.near_end,
        far_end=entry.far_end,
        wall_side=entry.wall_side,
        room_side=entry.room_side,
        lay_order=entry.lay_order,
        cut_order=entry.cut_order,
        label=entry.label,
    )


def _evidence(entry: EvidenceEntry) -> Evidence:
    return Evidence(
        entry.kind,
        tuple(entry.prices),
        entry.joint_offsets,
        tuple(entry.second),
        entry.line,
        entry.second_line,
    )


def _finding(entry: FindingEntry, index: int) -> Finding:
    try:
        return Finding(entry.code, entry.where, entry.message, entry.remedy)
    except PlankwrightError:
        raise InputError(
            "unknown code of a finding",
            where=f"findings[{index}].code",
            value=entry.code,
            remedy="Known codes: " + ", ".join(CODES) + ".",
        ) from None
