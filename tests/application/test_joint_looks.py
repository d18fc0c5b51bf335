"""Looks of joints counted on plans made by hand."""

from dataclasses import replace
from itertools import pairwise

import pytest
from shapely import MultiPolygon, box

from plankwright.application.joint_looks import joint_looks
from plankwright.model.board import Board
from plankwright.model.plan import BoardCount, Evidence, Laying, Piece, Plan
from plankwright.model.rules import Rules

WIDTH, LENGTH = 200.0, 3000.0


def floor_of(*rows: tuple[float, ...]) -> Plan:
    """Rows of 200 x 3000 mm along x, row 1 at y = 0, each parted at the joints given."""
    pieces: list[Piece] = []
    for row, joints in enumerate(rows, start=1):
        ends = [0.0, *joints, LENGTH]
        for seat, (near, far) in enumerate(pairwise(ends), start=1):
            outline = box(near, (row - 1) * WIDTH, far, row * WIDTH)
            number = len(pieces) + 1
            pieces.append(
                Piece(f"{row}.1.{seat}", row, 1, seat, outline, number, far - near, WIDTH, 0.0, 0.0,
                      "factory", "factory", "factory", "factory", number)
            )  # fmt: skip
    floor = box(0.0, 0.0, LENGTH, WIDTH * len(rows))
    return Plan(
        board=Board(1285.0, WIDTH),
        rules=Rules(),
        laying=Laying(0.0, "right-to-left", "A-B", 0.0),
        room=floor,
        floor=MultiPolygon([floor]),
        pieces=tuple(pieces),
        boards=BoardCount(len(pieces), 0, "feasible", Evidence("area")),
        packs=1,
    )


@pytest.mark.parametrize(
    ("rows", "h_joints", "stairs", "close"),
    [
        ([(1000,), (2000,), (1050,)], 1, 0, 0),  # rows 1 and 3: 50 mm apart
        ([(1000,), (2000,), (1100,)], 0, 0, 0),  # just no H-joint
        ([(600,), (1000,), (1400,)], 0, 1, 0),  # steps of 400: a stair
        ([(600,), (1000,), (1440,)], 0, 0, 0),  # steps of 400 and 440 are none
        ([(600,), (1000,), (600,)], 1, 0, 0),  # to and fro is no stair, but an H
        ([(1000,), (1320,)], 0, 0, 1),  # offset 320: less than 1.1 x 300
        ([(1000,), (1330,)], 0, 0, 0),
        ([(), (), ()], 0, 0, 0),
    ],
)
def test_counts_by_hand(
    rows: list[tuple[float, ...]], h_joints: int, stairs: int, close: int
) -> None:
    found = joint_looks(floor_of(*rows))
    assert (found.h_joints, found.stairs, found.close_joints) == (h_joints, stairs, close)
    assert found.cost == 3 * h_joints + 2 * stairs + close


def test_rows_parted_by_a_post_make_no_h_joint() -> None:
    # the two joints of rows 1 and 3 are in line, but a post stands between them
    plan = floor_of((1000,), (2000,), (1000,))
    post = box(900.0, 150.0, 1100.0, 450.0)
    parted = replace(plan, floor=MultiPolygon([plan.room.difference(post)]))
    assert joint_looks(plan).h_joints == 1
    assert joint_looks(parted).h_joints == 0
