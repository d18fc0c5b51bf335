"""Counts and their proof: boards used, packs, the bound and the status."""

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from plankwright.checker.chains import ChainSum
from plankwright.checker.chords import Chord, chords_of_band, cut_along, lines_with_chords
from plankwright.checker.edges import Meetings
from plankwright.checker.laid import (
    Part,
    Worth,
    at_hand,
    has_longer_boards,
    has_shorter_boards,
    laid_boards,
    open_areas,
    parts_of,
)
from plankwright.checker.offsets import runs_of
from plankwright.checker.prices import (
    NOISE_TICKS,
    TICKS_PER_MM,
    Prices,
    boards_at_least,
    price_sum,
    read_prices,
)
from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, View
from plankwright.model.plan import Plan

PLACE = "boards"
NO_PRICES = Prices(np.zeros(1, np.int64), np.zeros(1))
NOT_RECHECKED = "The bound rests on an exhausted search, which is not re-checked."


def count_faults(view: View) -> Iterator[Fault]:
    """Boards used, packs and status."""
    plan = view.plan
    stock = {board.id for board in plan.stock}
    used = len({piece.board for piece in plan.pieces} - stock)
    stated = plan.boards
    if stated.used != used:
        yield Fault("boards-used", PLACE, f"{stated.used} boards are stated, {used} are cut")
    packs = math.ceil(used / plan.board.per_pack)
    if plan.packs != packs:
        yield Fault(
            "packs",
            "packs",
            f"{plan.packs} packs are stated; {used} boards at {plan.board.per_pack} a pack "
            f"are {packs}",
        )
    if stated.bound > used:
        yield Fault("bound", PLACE, f"the bound is {stated.bound}, but {used} boards suffice")
    if stated.status == "optimal" and stated.used != stated.bound:
        yield Fault(
            "status",
            PLACE,
            f"is called optimal with {stated.used} boards and a bound of {stated.bound}",
        )
    if stated.status in ("infeasible", "unknown", "invalid") and plan.pieces:
        yield Fault("status", PLACE, f"is called {stated.status}, but there is a plan")


def bound_faults(view: View, meetings: Meetings) -> Iterator[Fault]:
    """The bound, proven anew from its evidence."""
    stated = view.plan.boards
    area = area_bound(view)
    if stated.bound <= area or stated.evidence.kind == "search":
        return
    if stated.evidence.kind == "area":
        yield Fault("bound", PLACE, f"the bound is {stated.bound}, the floor's area proves {area}")
        return
    reason = _unprovable(view)
    if reason:
        yield Fault("bound", PLACE, reason)
        return
    proven = proven_by_prices(view, meetings, stated.bound)
    if isinstance(proven, str):
        yield Fault("bound", PLACE, proven)
    elif max(proven, area) < stated.bound:
        yield Fault(
            "bound",
            PLACE,
            f"the bound is {stated.bound}, its prices prove {max(proven, area)}",
        )


def area_bound(view: View) -> int:
    """Boards of what lies, and those whose area covers the rest beyond what the stock holds."""
    return laid_boards(view.plan) + sum(_areas(view))


def _areas(view: View) -> list[int]:
    """New boards by area for each part: all that is open, or the rows of each batch."""
    board = view.plan.board
    shelf = sum(b.length_mm * (b.width_mm or board.width_mm) for b in at_hand(view.plan))
    rounding = 0.001 * float(view.floor.length)  # of coordinates
    first, *second = open_areas(view)
    covered = [first - rounding - shelf, *(area - rounding for area in second)]
    return [max(math.ceil(area / board.area_mm2), 0) for area in covered]


def proven_by_prices(view: View, meetings: Meetings, enough: int) -> int | str:
    """Boards that the plan's prices prove, or what is wrong with them; stops at ``enough``."""
    evidence, laid = view.plan.boards.evidence, laid_boards(view.plan)
    parts = parts_of(view)
    if isinstance(parts, str):
        return parts
    total = laid
    two = len(parts) == 2
    proofs = ((evidence.prices, evidence.line_mm), (evidence.second, evidence.second_line_mm))
    for part, area, (pairs, line) in zip(parts, _areas(view), proofs[: len(parts)], strict=True):
        by_area = two and not pairs
        prices = NO_PRICES if by_area else read_prices(pairs, view.plan.board.length_mm)
        if isinstance(prices, str):
            return prices
        wanted = enough if two else enough - laid
        proven = _proven_part(view, meetings, part, prices, line, wanted)
        if isinstance(proven, str):
            return proven
        total += max(proven, area)
    return total


