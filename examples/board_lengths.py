"""Which board wastes least in a room, with the packs to buy: three boards, one loop."""

from shapely import box

import plankwright
from plankwright import Board, Room, Rules

room = Room(box(0, 0, 4620, 3780))
rules = Rules(gap_mm=10, joint_offset_mm=400, shortest_piece_mm=350)
for length, width in ((1215, 196), (1285, 192), (1830, 127)):
    plan = plankwright.plan_room(room, Board(length, width), rules)
    waste = plan.boards.used * length * width / plan.floor.area - 1
    print(f"{length} x {width}: {plan.boards.used} boards, {100 * waste:.1f} % more than the floor")
