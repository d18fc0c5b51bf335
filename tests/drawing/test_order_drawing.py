"""The laying order drawn: numbers, legs and arrows; nothing on anything else or off the sheet."""

from dataclasses import replace

import pytest
from shapely import box
from tests.drawing.look import faults
from tests.plan.laying_rooms import closet_room, u_room

from plankwright.application.plan_room import Effort, plan_room
from plankwright.drawing.order_drawing import compose_order, order_description
from plankwright.drawing.scene import Group, Polyline
from plankwright.drawing.svg import render_svg
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import FixedThing, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.laying_legs import legs_of
from plankwright.testing.zoo import rectangle, zoo

BACKWARDS = Board(1285.0, 192.0, laid_backwards=True)
QUICK = Effort(moves=60, prove=False)
RADIATOR = FixedThing("radiator", box(1500, 2900, 2900, 3000), clearance_mm=40.0, name="radiator")


def planned(room: Room) -> Plan:
    return plan_room(room, BACKWARDS, Rules(), Wishes(start_wall="A-B"), effort=QUICK)


ROOMS = {
    "U": u_room(leg=1900.0),
    "short leg": u_room(leg=500.0),
    "closet": closet_room(),
    "radiator": replace(rectangle(), fixed=(RADIATOR,)),
    "comb": zoo()["comb"],
    "post": zoo()["post"],
}


@pytest.mark.parametrize("name", ROOMS)
def test_nothing_stands_on_anything_else(name: str) -> None:
    plan = planned(ROOMS[name])
    scene = compose_order(plan, room=ROOMS[name])
    assert faults(scene) == []
    assert render_svg(scene).count("<title>") > len(plan.pieces)
    words = [text.text for text in scene.texts()]
    numbered = sum(str(piece.lay_order) in words for piece in plan.pieces)
    assert numbered >= 0.85 * len(plan.pieces)


def test_the_closet_is_a_leg_of_its_own() -> None:
    plan = planned(ROOMS["closet"])
    legs = legs_of(plan)
    assert [leg.words() for leg in legs] == ["rows 5 to 20", "rows 4 to 1, backwards"]
    assert [piece.id for leg in legs for piece in leg.pieces] == [p.id for p in plan.pieces]
    assert order_description(plan).startswith(f"{len(plan.pieces)} pieces in 2 legs. 1: rows 5")
    arrows = [shape for shape in compose_order(plan).shapes()
              if isinstance(shape, Polyline) and shape.style == "next"]  # fmt: skip
    assert len(arrows) == 2
    # away from the start wall (up on the sheet), then back into the closet
    assert arrows[0].points[-1][1] < arrows[0].points[0][1]
    assert arrows[1].points[-1][1] > arrows[1].points[0][1]


def test_two_legs_and_what_joins_them() -> None:
    legs = legs_of(planned(ROOMS["U"]))
    assert [leg.words() for leg in legs] == [
        "rows 1 to 10", "rows 1 to 10, stretch 2", "rows 11 to 18",
    ]  # fmt: skip


def test_what_cannot_be_tilted_is_marked() -> None:
    scene = compose_order(planned(ROOMS["radiator"]))
    marks = [item for item in scene.items if isinstance(item, Group) and item.layer == "check"]
    assert len(marks[0].items) >= 2
    assert "cannot be tilted in" in [text.text for text in scene.texts()]
