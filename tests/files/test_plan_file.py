"""The plan file: same plan, same bytes; what was written is read back; what is wrong is told."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import jsonschema
import pytest
from tests.checker.plan_maker import ROOMS, changed, plain_room, post_room, proven_room

from plankwright.errors import FileError, InputError
from plankwright.files.plan_entries import schema_text, shipped_schema
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan, RowKind, StockBoard


def rich_plan() -> Plan:
    """A plan in which every kind of entry appears (not a legal one)."""
    return changed(
        post_room(angle=33.3),
        edges=(("B-C", 12.0),),
        stock=(StockBoard(90, 784.0, "far", None, "K"), StockBoard(91, 600.0, "both", 96.0)),
        rows=(RowKind(7, turned=True, joined="room-side"),),
        findings=(Finding("narrow-row", "1.1.1", "it is 40 mm wide – see “rules”", "Shift it."),),
        name="hobby room",
        unit="in",
    )


def spoiled(**fields: Any) -> str:
    document = json.loads(dump_plan(plain_room()))
    document.update(fields)
    return json.dumps(document)


@pytest.mark.parametrize("make", [*ROOMS, proven_room, rich_plan])
def test_reading_what_was_written_gives_the_same_bytes(make: Callable[[], Plan]) -> None:
    text = dump_plan(make())
    assert dump_plan(load_plan(text)) == text


def test_reading_gives_the_same_plan_but_for_rounding() -> None:
    plan = rich_plan()
    read = load_plan(dump_plan(plan))
    assert (read.board, read.rules, read.boards, read.packs) == (
        plan.board, plan.rules, plan.boards, plan.packs,
    )  # fmt: skip
    assert (read.stock, read.rows, read.findings) == (plan.stock, plan.rows, plan.findings)
    assert (read.name, read.unit, read.edges) == (plan.name, plan.unit, plan.edges)
    for ours, theirs in zip(plan.pieces, read.pieces, strict=True):
        assert theirs.id == ours.id
        assert theirs.outline.equals_exact(ours.outline, 0.0008)
        assert theirs.from_near_mm == pytest.approx(ours.from_near_mm, abs=0.0006)


def test_prices_are_written_as_they_are() -> None:
    prices = load_plan(dump_plan(proven_room())).boards.evidence.prices
    assert prices == proven_room().boards.evidence.prices


def test_a_proof_with_joint_offsets_says_so() -> None:
    plan = proven_room()
    evidence = replace(plan.boards.evidence, joint_offsets=True)
    joint = replace(plan, boards=replace(plan.boards, evidence=evidence))
    text = dump_plan(joint)
    jsonschema.validate(json.loads(text), json.loads(schema_text()))
    assert load_plan(text).boards.evidence.joint_offsets
    assert dump_plan(load_plan(text)) == text
    # a file without the key is read as before, and none is written
    assert not load_plan(dump_plan(plan)).boards.evidence.joint_offsets
    assert "joint_offsets" not in dump_plan(plan)


def test_the_leaflets_least_gap_is_kept_where_there_is_one() -> None:
    plan = plain_room()
    told = changed(plan, rules=changed(plan.rules, least_gap_mm=6.0))
    assert load_plan(dump_plan(told)).rules.least_gap_mm == 6.0
    assert load_plan(dump_plan(plan)).rules.least_gap_mm is None


def test_the_file_has_a_line_for_each_piece() -> None:
    text = dump_plan(plain_room())
    assert sum('"lay_order"' in line for line in text.splitlines()) == len(plain_room().pieces)
    assert "-0.0," not in text


def test_the_shipped_schema_is_true() -> None:
    assert shipped_schema() == schema_text()


def test_plan_files_keep_their_schema() -> None:
    schema = json.loads(schema_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    for plan in (rich_plan(), proven_room()):
        jsonschema.validate(json.loads(dump_plan(plan)), schema)


def test_unknown_keys_and_missing_lists_are_no_fault() -> None:
    document = json.loads(spoiled(color="oak"))
    for key in ("edges", "fixed", "recesses", "stock", "rows", "findings", "name", "unit"):
        del document[key]
    assert len(load_plan(json.dumps(document)).pieces) == len(plain_room().pieces)


def piece_with(**fields: Any) -> list[dict[str, Any]]:
    pieces: list[dict[str, Any]] = json.loads(dump_plan(plain_room()))["pieces"]
    pieces[3].update(fields)
    return pieces


SQUARE = [[0, 0], [4000, 0], [4000, 3000], [0, 0]]


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("", "plan.json"),
        ("{", "plan.json"),
        ("[]", "plan.json"),
        ("{}", "plan.json"),
        (spoiled(format="other"), "plan.json"),
        (spoiled(version=2), "plan.json: version"),
        (spoiled(length_unit="in"), "plan.json: length_unit"),
        (spoiled(packs="seven"), "plan.json: packs"),
        (spoiled(pieces=piece_with(length=None)), "plan.json: pieces[3].length"),
        (spoiled(pieces=piece_with(near_end="sawn")), "plan.json: pieces[3].near_end"),
        (spoiled(pieces=piece_with(outline={"type": "Point"})), "plan.json: pieces[3].outline"),
        (spoiled(pieces=piece_with(length=float("nan"))), "plan.json: pieces[3].length"),
        (
            spoiled(pieces=piece_with(outline={"type": "Polygon", "coordinates": []})),
            "plan.json: pieces[3].outline",
        ),
        (
            spoiled(room={"type": "Polygon", "coordinates": [SQUARE[:2]]}),
            "plan.json: room",
        ),
        (
            spoiled(room={"type": "Polygon", "coordinates": [SQUARE[:3]]}),
            "plan.json: room",
        ),
        (spoiled(findings=[{"code": "odd", "where": "", "message": ""}]), "plan.json: findings[0]"),
        (
            spoiled(board={**json.loads(spoiled())["board"], "wall_side": None}),
            "plan.json: board",
        ),
        (
            spoiled(board={**json.loads(spoiled())["board"], "length": -5}),
            "plan.json: board.length",
        ),
        (
            spoiled(rules={**json.loads(spoiled())["rules"], "kerf": 1e9}),
            "plan.json: rules.kerf",
        ),
    ],
)
def test_what_is_wrong_is_told_with_its_place(text: str, where: str) -> None:
    with pytest.raises(InputError) as caught:
        load_plan(text)
    assert str(caught.value).startswith(where)


def test_what_is_no_plan_file_is_a_file_error() -> None:
    for text in ("no json", '{"type": "FeatureCollection"}'):
        with pytest.raises(FileError):
            load_plan(text, "room.geojson")
