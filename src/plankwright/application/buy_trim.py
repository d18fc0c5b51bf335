"""Trim: lengths to buy with their proof, what holds them, and whether they cover every gap."""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal

from plankwright.application.buy_job import BuyJob, Part, told_size
from plankwright.application.told import counted
from plankwright.buying.fastening import (
    INTO_FRAME_MM,
    NAIL_EVERY_MM,
    SAFE_DEPTH_MM,
    Cover,
    cartridges_needed,
    covers,
    deepest_nail_mm,
    nail_length_mm,
    nails_needed,
)
from plankwright.buying.trim_pieces import TrimPiece, spliced_sticks, trim_pieces
from plankwright.buying.wall_runs import Run, wall_runs
from plankwright.model.findings import Finding
from plankwright.model.money import told_money
from plankwright.model.shopping import Line
from plankwright.model.trim import StockLength
from plankwright.plan.trim_sticks import TrimCuts, cut_trim

NO_JOB = (
    "Counted from the plan file alone, which knows only doorways that the floor runs into: trim "
    "is counted through all others and along an expansion break. Add the job file with --job."
)


@dataclass(frozen=True, slots=True)
class TrimWork:
    """Everything about the trim of a job."""

    runs: tuple[Run, ...]
    pieces: tuple[TrimPiece, ...]
    cuts: TrimCuts
    covers: tuple[Cover, ...]


def work_out_trim(job: BuyJob) -> TrimWork:
    """Runs, pieces, sticks and covers of a job."""
    runs = wall_runs(job.plan.room, job.standing, job.openings)
    trim = job.buying.trim
    ways = [cut_trim(trim_pieces(runs, trim, even=even), trim) for even in (False, True)]
    cuts = min(ways, key=lambda way: way.least)
    pieces = sorted((p for stick in cuts.sticks for p in stick.pieces), key=_walking_order)
    return TrimWork(runs, tuple(pieces), cuts, covers(_gaps(job, runs), trim))


def trim_part(job: BuyJob, work: TrimWork) -> Part:
    """The lines of trim, collars, rosettes, brads and adhesive."""
    lines = [*_stick_lines(job, work), *_round_lines(job), *_fixing_lines(job, work)]
    notes = [*_piece_notes(job, work), *_fixing_notes(job)] if work.pieces else []
    if work.pieces and job.doorways is None:
        notes.insert(0, NO_JOB)
    return Part("Trim", tuple(lines), tuple(notes), _uncovered(job, work))


def _walking_order(piece: TrimPiece) -> tuple[int, str]:
    number = piece.label.rstrip("abcdefghijklmnopqrstuvwxyz")
    return int(number), piece.label


def _gaps(job: BuyJob, runs: tuple[Run, ...]) -> list[tuple[str, float]]:
    """Every gap that trim covers, wall by wall and thing by thing."""
    own = dict(job.plan.edges)
    things = {thing.name or thing.kind: thing.gap_mm for thing in job.plan.fixed}
    names = dict.fromkeys(run.where for run in runs)
    return [(name, own.get(name, things.get(name, job.plan.rules.gap_mm))) for name in names]


def _stick_lines(job: BuyJob, work: TrimWork) -> list[Line]:
    trim = job.buying.trim
    found: list[Line] = []
    bought: Counter[StockLength] = Counter(stick.stock for stick in work.cuts.sticks)
    why = _why(job, work)
    for stock, count in sorted(bought.items(), key=lambda entry: -entry[0].length_mm):
        held = sum(len(s.pieces) for s in work.cuts.sticks if s.stock == stock)
        found.append(
            Line(
                "Trim",
                f"{trim.name}, {told_size(trim.thickness_mm, job.unit)} thick, length "
                f"{told_size(stock.length_mm, job.unit)}",
                count, "length" if count == 1 else "lengths",
                _held(held, work, "by the same cut" if found else why),
                stock.price, back=True,
            )
        )  # fmt: skip
    return found


def _held(held: int, work: TrimWork, why: str) -> str:
    return f"{held} of {counted(len(work.pieces), 'piece')} come from these; {why}"


def _why(job: BuyJob, work: TrimWork) -> str:
    total = sum(run.length_mm for run in work.runs)
    least = (
        told_money(Decimal(work.cuts.least) / 100, job.buying.prices.currency)
        if work.cuts.measure == "cost"
        else f"{job.total(work.cuts.least / 10)} bought"
    )
    proof = (
        "no cutting of these pieces costs less"
        if work.cuts.proven
        else "the least found, not proven"
    )
    longest = job.buying.trim.longest_mm
    rule = spliced_sticks([total], longest, 10.0)
    return (
        f"{job.total(total)} of wall and edges, {least}: {proof} "
        f"(wall plus 10 % would say {rule} of {told_size(longest, job.unit)})"
    )


