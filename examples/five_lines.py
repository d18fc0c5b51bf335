"""From an outline to a plan that is proven: an L-shaped room, every piece and the drawing."""

from shapely import Polygon

import plankwright
from plankwright import Board, Room

room = Room(Polygon([(0, 0), (5200, 0), (5200, 2300), (3000, 2300), (3000, 4000), (0, 4000)]))
plan = plankwright.plan_room(room, Board(length_mm=1285, width_mm=192))
print(f"{plan.boards.used} boards, {plan.packs} packs, {plan.boards.status}")
print(f"first piece {plan.pieces[0].id}, {plan.pieces[0].length_mm:g} mm of board 1")
drawing = plankwright.draw(plan)  # in a notebook the picture itself
print(f"{plankwright.check_plan(plan).ok}, drawn in {len(drawing) // 1000} kB of SVG")
