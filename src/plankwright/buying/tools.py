"""Tools by reason: what this plan asks for, and what to do about a tool that is not there."""

from collections.abc import Iterator
from dataclasses import dataclass

from plankwright.buying.labor import is_crosscut, is_odd, is_ripped
from plankwright.model.plan import Plan
from plankwright.model.toolbox import Toolbox
from plankwright.units import Unit, format_length


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool and the reason for it in this job; ``hire`` when it is dear and soon done with."""

    name: str
    why: str
    hire: bool = False


CROSSCUT_SAWS = ("miter saw", "circular saw", "hand saw", "guillotine cutter")
RIP_SAWS = ("table saw", "circular saw", "jigsaw")
TOOL_NAMES = (
    "tape measure", "pencil", "square", "chalk line", "utility knife", "straightedge",
    *CROSSCUT_SAWS, "table saw", "jigsaw", "undercut saw", "hole saw", "tapping block",
    "pull bar", "hammer", "nailer", "caulking gun", "clamps", "push stick", "knee pads", "goggles",
    "hearing protection", "dust mask", "work gloves", "shop vacuum", "trowel", "mixing paddle",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Needs:
    """What beside the boards asks for tools."""

    jambs: int = 0
    pipes: int = 0
    sheets: bool = True
    patch: bool = False
    nails: bool = True
    adhesive: bool = False


def tools_for(plan: Plan, box: Toolbox, needs: Needs) -> tuple[Tool, ...]:
    """Tools that the job asks for and that are not at hand, each with its reason."""
    found: list[Tool] = []
    for tool in _wanted(plan, box, needs):
        if tool.name not in box.owned and all(tool.name != other.name for other in found):
            found.append(tool)
    return tuple(found)


def saw_words(plan: Plan, box: Toolbox, unit: Unit) -> tuple[str, ...]:
    """What a missing or a short saw changes about the plan."""
    words = []
    ripped = [piece for piece in plan.pieces if is_ripped(piece)]
    can_rip = any(saw in box.owned for saw in RIP_SAWS)
    if ripped and not can_rip and not box.rips:
        rows = ", ".join(str(row) for row in sorted({piece.row for piece in ripped}))
        words.append(
            f"{len(ripped)} pieces are ripped (rows {rows}) and no saw that rips will be there: "
            "have them ripped where you buy the boards, or plan again with another first_row or "
            "start wall and compare; a room that is not a whole number of boards wide cannot do "
            "without"
        )
    width = plan.board.width_mm
    if box.reach_mm is not None and box.reach_mm < width and any(map(is_crosscut, plan.pieces)):
        words.append(
            f"the saw cuts {format_length(box.reach_mm, unit, rounding='down')} in one pass, the "
            f"board is {format_length(width, unit)} wide: unplug, turn the board over and finish "
            "from the other edge along the same pencil line, or crosscut with another saw; never "
            "lift a running saw over a board that is not clamped"
        )
    return tuple(words)


def _wanted(plan: Plan, box: Toolbox, needs: Needs) -> Iterator[Tool]:
    yield from _to_mark()
    yield from _to_saw(plan, box, needs)
    yield from _to_lay(plan)
    if needs.sheets:
        yield Tool("utility knife", "cuts vapor barrier and underlayment; wear gloves")
    if needs.patch:
        yield Tool("trowel", "spreads patch")
        yield Tool("mixing paddle", "mixes patch without lumps")
    if needs.nails:
        yield Tool("hammer", "drives brads into the wall, taps the pull bar; light blows")
    if needs.adhesive:
        yield Tool("caulking gun", "for the cartridges of adhesive")
    yield from _to_stay_whole(plan)


def _to_mark() -> Iterator[Tool]:
    yield Tool("tape measure", "checks the distance to the far wall every few rows")
    yield Tool("pencil", "marks cuts and offcut letters")
    yield Tool("square", "carries a mark square across the board")
    yield Tool("chalk line", "snaps the start line")


def _to_saw(plan: Plan, box: Toolbox, needs: Needs) -> Iterator[Tool]:
    crosscuts = sum(map(is_crosscut, plan.pieces))
    ripped = sum(map(is_ripped, plan.pieces))
    odd = sum(map(is_odd, plan.pieces))
    if crosscuts and not any(saw in box.owned for saw in CROSSCUT_SAWS):
        yield Tool("miter saw", f"{crosscuts} pieces are cut to length", hire=True)
    if ripped and box.rips and not any(saw in box.owned for saw in RIP_SAWS):
        yield Tool("table saw", f"{ripped} pieces are ripped along their length", hire=True)
        yield Tool("push stick", "keeps hands off the blade: a rip can kick back")
    if odd:
        yield Tool("jigsaw", f"{odd} pieces go round a corner, a post or a jamb")
        yield Tool("clamps", "hold short and odd pieces at the saw")
    if needs.jambs:
        yield Tool("undercut saw", f"{needs.jambs} door jambs are cut so that the floor runs "
                   "under them", hire=True)  # fmt: skip
    if needs.pipes:
        yield Tool("hole saw", f"{needs.pipes} pipes come through: diameter and twice the gap")


def _to_lay(plan: Plan) -> Iterator[Tool]:
    last = max((piece.row for piece in plan.pieces), default=0)
    if last:
        yield Tool("pull bar", f"last row ({last}) against the wall, and the last piece of a row")
    if not plan.board.reversible:
        yield Tool("tapping block", "closes joints, unless the leaflet forbids tapping")
        yield Tool("hammer", "light blows on pull bar and tapping block")


def _to_stay_whole(plan: Plan) -> Iterator[Tool]:
    yield Tool("knee pads", "a day on the slab")
    if any(is_crosscut(piece) or is_ripped(piece) for piece in plan.pieces):
        yield Tool("goggles", "every cut")
        yield Tool("hearing protection", "every cut: a miter saw is about 100 dB(A) (from memory)")
        yield Tool("dust mask", "every cut: wood and mineral dust")
    yield Tool("shop vacuum", "the slab must be clean before the vapor barrier; no dry sweeping")
