"""Why rules cannot be kept, and the nearest change that makes them hold.

Where the search found no plan that keeps the joint offset or the shortest piece, this looks for a
small set of rows that cannot keep them even by themselves, and for the largest value of either rule
that works. Both are what was found, not what is proven: a search that fails is no proof.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from plankwright.geometry.floor import build_floor
from plankwright.geometry.rows import Stretch, contacts, cut_rows
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan
from plankwright.model.rules import Rules
from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.solve import Effort, never, solve
from plankwright.plan.compile import compile_instance
from plankwright.plan.layout import choose_rows
from plankwright.plan.planner import Task, make_plan
from plankwright.units import format_length, parse_unit

BROKEN = ("joint-offset", "short-piece")
TRIAL = Effort(moves=1_500, looks=0, prove=False)
MOST_ROWS = 8  # a larger set of rows tells a person nothing
STEPS_PER_RULE = 64  # a rule's value is tried in steps of this part of it, at least a mark


@dataclass(frozen=True, slots=True)
class LegalChange:
    """A rule's largest value found to work, all other rules as they are [mm]."""

    rule: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """Which rows cannot keep the rules by themselves, and what would help, the nearest first."""

    rows: tuple[int, ...]
    changes: tuple[LegalChange, ...]


def is_broken(plan: Plan) -> bool:
    """Whether a plan breaks the joint offset or the shortest piece somewhere."""
    return any(finding.code in BROKEN for finding in plan.findings)


def explain(task: Task, stop: Callable[[], bool] = never) -> Explanation:
    """Why no plan of this task keeps its rules, as far as a short search can tell."""
    changes = (
        _largest("joint offset", "joint_offset_mm", task, stop),
        _largest("shortest piece", "shortest_piece_mm", task, stop),
    )
    found = [change for change in changes if change is not None]
    found.sort(key=lambda change: 1.0 - change.to_mm / change.from_mm)
    return Explanation(conflicting_rows(task), tuple(found))


def explained(task: Task, plan: Plan, stop: Callable[[], bool] = never) -> Plan:
    """The plan, with a finding that explains its broken rules if it has any."""
    if not is_broken(plan) or stop():
        return plan
    return replace(plan, findings=(*plan.findings, _finding(explain(task, stop), task)))


def _finding(why: Explanation, task: Task) -> Finding:
    unit = parse_unit(task.unit)
    offset = format_length(task.rules.joint_offset_mm, unit)
    shortest = format_length(task.rules.shortest_piece_mm, unit)
    rows = _rows_words(why.rows) or "the rows"
    remedies = [
        f"with a {change.rule} of {format_length(change.to_mm, unit)} "
        f"instead of {format_length(change.from_mm, unit)} it works"
        for change in why.changes
    ]
    told = "; or ".join(remedies) or "try another start line, row direction or board length"
    return Finding(
        "rules-conflict",
        "rules",
        f"no plan was found in which {rows} keep both a joint offset of {offset} and pieces of at "
        f"least {shortest}",
        told[:1].upper() + told[1:] + ", if the leaflet allows it.",
    )


def _rows_words(rows: Sequence[int]) -> str:
    if not rows:
        return ""
    if len(rows) == 1:
        return f"row {rows[0]}"
    return f"rows {', '.join(str(row) for row in rows[:-1])} and {rows[-1]}"


def _largest(rule: str, field: str, task: Task, stop: Callable[[], bool]) -> LegalChange | None:
    """The largest value of one rule, below the one it has, that a short search can keep."""
    wanted = float(getattr(task.rules, field))
    mark = max(1.0, wanted / STEPS_PER_RULE)
    mark = round(mark / task.grid_mm + 0.5) * task.grid_mm
    low, high = 0, int(wanted / mark)
    if high == 0 or not _works(task, field, 0.0):
        return None
    while high - low > 1:
        if stop():
            return None
        middle = (low + high) // 2
        low, high = (middle, high) if _works(task, field, middle * mark) else (low, middle)
    return LegalChange(rule, wanted, low * mark)


def _works(task: Task, field: str, value_mm: float) -> bool:
    changes = {field: value_mm}
    rules: Rules = replace(task.rules, **changes)
    return not is_broken(make_plan(replace(task, rules=rules, effort=TRIAL)))


def conflicting_rows(task: Task) -> tuple[int, ...]:
    """Rows that cannot keep the rules even by themselves; none when no small set was found."""
    floor = build_floor(task.room, task.rules)
    rowing = choose_rows(floor, task.room, task.board, task.rules, task.wishes)
    stretches = cut_rows(
        rowing.frame.to_plan_grid(floor.parts), task.board.width_mm, rowing.laying.start_line_mm
    )
    touching = contacts(stretches)
    instance = compile_instance(stretches, touching, task.board, task.rules, task.grid_mm)
    for first in range(len(stretches)):
        found = _grown(instance, first)
        if found:
            return _rows(stretches, _thinned(instance, found))
    return ()


def _rows(stretches: Sequence[Stretch], chosen: Sequence[int]) -> tuple[int, ...]:
    skipped = stretches[0].row - 1
    return tuple(sorted({stretches[i].row - skipped for i in chosen}))


def _grown(instance: Instance, first: int) -> list[int]:
    """A set of touching stretches from ``first`` on that fails by itself, or nothing."""
    chosen = [first]
    while len(chosen) <= MOST_ROWS:
        if not _holds(instance, chosen):
            return chosen
        beyond = [
            contact.room_side
            for contact in instance.contacts
            if contact.wall_side in chosen and contact.room_side not in chosen
        ]
        if not beyond:
            return []
        chosen.append(beyond[0])
    return []


def _thinned(instance: Instance, chosen: Sequence[int]) -> list[int]:
    """The same set less every stretch without which it still fails."""
    kept = list(chosen)
    for stretch in chosen:
        fewer = [i for i in kept if i != stretch]
        if fewer and not _holds(instance, fewer):
            kept = fewer
    return kept


def _holds(instance: Instance, chosen: Sequence[int]) -> bool:
    """Whether some of the stretches can keep the rules, the others left out."""
    number = {old: new for new, old in enumerate(chosen)}
    part = replace(
        instance,
        lanes=1,
        stretches=tuple(replace(instance.stretches[i], role="plain", parts=()) for i in chosen),
        contacts=tuple(
            replace(c, wall_side=number[c.wall_side], room_side=number[c.room_side])
            for c in instance.contacts
            if c.wall_side in number and c.room_side in number
        ),
    )
    solution, _ = solve(part, Bound(0, 0.0, "area"), replace(TRIAL, moves=60 * len(chosen)))
    return solution.conflicts == 0 and _keeps_shortest(part, solution.starters)


def _keeps_shortest(instance: Instance, starters: Sequence[int | None]) -> bool:
    for need, starter in zip(instance.stretches, starters, strict=True):
        if starter is None or need.length < instance.shortest:
            continue
        end = (need.length - starter - 1) % instance.board + 1
        if min(starter, end) < instance.shortest:
            return False
    return True
