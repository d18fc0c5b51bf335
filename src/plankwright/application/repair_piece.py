"""Use case: repair a damaged piece, told in sentences."""

from collections.abc import Collection, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from plankwright.application.lay_again import shelf_boards
from plankwright.application.lay_day import Day
from plankwright.guide.events import Event
from plankwright.guide.laying_pace import Pace, at_pace, pace_of
from plankwright.guide.repair import LiftingRates, Repair, repair
from plankwright.model.plan import Plan, StockBoard
from plankwright.model.toolbox import Rates
from plankwright.plan.saw_cuts import piece_figure
from plankwright.units import parse_unit


@dataclass(frozen=True, slots=True)
class RepairAdvice:
    """The repair, and what to do in sentences.

    Parameters
    ----------
    lifting, cutting_out : the steps of both ways.
    minutes_from : what the minutes rest on, a sentence each.
    """

    repair: Repair
    lifting: tuple[str, ...]
    cutting_out: tuple[str, ...]
    minutes_from: tuple[str, ...]

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps of the better way."""
        return self.lifting if self.repair.advice == "lift" else self.cutting_out


def repair_pieces(
    plan: Plan,
    damaged: Collection[str],
    *,
    laid: Collection[str] | None = None,
    shelf: Sequence[StockBoard] = (),
    rates: Rates | None = None,
    lifting: LiftingRates | None = None,
    events: Sequence[Event] = (),
) -> RepairAdvice:
    """What to do about damaged pieces, with boards and minutes of both ways.

    Parameters
    ----------
    damaged : ids of pieces of the plan.
    laid : ids of what lies; everything where None.
    shelf : offcuts at hand.
    rates, lifting : how fast the person works, where the person has said so.
    events : the log, whose times tell how fast the floor was laid.

    Raises
    ------
    InputError : the plan has no such piece, or it does not lie.
    """
    pace = pace_of(plan, events, rates or Rates())
    at = at_pace(rates or Rates(), pace)
    found = repair(plan, damaged, laid=laid, shelf=shelf, rates=at, lifting=lifting)
    return RepairAdvice(
        found,
        tuple(_lifting(plan, found)),
        tuple(_cutting_out(plan, found)),
        tuple(_minutes_from(pace, rates, lifting)),
    )


def repair_on_day(
    day: Day,
    damaged: Collection[str] = (),
    *,
    rates: Rates | None = None,
    lifting: LiftingRates | None = None,
) -> RepairAdvice:
    """The same for what lies by a log, with its shelf and its times.

    ``damaged`` are those told as damaged where none is named.
    """
    state = day.state
    told = tuple(sorted(name for name, held in state.laid.items() if held.damaged))
    return repair_pieces(
        day.plan,
        damaged or told,
        laid=state.laid,
        shelf=shelf_boards(day, {}),
        rates=rates,
        lifting=lifting,
        events=day.log.events,
    )


def repair_entry(advice: RepairAdvice) -> dict[str, Any]:
    """The advice as plain values."""
    found = advice.repair
    return {
        **asdict(found),
        "labels": dict(found.labels),
        "replacement": dict(found.replacement),
        "advice": found.advice,
        "steps": {"lift": list(advice.lifting), "cut out": list(advice.cutting_out)},
        "minutes_from": list(advice.minutes_from),
    }


def _minutes_from(
    pace: Pace | None, rates: Rates | None, lifting: LiftingRates | None
) -> list[str]:
    """How far the minutes can be trusted."""
    told = []
    if pace is not None:
        told.append(
            f"Laying again: at the log's own pace, {pace.minutes:.1f} minutes from a piece to the "
            f"next over {pace.steps} pieces."
        )
    elif rates is None:
        told.append("Laying and sawing: rough, nobody has timed you yet.")
    mine, usual = lifting or LiftingRates(), LiftingRates()
    guessed = []
    if (mine.row, mine.piece) == (usual.row, usual.piece):
        guessed.append("lifting")
    if mine.cut_out == usual.cut_out:
        guessed.append("cutting out")
    if guessed:
        told.append(" and ".join(guessed).capitalize() + ": a rough guess; give your own minutes.")
    return told


def _anew(plan: Plan, name: str, source: str) -> str:
    """What to do to have a piece again."""
    piece = next(piece for piece in plan.pieces if piece.id == name)
    if piece.cut_order is None:
        return f"Take a whole board for {name}."
    unit = parse_unit(plan.unit)
    length, width = piece_figure(piece.length_mm, unit), piece_figure(piece.width_mm, unit)
    return f"Cut {name} again, {length} long and {width} wide, from {source}."


def _source(found: Repair, name: str) -> str:
    offcut = dict(found.replacement).get(name)
    return f"offcut {offcut}" if offcut else "a new board"


def _lifting(plan: Plan, found: Repair) -> list[str]:
    last = max(piece.row for piece in plan.pieces)
    steps = []
    if last in found.rows:
        steps.append(f"Take the trim off along row {last} and at the ends of the rows.")
    rows = ", ".join(str(row) for row in reversed(found.rows))
    one = "Lift row {}, whole." if len(found.rows) == 1 else "Lift rows {}: one by one, each whole."
    steps.append(one.format(rows))
    if found.labels:
        steps.append("Write on each piece its number, an arrow to its far end; slide them apart.")
    steps += [_anew(plan, name, _source(found, name)) for name in found.pieces]
    first, last_laid = found.relaid[0], found.relaid[-1]
    order = (
        f", from {first} to {last_laid}, in the order of the cards" if first != last_laid else ""
    )
    steps.append("Wipe all locks clean; a piece whose lock is broken is cut anew, too.")
    steps.append(f"Put the spacers back at the walls and lay again{order}.")
    if last in found.rows:
        steps.append("Take the spacers out and put the trim back: on the wall, not on the floor.")
    return steps


def _cutting_out(plan: Plan, found: Repair) -> list[str]:
    names = ", ".join(found.pieces)
    cut = [_anew(plan, name, "a new board") for name in found.pieces]
    return [
        f"Drill at the corners of {names}, saw along the middle and toward the corners.",
        "Chisel the pieces out, vacuum, and look whether the vapor barrier is whole: tape it.",
        *cut,
        "Take tongues and lower lips off what is new until it drops in.",
        "Glue it along all edges, weigh it down and wait.",
    ]
