"""What a card says: short verbs, the trade's nouns, lengths in the job's unit.

*Keep the tongue end* comes first; left and right come second, because the saw stands in another
room and a board cut face down is mirrored. Sizes of pieces are rounded down so that they fit.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import cast

from plankwright.guide.cards import Card, Left
from plankwright.model.board import Profile
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import KeepEnd, KeepSide, SawCut, blank_of, piece_figure
from plankwright.plan.saw_view import SawView
from plankwright.plan.wall_trims import EdgeName
from plankwright.units import TAPE_MARK_MM, Unit


@dataclass(frozen=True, slots=True)
class CardWords:
    """The lines of a card, from top to bottom; empty where there is nothing to say.

    Parameters
    ----------
    place : row and piece.
    take, cut, keep : what is taken, how long (and wide) it is cut, which end and side are kept.
    lie : how the board lies at the saw while it is marked and cut.
    shape : what is not square about it.
    shelf : a line for each offcut: its letter and size, or that it is waste.
    check : what to measure before it is carried back.
    trim : tongues and lips to trim off at walls.
    lay : where it goes.
    """

    place: str
    take: str
    cut: str
    keep: str
    lie: str
    shape: str
    shelf: tuple[str, ...]
    check: str
    trim: str
    lay: str

    def lines(self) -> tuple[str, ...]:
        """What there is to say, line by line, without the place."""
        told = (self.take, self.cut, self.keep, self.lie, self.shape, *self.shelf, self.check,
                self.trim, self.lay)  # fmt: skip
        return tuple(line for line in told if line)


def words_of(card: Card, plan: Plan, view: SawView | None = None) -> CardWords:
    """The words of a card.

    Parameters
    ----------
    plan : the card's plan: its board, laying direction and unit.
    view : how the board lies at the saw in use; face up with the start side away where None.
    """
    unit = cast(Unit, plan.unit)
    cut, view = card.cut, view or SawView()
    return CardWords(
        place=f"Row {card.row}, piece {card.seat} of {card.of} ({card.piece})",
        take=_take(card, unit),
        cut=_cut(card, plan, unit),
        keep=_keep(cut, plan, unit) if cut else "",
        lie=_lie(cut, plan, view) if cut else "",
        shape=_shape(card, plan, unit),
        shelf=tuple(line for left in card.left if (line := _left(left, plan, unit))),
        check=_check(card, unit),
        trim=_trim(card, plan),
        lay=_lay(card, plan, unit),
    )


# --- take, cut, keep -------------------------------------------------------------------------


def _take(card: Card, unit: Unit) -> str:
    if card.take.kind == "new board":
        return "Take a new board"
    size = piece_figure(card.take.length_mm, unit)
    where = "offcut" if card.take.kind == "offcut" else "from the shelf"
    return f"Take {where} {card.take.label} ({size} long)"


def _cut(card: Card, plan: Plan, unit: Unit) -> str:
    cut = card.cut
    if cut is None:
        return "No cut: a whole board" if not card.trims else "No cut but the trim"
    told = []
    if cut.end is not None or _is_long(cut, unit):
        told.append(f"Cut to {piece_figure(card.length_mm, unit)}")
    if cut.end == "middle":
        start = blank_of(cut.piece).u0 - cut.source.u0
        ends = end_names(plan, cut, whole=True)
        told.append(f"begin {piece_figure(start, unit)} from {ends[0]}")
    if cut.side is not None:
        told.append(f"{'rip' if told else 'Rip'} to {piece_figure(max(card.widths_mm), unit)}")
    if cut.side == "middle":
        start = blank_of(cut.piece).v0 - cut.source.v0
        told.append(f"begin {piece_figure(start, unit)} from {side_names(plan, None)[0]}")
    if not told and cut.shaped:
        return "Cut its shape out"
    if not told and cut.slanted_end:
        end = end_names(plan, cut)[0 if cut.slanted_end == "near" else 1]
        return f"Cut {end} at an angle"
    if not told and not cut.tapered:
        return "No cut: as it is"
    return ", ".join(told) or f"Cut {_slanted_side_name(card, plan)} at a taper"


def _is_long(cut: SawCut, unit: Unit) -> bool:
    """Whether an offcut is longer by the allowance, which comes off at its sawn end."""
    source, wanted = (
        piece_figure(length, unit) for length in (cut.source.length_mm, cut.piece.length_mm)
    )
    return source != wanted


def _slanted_side_name(card: Card, plan: Plan) -> str:
    return side_names(plan, None)[0 if card.slanted_side == "wall" else 1]


def _keep(cut: SawCut, plan: Plan, unit: Unit) -> str:
    told = keep_words(cut, plan.board.reversible)
    if cut.end is None and _is_long(cut, unit):
        near, far = cut.factory_ends
        end = end_names(plan, cut)[0 if near else 1] if near != far else "either end"
        told = "; ".join(words for words in (f"keep {end}", told) if words)
    return told[:1].upper() + told[1:]


def keep_words(cut: SawCut, reversible: bool) -> str:
    """Which end and which side of what is cut are kept: ``"keep the tongue end"``."""
    told = (_keep_end(cut.end, cut.end_profile, reversible), _keep_side(cut.side, cut.side_profile))
    return "; ".join(words for words in told if words)


def _keep_end(end: KeepEnd | None, profile: Profile | None, reversible: bool) -> str:
    if end is None:
        return ""
    if end == "middle":
        return "cut both ends"
    if end == "cut" and not reversible:
        return "keep the cut end"
    return f"keep the {profile} end" if profile else "keep either end"


def _keep_side(side: KeepSide | None, profile: Profile | None) -> str:
    if side is None:
        return ""
    if side == "middle":
        return "rip both sides"
    return f"keep the {profile} side" if profile else "keep either side"


def _lie(cut: SawCut, plan: Plan, view: SawView) -> str:
    """Face and side as it lies, then left or right, which only hold there."""
    face = "Face up" if view.face_up else "Face down"
    lies = f"{face}, {view.side_name(plan.board, away=True)} away from you"
    if cut.end in (None, "middle"):
        return lies
    wanted = blank_of(cut.piece)
    keeps_near = wanted.u0 - cut.source.u0 < cut.source.u1 - wanted.u1
    kept, other = "left", "right"
    if keeps_near != view.near_is_left(plan.laying.laid):
        kept, other = other, kept
    return f"{lies}: keep the {kept} part, X on the {other}"


# --- shape -----------------------------------------------------------------------------------


def _shape(card: Card, plan: Plan, unit: Unit) -> str:
    if card.cut is None:
        return ""
    parts = shape_words(card.cut, plan, unit).split("; ")
    told = "; ".join(part[:1].upper() + part[1:] for part in parts)
    if card.cut.tapered and card.cut.side in (None, "middle") and "Tapered" in told:
        told += f"; the slant is on {_slanted_side_name(card, plan)}"
    return told


def shape_words(cut: SawCut, plan: Plan, unit: Unit) -> str:
    """What is not square about a piece, with the two figures that tell it; "" for a rectangle."""
    if cut.shaped:
        return "notched or angled: mark it from the drawing"
    told = (
        _pair("angled", cut.lengths_mm, side_names(plan, cut), "along", unit) if cut.angled else "",
        _pair("tapered", cut.widths_mm, end_names(plan, cut), "at", unit) if cut.tapered else "",
    )
    return "; ".join(words for words in told if words)


def _pair(
    word: str, sizes: tuple[float, float], places: tuple[str, str], where: str, unit: Unit
) -> str:
    first, second = (piece_figure(size, unit) for size in sizes)
    if first == second:
        return ""
    return f"{word}: {first} {where} {places[0]}, {second} {where} {places[1]}"


def end_names(plan: Plan, cut: SawCut, *, whole: bool = False) -> tuple[str, str]:
    """The near and the far end, by the profile that is still there or was there.

    Parameters
    ----------
    whole : of what the piece is cut from, not of the piece.
    """
    near = plan.board.near_end(plan.laying.laid)
    if near is None:
        return "the end laid first", "the other"
    names = f"the {near} end", f"the {_other(near)} end"
    if whole:
        near_is_there, far_is_there = cut.factory_ends
        return names[0] if near_is_there else f"the end toward {names[0]}", (
            names[1] if far_is_there else f"the end toward {names[1]}"
        )
    match cut.end:
        case "near":
            return names[0], "the cut end"
        case "far":
            return "the cut end", names[1]
        case None:
            return names
        case _:
            return f"its end toward {names[0]}", f"its end toward {names[1]}"


def side_names(plan: Plan, cut: SawCut | None) -> tuple[str, str]:
    """The wall side and the room side, by the profile that is still there."""
    if plan.board.reversible:
        return "the start wall's side", "the other"
    wall, side = plan.board.start_side, cut.side if cut else None
    return (
        "the ripped side" if side == "room" else f"the {wall} side",
        "the ripped side" if side == "wall" else f"the {_other(wall)} side",
    )


def _other(profile: Profile) -> Profile:
    return "groove" if profile == "tongue" else "tongue"


# --- shelf, check, trim, lay -----------------------------------------------------------------


def _left(left: Left, plan: Plan, unit: Unit) -> str:
    size = piece_figure(left.length_mm, unit)
    if left.width_mm < plan.board.width_mm - 0.01:
        size += f" x {piece_figure(left.width_mm, unit)}"
    match left.fate:
        case "shelf":
            return f"Put on the shelf as {left.label}: {size}"
        case "spare":
            return f"Keep as a spare, marked {left.mark}: {size}"
        case "waste":
            # less than a mark of the tape is sawdust
            mark = float(TAPE_MARK_MM[unit])
            return f"Waste: {size}" if min(left.length_mm, left.width_mm) > mark else ""


def _check(card: Card, unit: Unit) -> str:
    """The piece, and the offcut that someone will rely on."""
    if card.cut is None:
        return ""
    told = [f"the piece {piece_figure(card.length_mm, unit)}"]
    told += [
        f"offcut {left.label} {piece_figure(left.length_mm, unit)}"
        for left in card.left
        if left.fate == "shelf"
    ]
    return "Check: " + ", ".join(told)


def _trim(card: Card, plan: Plan) -> str:
    if not card.trims:
        return ""
    return "Trim off at the wall: " + ", ".join(_lock_parts(card.trims, plan))


def _lock_parts(edges: Iterable[EdgeName], plan: Plan) -> list[str]:
    """What sticks out at each edge: a tongue, or the lip of a groove."""
    near = plan.board.near_end(plan.laying.laid) or "tongue"
    start = plan.board.start_side
    profiles: dict[EdgeName, tuple[Profile, str]] = {
        "near": (near, "end"),
        "far": (_other(near), "end"),
        "wall": (start, "long side"),
        "room": (_other(start), "long side"),
    }
    parts = (profiles[edge] for edge in edges)
    return [f"the {'tongue' if p == 'tongue' else 'lip'} of the {where}" for p, where in parts]


def _lay(card: Card, plan: Plan, unit: Unit) -> str:
    if card.joins:
        told = f"Lay it against piece {card.joins}"
    else:
        told = f"Lay it first in row {card.row}, {_near_end_name(card, plan)} at the spacers"
        if card.stretch > 1:
            told += f", {piece_figure(card.along_mm, unit)} from where the rows begin"
    if card.seat == (1 if card.turned else card.of):
        told += "; leave the gap at its other end" if card.joins else "; leave the gap at both ends"
    if card.spline:
        told = f"Set the spline in the groove of row {card.row + 1}. {told}"
    if card.turned:
        return told + "; turned end for end: facing the start wall, it joins what lies at your feet"
    return told + (
        "; the row is laid backwards: it joins on its room side" if card.backwards else ""
    )


def _near_end_name(card: Card, plan: Plan) -> str:
    near = plan.board.near_end(plan.laying.laid)
    if near is None:
        return "one end"
    is_cut = card.cut is not None and card.cut.end not in (None, "near")
    return "the cut end" if is_cut else f"the {near} end"
