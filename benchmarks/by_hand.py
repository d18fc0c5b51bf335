"""The careful layer who goes on by hand: the rest of a floor, with the offcuts that are there.

See :func:`benchmarks.baselines.careful`. A row that is begun is gone on with: whole boards, then an
end piece from the shelf or a new board.
"""

from dataclasses import replace

from benchmarks.baselines import Laying, Outcome, lay_long, lay_short
from plankwright.guide.as_laid import FloorState
from plankwright.guide.remaining import what_is_left
from plankwright.guide.rest_bound import settled_joints
from plankwright.guide.rest_of_floor import Rest, rest_of_floor
from plankwright.guide.shelf_now import shelf_now
from plankwright.model.plan import Plan
from plankwright.model.room import Room

GRID_MM = 1.0


def go_on_by_hand(plan: Plan, room: Room, state: FloorState) -> Outcome:
    """New boards that the careful layer takes for the rest, and whether every rule was kept."""
    left = what_is_left(plan, room, state)
    shelf = [o for o in shelf_now(plan, state) if o.stock.width_mm is None]
    start = state.second_batch_row
    boards, legal = 0, True
    joints = {i: list(places) for i, places in settled_joints(left).items()}
    first = [i for i in left.open if start is None or left.stretches[i].row < start]
    second = [i for i in left.open if i not in first]
    for which, offcuts in ((first, shelf), (second, [])):
        if which:
            rest = rest_of_floor(plan, left, which, offcuts, joints, GRID_MM)
            laid = lay_rest(rest)
            boards, legal = boards + laid.boards, legal and laid.legal
            for k, places in laid.joints.items():
                joints.setdefault(which[k], []).extend(u / 10_000 for u in places)
    return Outcome(boards, legal)


def lay_rest(rest: Rest) -> Laying:
    """Row by row, at each the fewest new boards, then the least waste."""
    ends = {"near": [], "far": [], "both": [], "none": []}  # type: dict[str, list[int]]
    for offcut in rest.shelf:
        ends[offcut.end].append(offcut.length)
    laid = Laying(rest.instance, starters=ends["far"], enders=ends["near"])
    whole, loose = len(ends["both"]), sorted(ends["none"])
    for index, need in enumerate(rest.instance.stretches):
        if need.begun:
            _go_on(laid, index)
        elif need.length <= rest.instance.board:
            fitting = [length for length in loose if length >= need.length]
            if fitting:  # it needs no factory end
                loose.remove(fitting[0])
                continue
            lay_short(laid, need.length)
        else:
            lay_long(laid, index)
    return replace(laid, boards=max(0, laid.boards - whole))


def _go_on(laid: Laying, index: int) -> None:
    """A begun row: whole boards and an end piece."""
    instance = laid.instance
    length = instance.stretches[index].length
    wholes = -(-length // instance.board) - 1
    end = length - wholes * instance.board
    laid.boards += wholes
    fitting = [e for e in laid.enders if e >= end]
    if fitting:
        laid.enders.remove(min(fitting))
        return
    laid.boards += 1
    if instance.board - end - instance.cut >= instance.shortest:
        laid.starters.append(instance.board - end - instance.cut)
