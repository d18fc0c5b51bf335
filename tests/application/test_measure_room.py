"""The use case: what a survey comes to, and in which words."""

import math
from dataclasses import replace

import pytest
from tests.survey.rooms import CROOKED, L_ROOM, RECTANGLE, taped

from plankwright.application.measure_in_place import pieces_to_measure
from plankwright.application.measure_room import enough_mm, measure_room
from plankwright.application.plan_room import Effort, plan_room
from plankwright.application.survey_findings import blunder_words, error_words, proposal_words
from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.survey import Distance, StringLine, Survey
from plankwright.survey.blunder import Suspect
from plankwright.survey.next_measurement import Proposal


def test_a_well_measured_room() -> None:
    room = measure_room(taped(CROOKED, "AC BD", square="ABCD"))
    assert room.status == "measured"
    assert room.is_sure
    assert room.findings == ()
    assert room.worst_mm <= room.enough_mm == 8.0
    assert [corner.name for corner in room.corners] == ["A", "B", "C", "D"]
    assert room.outline.area == pytest.approx(15_030_000, rel=0.01)
    assert [length.kind for length in room.lengths] == ["wall"] * 4 + ["diagonal"] * 2
    assert room.closing is not None
    # 4200 and 3600 out, back 4160.0 and 3590: 40 mm and 10 mm are missing
    assert room.closing.gap == pytest.approx(math.hypot(40.0, 9.9), abs=0.3)


def test_the_message_of_a_blunder() -> None:
    # The example of the trade: 4.41 m was written for 4.31 m
    suspect = Suspect("D-A", 3, 4410.0, 4312.0, 4.0, 9.0, (), False, True)
    assert blunder_words(suspect, "m").startswith(
        "D-A is probably 10 cm too long: 4.310 m fits, 4.410 m was written"
    )
    plain = Suspect("A-C", 4, 5246.0, 5516.2, 5.7, 39.0, (), False, True)
    assert blunder_words(plain, "mm") == (
        "A-C is probably 270 mm too short: 5516 mm fits, 5246 mm was written"
    )


def test_the_message_of_a_proposal() -> None:
    proposal = Proposal("A", "D", 5021.2, 18.3, 3.6)
    assert proposal_words(proposal, "mm") == (
        "A-D (about 5021 mm): worst corner from 19 mm to 4 mm"
    )
    assert error_words(3.6, "in") == '3/16"'  # 3.6 mm are 0.14 in: up to the next mark


def test_a_blunder_is_left_out_and_told() -> None:
    survey = taped(L_ROOM, "AC AD AE BD BE BF CE CF DF", wrong={"AD": 100.0})
    room = measure_room(survey)
    assert [f.code for f in room.findings] == ["survey-blunder"]
    assert "A-D is probably 100 mm too long" in room.findings[0].message
    assert "Until then the room is drawn without it" in room.findings[0].remedy
    assert not room.is_sure
    out = [length for length in room.lengths if length.left_out]
    assert [length.name for length in out] == ["A-D"]
    assert out[0].adjusted_mm == pytest.approx(out[0].measured_mm - 100.0, abs=0.1)
    assert [length.name for length in room.lengths] == [d.name for d in survey.distances]


def test_too_little_is_assumed_aloud() -> None:
    room = measure_room(taped(RECTANGLE))
    assert room.status == "assumed"
    assert not room.is_sure
    assert room.findings[0].code == "survey-assumed"
    assert room.proposals[0].name in ("A-C", "B-D")


def test_bows_and_whose_edges_they_are() -> None:
    base = taped(RECTANGLE, "AC BD")
    bowed = replace(base, string_lines=(StringLine("B", "C", ((1800.0, -10.0),)),))
    room = measure_room(bowed)
    assert room.edge_walls == ("A-B", "B-C", "B-C", "C-D", "D-A")
    # A triangle of 3600 by 10 is missing
    assert room.outline.area == pytest.approx(4200 * 3600 - 3600 * 10 / 2, rel=1e-6)


def test_walls_that_were_not_measured() -> None:
    room = measure_room(taped(L_ROOM, "AC AD BD DF", left_out="EF"))
    (wall,) = room.walls_missing
    assert wall.name == "E-F"
    assert math.isnan(wall.measured_mm)


def test_two_shapes_are_told_with_the_length_that_tells() -> None:
    # A dart and a kite: D may lie on either side of A-C
    survey = Survey(
        ("A", "B", "C", "D"),
        (Distance("A", "B", 4000.0), Distance("B", "C", 4000.0), Distance("C", "D", 2400.0),
         Distance("D", "A", 2400.0), Distance("A", "C", 4200.0)),
    )  # fmt: skip
    room = measure_room(survey)
    assert room.telling is not None
    assert {room.telling.start, room.telling.end} == {"B", "D"}
    # h of A-B-C: sqrt(4000^2 - 2100^2) = 3404.4; of A-D-C: sqrt(2400^2 - 2100^2) = 1161.9
    told = sorted((room.telling.here_mm, room.telling.rival_mm))
    assert told == pytest.approx([3404.4 - 1161.9, 3404.4 + 1161.9], abs=0.1)
    assert "survey-two-shapes" in [finding.code for finding in room.findings]


def test_what_gap_and_trim_hide() -> None:
    assert enough_mm(Rules(gap_mm=8.0, trim_cover_mm=16.0)) == 8.0
    assert enough_mm(Rules(gap_mm=10.0, trim_cover_mm=14.0)) == 4.0
    assert enough_mm(Rules(gap_mm=8.0, trim_cover_mm=8.0)) == 1.0
    assert enough_mm(Rules(gap_mm=8.0, trim_cover_mm=16.0, least_gap_mm=5.0)) == 3.0


def test_last_pieces_to_measure_in_place() -> None:
    loose = measure_room(taped(RECTANGLE, square="ABCD"))
    effort = Effort(moves=200, looks=0)  # no whole board at the far wall: every last piece is cut
    plan = plan_room(Room(loose.outline), Board(1285.0, 192.0), Rules(), effort=effort)
    pieces = pieces_to_measure(plan, loose)
    rows = {piece.row for piece in plan.pieces}
    assert {piece.row for piece in pieces} == rows  # only beliefs hold the corners: every row
    assert all(piece.sure_mm > plan.rules.allowance_mm for piece in pieces)
    generous = replace(plan, rules=replace(plan.rules, allowance_mm=400.0))
    assert pieces_to_measure(generous, loose) == ()
    other = measure_room(taped(L_ROOM, "AC AD BD DF"))
    with pytest.raises(InputError, match="another room"):
        pieces_to_measure(plan, other)


def test_same_survey_same_answer() -> None:
    survey = taped(L_ROOM, "AD BD CF", square="ABCDEF")
    first, second = measure_room(survey), measure_room(survey)
    assert first.outline.wkb == second.outline.wkb
    assert first.findings == second.findings
    assert first.proposals == second.proposals


def test_a_bump_in_or_out_is_said_to_be_either() -> None:
    # A chimney breast: 300 deep, 900 wide in a wall; in or out closes alike
    survey = taped(
        ((0, 0), (4200, 0), (4200, 3600), (2500, 3600), (2500, 3300), (1600, 3300), (1600, 3600),
         (0, 3600)),
        square="ABCDEFGH",
    )  # fmt: skip
    room = measure_room(survey)
    found = next(finding for finding in room.findings if finding.code == "survey-two-shapes")
    assert "differ at D, E, F and G" in found.message
    assert "270" in found.remedy
