"""Choices in words: how the rows of each run, what speaks for it and what it costs."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from plankwright.application.merits import Merits
from plankwright.model.job import Job
from plankwright.plan.candidates import Candidate
from plankwright.units import Unit, format_length

Pair = tuple[Candidate, Merits]
Words = Callable[[Merits, Merits, Unit], str]
MOST_PRAISES = 2
NEARLY_DEG = 2.0


@dataclass(frozen=True, slots=True)
class Praise:
    """What can be said for a plan.

    Parameters
    ----------
    cost : of which the least is the best.
    best : words for the only one that is best; gets its merits, another's and the unit.
    better : words for one that is better than another.
    """

    cost: Callable[[Merits], float]
    best: Words
    better: Words


def _cuts(found: Merits) -> int:
    return found.crosscuts + found.rips


PRAISES: tuple[Praise, ...] = (
    Praise(
        lambda m: m.packs,
        lambda m, *_: f"the fewest packs ({m.packs})",
        lambda m, o, _: f"{_less(m.packs, o.packs, 'pack')}",
    ),
    Praise(
        lambda m: m.boards,
        lambda m, *_: f"the fewest boards ({m.boards})",
        lambda m, o, _: f"{_less(m.boards, o.boards, 'board')}",
    ),
    Praise(
        lambda m: m.broken,
        lambda m, *_: "keeps every rule" if m.broken == 0 else "the fewest rules broken",
        lambda m, *_: "keeps every rule" if m.broken == 0 else "fewer rules broken",
    ),
    Praise(
        lambda m: m.handling.awkward + m.handling.backwards + m.handling.starts,
        lambda *_: "the easiest to lay",
        lambda *_: "easier to lay",
    ),
    Praise(
        lambda m: round(m.off_longest_deg, 1),
        lambda *_: "rows along the longest wall",
        lambda m, *_: "rows along the longest wall" if m.off_longest_deg < NEARLY_DEG else "",
    ),
    Praise(
        lambda m: round(m.off_window_deg or 0.0, 1),
        lambda *_: "rows toward the window",
        lambda m, *_: "" if (m.off_window_deg or 0.0) > NEARLY_DEG else "rows toward the window",
    ),
    Praise(
        lambda m: -round(m.narrowest_row_mm),
        lambda m, _, unit: f"no row narrower than {format_length(m.narrowest_row_mm, unit)}",
        lambda m, _, unit: f"no row narrower than {format_length(m.narrowest_row_mm, unit)}",
    ),
    Praise(_cuts, lambda m, *_: f"the fewest cuts ({_cuts(m)})",
           lambda m, o, _: _less(_cuts(m), _cuts(o), "cut")),
    Praise(lambda m: m.rips, lambda m, *_: f"the fewest rips ({m.rips})" if m.rips else "no rip",
           lambda m, o, _: _less(m.rips, o.rips, "rip")),
    Praise(
        lambda m: m.joints.cost,
        lambda m, *_: f"the calmest joints ({_h_joints(m)})",
        lambda m, *_: f"calmer joints ({_h_joints(m)})",
    ),
    Praise(
        lambda m: round(m.taper_mm),
        lambda m, _, unit: _taper(m, "the least", unit),
        lambda m, _, unit: _taper(m, "less", unit),
    ),
)  # fmt: skip


def _less(mine: int, theirs: int, noun: str) -> str:
    less = theirs - mine
    return f"1 {noun} less" if less == 1 else f"{less} {noun}s less"


def _h_joints(found: Merits) -> str:
    count = found.joints.h_joints
    return {0: "no H-joint", 1: "1 H-joint"}.get(count, f"{count} H-joints")


def _taper(found: Merits, more: str, unit: Unit) -> str:
    if found.taper_mm < 0.5:
        return "no taper along a wall"
    return f"{more} taper along a wall ({format_length(found.taper_mm, unit)})"


def reasons(pairs: Sequence[Pair], job: Job) -> list[tuple[str, str]]:
    """For each choice a title and a reason of one sentence."""
    every = [found for _, found in pairs]
    told: list[tuple[str, str]] = []
    for number, (candidate, _) in enumerate(pairs):
        praise = _praise(number, every, {words for _, words in told}, job.unit)
        told.append((title(candidate, job.unit), praise))
    prices = [_price(found, every, job.board.per_pack) for found in every]
    return [
        (name, f"{words[:1].upper()}{words[1:]}{price}.")
        for (name, words), price in zip(told, prices, strict=True)
    ]


def title(candidate: Candidate, unit: Unit) -> str:
    """How the rows run: along which wall, and how wide the first one is."""
    direction = candidate.direction
    along = " and ".join(direction.along)
    runs = {
        "along a wall": f"Along wall {along}",
        "between two walls": f"Between walls {along}",
        "diagonal": f"Diagonal to wall {along}",
        "wished": f"Along wall {along}" if along else f"At {direction.angle_deg:g} degrees",
    }[direction.course]
    taste = {"spares": "", "looks": ", boards spent on looks", "cuts": ", boards spent on cuts"}
    first = format_length(candidate.first_row_mm, unit)
    return f"{runs}, first row {first} wide{taste[candidate.wishes.prefer]}"


def _praise(number: int, every: Sequence[Merits], told: set[str], unit: Unit) -> str:
    """What a choice is the only best one in; else what it is better in than one before it.

    Nothing that was said of another choice before, if something else can be said.
    """
    found = every[number]
    alone = [
        praise.best(found, found, unit)
        for praise in PRAISES
        if _alone(praise.cost(found), [praise.cost(other) for other in every])
    ]
    if alone:
        return _joined(alone)
    for before in range(number):
        words = f"against choice {before + 1}: {_joined(_better(found, every[before], unit))}"
        if words not in told and _better(found, every[before], unit):
            return words
    best = [
        praise.best(found, found, unit)
        for praise in PRAISES
        if praise.cost(found) == min(praise.cost(other) for other in every)
    ]
    return _joined(best) or "a middle way"


def _better(found: Merits, other: Merits, unit: Unit) -> list[str]:
    """What a choice is better in than another one."""
    better = [
        praise.better(found, other, unit)
        for praise in PRAISES
        if praise.cost(found) < praise.cost(other)
    ]
    return [words for words in better if words]


def _joined(praises: Sequence[str]) -> str:
    return " and ".join(praises[:MOST_PRAISES])


def _alone(cost: float, every: Sequence[float]) -> bool:
    return cost == min(every) and sum(other == cost for other in every) == 1


def _price(found: Merits, every: Sequence[Merits], per_pack: int) -> str:
    """What it costs over the fewest boards, in packs where these are more."""
    fewest = min(other.boards for other in every)
    packs = found.packs - min(other.packs for other in every)
    more = found.boards - fewest
    if packs > 0:
        return f"; takes {packs} {'pack' if packs == 1 else 'packs'} of {per_pack} more"
    if more > 0:
        boards = "board" if more == 1 else "boards"
        return f"; takes {more} {boards} more of the same packs"
    return ""
