"""Planned against used: what the floor was to take and what it took, for the how-to."""

from dataclasses import dataclass

from plankwright.application.lay_day import Day
from plankwright.guide.cards import cards_of
from plankwright.guide.laying_state import area_um2
from plankwright.model.plan import Plan

UM2_IN_M2 = 10**12


@dataclass(frozen=True, slots=True)
class Used:
    """Boards, offcuts and waste, as planned and as they came out; areas in m².

    Parameters
    ----------
    boards_planned, boards_taken : of the first plan, and new boards that left their packs.
    pieces_planned, pieces_laid : of the plan that is laid now, and those that lie.
    pieces_spoiled : cuts that went to waste.
    pieces_lifted_or_waiting : in the hand: cut or lifted and not laid.
    offcuts_left : on the shelf.
    waste_planned_m2, waste_m2 : what the first plan leaves over beside the pieces, and what went
        to waste so far.
    damaged_pieces : pieces that lie and are damaged.
    packs : opened, each with its batch.
    plans : how many revisions of the plan were laid.
    set_aside : events that could not have happened, kept and told.
    """

    boards_planned: int
    boards_taken: int
    pieces_planned: int
    pieces_laid: int
    pieces_spoiled: int
    pieces_lifted_or_waiting: int
    offcuts_left: int
    waste_planned_m2: float
    waste_m2: float
    damaged_pieces: tuple[str, ...]
    packs: tuple[tuple[str, str], ...]
    plans: int
    set_aside: int


def planned_and_used(first: Plan, day: Day) -> Used:
    """What the first plan said, and what happened so far."""
    state = day.state
    sawn = sum(area_um2(card.length_mm, max(card.widths_mm)) for card in cards_of(first))
    whole = len({piece.board for piece in first.pieces}) * area_um2(*state.board_mm)
    return Used(
        boards_planned=first.boards.used,
        boards_taken=state.boards_taken,
        pieces_planned=len(day.plan.pieces),
        pieces_laid=len(state.laid),
        pieces_spoiled=sum(state.spoiled.values()),
        pieces_lifted_or_waiting=len(state.hand),
        offcuts_left=len(state.shelf),
        waste_planned_m2=round((whole - sawn) / UM2_IN_M2, 4),
        waste_m2=round(state.waste_um2 / UM2_IN_M2, 4),
        damaged_pieces=tuple(sorted(p for p, held in state.laid.items() if held.damaged)),
        packs=tuple(sorted((name, pack.batch) for name, pack in state.packs.items() if name)),
        plans=1 + max(state.revision - 1, 0),
        set_aside=len(state.set_aside),
    )