Line = tuple[float, float]
"""A line along the boards and its reach to both sides, see :mod:`plankwright.checker.chords`."""


def _proven_part(
    view: View, meetings: Meetings, part: Part, prices: Prices, line: Line | None, enough: int
) -> int | str:
    """New boards that prices prove for one part."""
    board, rules = view.plan.board, view.plan.rules
    reach = line[1] if line else 0.0
    length = round(board.length_mm * TICKS_PER_MM)
    cut = math.floor(cut_along(rules.cut_mm, reach) * TICKS_PER_MM + NOISE_TICKS)
    runs = runs_of(view, meetings.contacts)
    chains = ChainSum(prices, runs, length, cut, rules.joint_offset_mm)
    worth = Worth(part.stock, board.width_mm, prices, length, cut)
    best = 0
    for y, found in _priced(view, meetings, part, line):
        shorter = has_shorter_boards(part.stock, board.length_mm)
        chords = _any_length(found) if shorter else found
        total = price_sum(prices, [chord.need for chord in chords], length, cut)
        saved = worth.at(y, reach, short=any(chord.need.whole for chord in chords))
        if view.plan.boards.evidence.joint_offsets and boards_at_least(total - saved) < enough:
            total = chains.least(chords)
        if math.isinf(total):
            return "no way to lay the rows keeps the joint offset"
        best = max(best, boards_at_least(total - saved))
        if best >= enough:
            break
    return best


def _priced(
    view: View, meetings: Meetings, part: Part, line: Line | None
) -> Iterator[tuple[float, list[Chord]]]:
    """The line that the plan names, or one after another, with its chords."""
    if line is None:
        yield from lines_with_chords(view, meetings, part.open_from)
    else:
        yield line[0], chords_of_band(view, meetings, part.open_from, *line)


def _any_length(chords: list[Chord]) -> list[Chord]:
    """The same chords, pieces of any length allowed: see :mod:`plankwright.checker.laid`."""
    return [replace(c, need=replace(c.need, starter=0, end=0)) for c in chords]


def _unprovable(view: View) -> str:
    """Why prices prove nothing here, or nothing."""
    plan = view.plan
    evidence = plan.boards.evidence
    for line in (evidence.line_mm, evidence.second_line_mm):
        reason = _no_line(line, plan.rules.kerf_mm) if line else ""
        if reason:
            return reason
    if plan.board.reversible:
        return "prices prove nothing for reversible boards, which have no fixed near end"
    if has_longer_boards(plan):
        return "prices prove nothing when the stock has boards longer than the plan's"
    if any(row.turned for row in plan.rows):
        return "prices prove nothing when rows are turned end for end"
    if plan.boards.evidence.joint_offsets:
        return _no_offsets(plan)
    return ""


def _no_line(line: Line, kerf: float) -> str:
    """Why a line cannot be priced, or nothing."""
    y, reach = line
    if not (math.isfinite(y) and 0.0 <= reach < math.inf):
        return "the line that is priced is no line"
    if reach and 2.0 * reach > kerf - 2.0 * ROUNDING_MM:
        return f"the line that is priced is {2.0 * reach:g} mm wide, no narrower than a kerf"
    return ""


def _no_offsets(plan: Plan) -> str:
    """Why joint offsets prove nothing here: the plan itself does not keep what the proof counts on.

    Whatever place a finding names: the proof is of plans that keep the rules everywhere.
    """
    codes = {finding.code for finding in plan.findings}
    if "joint-offset" in codes:
        return "joint offsets prove nothing in a plan that does not keep them everywhere"
    if "short-piece" in codes:
        return "joint offsets prove nothing in a plan with a piece shorter than the shortest"
    return ""