def _round_lines(job: BuyJob) -> list[Line]:
    lines = []
    for thing in job.round_things:
        across = thing.outline.bounds[2] - thing.outline.bounds[0]
        kind = "rosette" if thing.kind == "pipe" else "post collar"
        cover = across + 2.0 * (thing.gap_mm + job.buying.trim.margin_mm)
        lines.append(
            Line(
                "Trim", f"{kind}, for {job.length(across)}, covering {job.length(cover)} across", 1,
                "piece", f"{thing.name or thing.kind}: diameter, and gap and margin on both sides",
                back=True,
            )
        )  # fmt: skip
    return lines


def _fixing_lines(job: BuyJob, work: TrimWork) -> list[Line]:
    trim = job.buying.trim
    if not work.pieces:
        return []
    if trim.wall == "masonry":
        total = sum(piece.long_mm for piece in work.pieces)
        count = cartridges_needed(total)
        why = f"a bead along {job.total(total)} of trim, to the wall, never to the floor"
        item = "construction adhesive, cartridge"
        return [Line("Trim", item, count, "pieces", why, back=True)]
    count = nails_needed(piece.long_mm for piece in work.pieces)
    why = (
        f"{count} in all: one about every {job.length(NAIL_EVERY_MM)} and near both ends; trim, "
        f"wallboard and {job.length(INTO_FRAME_MM)} into the bottom plate"
    )
    length = told_size(nail_length_mm(trim, inches=job.inches), job.unit)
    return [Line("Trim", f"brads, {length} long", 1, "box", why, back=True)]


def _piece_notes(job: BuyJob, work: TrimWork) -> list[str]:
    told = [f"Trim round the room, seen facing the wall ({job.buying.trim.inside} inside corners):"]
    told += [
        f"{piece.label}. {piece.where}: {job.length(piece.long_mm)} long point to long point, "
        f"left {_end(piece.left, piece.left_deg)}, right {_end(piece.right, piece.right_deg)}."
        for piece in work.pieces
    ]
    for number, stick in enumerate(work.cuts.sticks, 1):
        cut = ", ".join(piece.label for piece in stick.pieces)
        told.append(
            f"Length {number} ({told_size(stick.stock.length_mm, job.unit)}): pieces {cut}; "
            f"{job.length(stick.left_mm(job.buying.trim.kerf_mm))} left."
        )
    return told


def _end(kind: str, degrees: float) -> str:
    words = {
        "square": "square",
        "coped": f"cut at {degrees:.1f}°, long point at the back, then coped",
        "inside miter": f"mitered {degrees:.1f}°, long point at the back",
        "outside miter": f"mitered {degrees:.1f}°, long point in front",
        "scarf": f"scarf {degrees:g}°, over a stud",
    }
    return words[kind]


def _fixing_notes(job: BuyJob) -> list[str]:
    trim = job.buying.trim
    notes = [
        "Fix trim to the wall, never to the floor, a card's thickness above it; do not caulk the "
        "gap solid.",
        "Cut pieces a mark long and try them: real corners are seldom square.",
    ]
    if trim.wall != "masonry":
        deepest = told_size(nail_length_mm(trim, inches=job.inches), job.unit)
        limit = job.length(deepest_nail_mm(trim))
        notes.append(
            f"Behind the trim the bottom plate may hold pipes and cables: brads of {deepest}, none "
            f"longer than {limit} (cables and pipes keep {job.length(SAFE_DEPTH_MM)} from the face "
            "of the frame; from memory, ask your local code), none where you do not know; adhesive "
            "to the wall is the safe way there. On masonry use adhesive."
        )
    return notes


def _uncovered(job: BuyJob, work: TrimWork) -> tuple[Finding, ...]:
    trim = job.buying.trim
    return tuple(
        Finding(
            "gap-uncovered", cover.where,
            f"gap {job.length(cover.gap_mm)} and {job.length(trim.margin_mm)} for taper, rip error "
            f"and caulk line make {job.length(cover.need_mm)}; the {trim.name} is "
            f"{job.length(trim.thickness_mm)} thick",
            "Take thicker trim, or baseboard with quarter round before it.",
        )
        for cover in work.covers
        if not cover.covered
    )  # fmt: skip
