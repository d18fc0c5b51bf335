"""Drawings of strips and trim: nothing on nothing, nothing off the sheet, all of it named."""

from functools import cache

import pytest
from shapely import Polygon
from tests.drawing.look import faults

from plankwright.application.buy_job import BuyJob
from plankwright.application.plan_room import plan_room
from plankwright.application.shopping_list import ShoppingList, shopping_list
from plankwright.drawing.strips_drawing import compose_strips
from plankwright.drawing.svg import render_svg
from plankwright.drawing.trim_drawing import compose_trim
from plankwright.files.job_buy import BuyTable, make_buying
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.optimize.solve import Effort
from plankwright.units import Unit

L_SHAPE = [(0, 0), (5200, 0), (5200, 2600), (3000, 2600), (3000, 4100), (0, 4000)]


@cache
def made(unit: Unit, scale: float = 1.0) -> tuple[BuyJob, ShoppingList]:
    room = Room(Polygon([(x * scale, y * scale) for x, y in L_SHAPE]))
    plan = plan_room(room, Board(1285.0, 192.0), unit=unit, effort=Effort(moves=0))
    job = BuyJob(plan, make_buying(BuyTable(), unit), unit)
    return job, shopping_list(job)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("scale", [0.6, 2.0])
def test_the_drawings_are_sound(unit: Unit, scale: float) -> None:
    job, found = made(unit, scale)
    film, pad = found.sheets.film, found.sheets.pad
    assert film is not None
    assert pad is not None
    assert job.buying.film is not None
    assert job.buying.pad is not None
    for rolls, sheeting in ((film, job.buying.film), (pad, job.buying.pad)):
        scene = compose_strips(rolls, sheeting, job.plan, unit, "Vapor barrier")
        assert faults(scene) == []
        names = " ".join(text.text for text in scene.texts())
        assert "Roll 1" in names
        assert all(f"strip {strip.number} " in scene.description for strip in rolls.plan.strips)
        assert "<svg" in render_svg(scene)
    scene = compose_trim(found.trim, job.buying.trim, job.plan, unit)
    assert faults(scene) == []
    assert all(f"piece {piece.label} " in scene.description for piece in found.trim.pieces)


def test_every_piece_has_its_number_on_the_wall() -> None:
    job, found = made("mm")
    scene = compose_trim(found.trim, job.buying.trim, job.plan, "mm")
    words = [text.text for text in scene.texts()]
    for piece in found.trim.pieces:
        assert words.count(piece.label) >= 1
