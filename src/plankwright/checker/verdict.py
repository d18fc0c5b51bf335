"""The verdict: every fault the checker found, each with its place, and what was excused."""

from dataclasses import dataclass

# Every kind of fault, with the sentence the reference page prints for it.
FAULT_CODES: dict[str, str] = {
    # outlines and numbers
    "outline": "An outline is empty or crosses itself, so nothing more can be said about it.",
    "rectangle": "A piece's stated length or width is not that of its outline.",
    "row-lines": "A piece does not lie within one row.",
    "numbering": "An id, row, stretch or seat is not what the outlines say.",
    # the floor
    "gap": "The floor or a piece comes nearer to a wall or fixed thing than the gap allows.",
    "floor-short": "The floor stops short of the gap line: part of the room would stay bare.",
    "recess": "A recess does not lead from inside the gap line through the wall's plane.",
    "edge": "There is no such wall.",
    "start-wall": "The start wall is not on the side on which row 1 lies.",
    "gap-too-small": "A gap is narrower than the least one that the leaflet allows.",
    "gap-uncovered": "A gap is wider than what the trim covers.",
    # cover
    "crack": "Part of the floor is not covered.",
    "overlap": "Two pieces lie over each other.",
    "outside": "A piece reaches beyond the floor.",
    # joints
    "inner-cut": "Two pieces meet along a line that is neither an end joint nor a row line.",
    "factory-joint": "A cut edge where another piece joins.",
    "edge-claim": "An edge is called factory or cut, but the place in the board says otherwise.",
    "joint-offset": "End joints of neighboring rows lie closer than the joint offset.",
    # cuts
    "off-board": "A piece reaches beyond the board it is cut from.",
    "board-clash": "Two pieces of one board overlap or leave no room for the saw.",
    "board-end-twice": "Two pieces of one board claim the same end of it.",
    "label": "An offcut's label does not fit the order in which its board is cut.",
    "cut-order": "A cut piece has no place in the saw order, or shares it with another.",
    # sizes
    "short-piece": "A piece is shorter than the shortest piece.",
    "narrow-row": "A row or part of one is narrower than the narrowest row.",
    # laying
    "lay-order": "A piece would have to be pushed between pieces that already lie there.",
    "lay-direction": "The board's lock does not close in this laying direction.",
    # what lies already
    "laid": "What is said to lie does not fit the rest: its place in line, its board, the stock.",
    # counts and proof
    "boards-used": "The number of boards used is wrong.",
    "packs": "The number of packs is wrong.",
    "bound": "The bound is not proven by its evidence.",
    "status": "The status does not fit the number of boards and the bound.",
}


@dataclass(frozen=True, slots=True)
class Fault:
    """A broken rule: its code (of :data:`FAULT_CODES`), its place and a sentence with figures."""

    code: str
    place: str
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message} [{self.code}]"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the checker says about a plan.

    Parameters
    ----------
    faults : broken rules that nothing excuses.
    excused : broken rules that a finding of the plan names at that place.
    notes : what was not re-checked, in sentences.
    """

    faults: tuple[Fault, ...]
    excused: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether nothing is wrong that was not excused."""
        return not self.faults
