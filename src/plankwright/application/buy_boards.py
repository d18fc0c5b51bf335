"""Packs of boards: how many, how sure, and what the next pack boundary means."""

import math
from dataclasses import dataclass

from plankwright.application.buy_job import BuyJob, Part, told_area
from plankwright.application.told import counted
from plankwright.buying.packs import PackChoice, pack_choices, packs_by_area, packs_to_buy
from plankwright.model.buying import SPOIL_RATES
from plankwright.model.money import told_money
from plankwright.model.shopping import Line
from plankwright.units import format_length

RULE_PCT = 10.0  # "area plus 10 %": the rule of thumb the plan is compared with


@dataclass(frozen=True, slots=True)
class Packs:
    """What there is to choose from, and what was chosen.

    Parameters
    ----------
    needed : boards of the plan.
    keep : boards wanted for repair.
    choices : numbers of packs with their chances of running short at 3, 5 and 8 %.
    taken : the one on the list.
    by_area : packs by the rule of thumb, area plus 10 %.
    """

    needed: int
    keep: int
    choices: tuple[PackChoice, ...]
    taken: PackChoice
    by_area: int


def count_packs(job: BuyJob) -> Packs:
    """The packs of a job."""
    board, prices = job.plan.board, job.buying.prices
    needed, keep = job.plan.boards.used, job.buying.spare_boards(job.plan.board.per_pack)
    more = math.ceil(keep / board.per_pack) + 2
    choices = pack_choices(
        needed, board.per_pack, SPOIL_RATES, price=prices.pack, trip=prices.trip, more=more
    )
    taken = packs_to_buy(choices, keep, job.buying.accept)
    pack_m2 = board.area_mm2 * board.per_pack / 1e6
    return Packs(
        needed, keep, choices, taken, packs_by_area(job.plan.floor.area / 1e6, pack_m2, RULE_PCT)
    )


def boards_part(job: BuyJob, packs: Packs) -> Part:
    """The line of the boards, the table of chances, batches, and how to draw from packs."""
    board, unit, taken = job.plan.board, job.unit, packs.taken
    size = f"{format_length(board.length_mm, unit)} x {format_length(board.width_mm, unit)}"
    spare = f"{counted(taken.spares, 'board')} over"
    why = (
        f"{counted(packs.needed, 'board')} in the plan, {board.per_pack} in a pack: "
        f"{packs.choices[0].packs} packs hold them; with {packs.keep} to keep for repair "
        f"{counted(taken.packs, 'pack')}, {spare}"
    )
    line = Line(
        "Boards", f"floor boards {size}, {board.per_pack} in a pack", taken.packs,
        "pack" if taken.packs == 1 else "packs", why, job.buying.prices.pack, back=True,
    )  # fmt: skip
    notes = (
        *_chances(packs, job),
        _boundary(packs, job),
        _rule(packs, job),
        "One batch: read the number printed on every pack before you pay. "
        + "  ".join(f"Pack {n}: ________" for n in range(1, min(taken.packs, 12) + 1)),
        "Draw from three packs at a time, and lay no two boards of one print side by side. If "
        "there must be a second batch, let it begin at a doorway.",
    )
    return Part("Boards", (line,), notes)


def _chances(packs: Packs, job: BuyJob) -> list[str]:
    rates = [f"{float(rate) * 100:g} %" for rate in SPOIL_RATES]
    lines = [
        f"Chance of running short when {', '.join(rates[:-1])} or {rates[-1]} of the boards are "
        "spoiled or damaged (nobody knows his own rate; a spoiled board counts as lost whole):"
    ]
    for choice in packs.choices:
        chances = ", ".join(_percent(chance) for chance in choice.chances)
        cost = _cost(choice, job)
        mark = " <- on the list" if choice == packs.taken else ""
        lines.append(
            f"{counted(choice.packs, 'pack')} ({counted(choice.spares, 'board')} over): "
            f"{chances}{cost}{mark}"
        )
    return lines


def _percent(chance: float) -> str:
    if 0.0 < chance < 0.001:
        return "under 0.1 %"
    return f"{chance * 100:.1f} %"


def _cost(choice: PackChoice, job: BuyJob) -> str:
    prices = job.buying.prices
    if choice.expected is None or prices.pack is None:
        return ""
    packs = told_money(choice.packs * prices.pack, prices.currency)
    expected = told_money(choice.expected, prices.currency)
    rate = f"{float(SPOIL_RATES[1]) * 100:g} %"
    return f"; {packs}, or {expected} with the second trip weighed in at {rate}"


def _boundary(packs: Packs, job: BuyJob) -> str:
    """What the pack below and the pack above would take."""
    per_pack, bound = job.plan.board.per_pack, job.plan.boards.bound
    least = packs.choices[0].packs
    below = (least - 1) * per_pack
    saved = packs.needed - below
    told = (
        f"The pack boundary: {least} packs hold up to {least * per_pack} boards, so boards saved "
        f"between {below + 1} and {least * per_pack} stay over as spares and save no money. "
    )
    if bound > below:
        return told + f"No plan with these rows gets into {least - 1} packs."
    return told + f"{saved} fewer would save a pack; whether any plan does is not proven."


def _rule(packs: Packs, job: BuyJob) -> str:
    hold = packs.by_area * job.plan.board.per_pack
    over = hold - packs.needed
    said = f"{over} over" if over >= 0 else f"{-over} TOO FEW for this plan"
    return (
        f"For comparison, area plus {RULE_PCT:g} %: {told_area(job.plan.floor.area, job.unit)} "
        f"x 1.1 in packs of "
        f"{told_area(job.plan.board.area_mm2 * job.plan.board.per_pack, job.unit)}: "
        f"{counted(packs.by_area, 'pack')}, {hold} boards, {said}."
    )
