"""What a survey's judge has to say, in words a tired person understands."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
from shapely import Point

from plankwright.application.measured_room import MeasuredRoom
from plankwright.model.findings import Finding
from plankwright.survey.blunder import Suspect
from plankwright.survey.next_measurement import Proposal
from plankwright.survey.quantiles import chi_square_quantile
from plankwright.survey.shape import Shape
from plankwright.survey.sketch import interior_angles_deg
from plankwright.survey.slips import recognize_slip
from plankwright.survey.span import SURE_SIDES
from plankwright.units import Unit, format_length

UNSEEN_MM = {"mm": 100.0, "cm": 100.0, "m": 100.0, "in": 101.6, "ft": 101.6}  # the wrong ten
MOST_NAMED = 4
SMALLEST_ROOM_MM, LARGEST_ROOM_MM = 600.0, 30_000.0
ROUGH = 0.999


def survey_findings(room: MeasuredRoom, shape: Shape) -> tuple[Finding, ...]:
    """Everything to check, the gravest first."""
    return tuple(
        finding
        for part in (
            _suspects(room),
            _too_little(room, shape),
            _walls_missing(room),
            _two_shapes(room, shape),
            _rough(room),
            _unit(room),
            _points(room, shape),
            _inexact(room),
            _unchecked(room),
        )
        for finding in part
    )


# --- what does not fit -------------------------------------------------------------------------


def _suspects(room: MeasuredRoom) -> Iterator[Finding]:
    for suspect in room.suspects:
        yield _belief(suspect) if suspect.is_belief else _blunder(suspect, room.unit)


def _belief(suspect: Suspect) -> Finding:
    corner = suspect.name.removeprefix("angle at ")
    told = f"corner {corner} was believed to have {suspect.written:g} degrees, "
    found = f"the lengths make it {suspect.fits:.1f}"
    if suspect.or_else:
        others = " or ".join(suspect.or_else[:MOST_NAMED])
        return Finding(
            "survey-belief",
            corner,
            f"{told}{found}; either that or {others} is wrong",
            f"Check the corner with 3-4-5, then check {others}.",
        )
    return Finding(
        "survey-belief",
        corner,
        told + found,
        "The room is drawn as measured. Check the corner with 3-4-5 if that surprises you.",
    )


def _blunder(suspect: Suspect, unit: Unit) -> Finding:
    told = blunder_words(suspect, unit)
    if not suspect.or_else:
        remedy = f"Measure {suspect.name} again."
        if suspect.left_out:
            remedy += " Until then the room is drawn without it."
        return Finding("survey-blunder", suspect.name, told, remedy)
    names = [name for name in dict.fromkeys(suspect.or_else) if name != suspect.name]
    if not names:
        return Finding(
            "survey-blunder",
            suspect.name,
            f"{suspect.name} was read more than once, and the readings do not agree",
            f"Measure {suspect.name} once more.",
        )
    others = ", ".join(names[:MOST_NAMED])
    return Finding(
        "survey-blunder",
        suspect.name,
        f"one of {suspect.name}, {others} does not fit. Most likely: {told}",
        f"Measure {suspect.name} again first, then {others}: this survey cannot tell them apart.",
    )


def blunder_words(suspect: Suspect, unit: Unit) -> str:
    """``D-A is probably 100 mm too long: 4310 mm fits, 4410 mm was written``."""
    written, fits = abs(suspect.written), abs(suspect.fits)
    slip = recognize_slip(written, fits, 3.0 * suspect.fits_sd, unit)
    meant = slip.meant_mm if slip and slip.telling else fits
    way = "long" if written > fits else "short"
    told = (
        f"{suspect.name} is probably {_size(abs(written - meant), unit)} too {way}: "
        f"{format_length(meant, unit)} fits, {format_length(written, unit)} was written"
    )
    return f"{told} ({slip.reason})" if slip else told


def _size(mm: float, unit: Unit) -> str:
    """A difference: a small one in centimeters where people write meters."""
    if unit == "m" and mm < 995.0:
        return format_length(mm, "cm").replace(".0 cm", " cm")
    return format_length(mm, unit)


# --- what is not known -------------------------------------------------------------------------


def _too_little(room: MeasuredRoom, shape: Shape) -> Iterator[Finding]:
    unit = room.unit
    if shape.room.guessed_walls:
        walls = _list([f"{a}-{b}" for a, b in shape.room.guessed_walls])
        yield Finding(
            "survey-unknown",
            walls,
            f"nothing says how long {walls} {_be(shape.room.guessed_walls)}: the drawing guesses",
            "Measure them, or a length across." + _next_words(room.proposals[:2], unit),
        )
    if shape.room.assumed_corners:
        corners = _list(shape.room.assumed_corners)
        worst = error_words(room.worst_mm, unit)
        yield Finding(
            "survey-assumed",
            corners,
            f"too little was measured to know the angles at {corners}: they were taken as square "
            f"or at 45 degrees, and the worst corner may be out by {worst}",
            _next_words(room.proposals[:2], unit).strip(),
        )


def _walls_missing(room: MeasuredRoom) -> Iterator[Finding]:
    if room.status == "unknown":
        return
    for wall in room.walls_missing:
        told = format_length(wall.adjusted_mm, room.unit)
        yield Finding(
            "survey-wall-missing",
            wall.name,
            f"wall {wall.name} was not measured; the others make it {told}, "
            f"to {error_words(SURE_SIDES * wall.sd_mm, room.unit)}",
            f"Measure {wall.name} if you can reach it.",
        )


def _two_shapes(room: MeasuredRoom, shape: Shape) -> Iterator[Finding]:
    telling = room.telling
    if telling is None or room.status == "unknown":
        return
    name = f"{telling.start}-{telling.end}"
    turned = _turned_corners(room, shape)
    where = f" (they differ at {_list(turned)})" if turned else ""
    remedy = f"Measure {name}."
    if turned and all(angle.degrees == 90.0 for angle in room.survey.angles):
        remedy = f"Measure {name}, or write 270 degrees for the outside corners."
    yield Finding(
        "survey-two-shapes",
        name,
        f"two different rooms fit these lengths{where}; the more usual one is drawn, where {name} "
        f"is about {format_length(telling.here_mm, room.unit)}; in the other it is "
        f"{format_length(telling.rival_mm, room.unit)}",
        remedy,
    )


def _turned_corners(room: MeasuredRoom, shape: Shape) -> list[str]:
    """The corners that are inside corners in one shape and outside corners in the other."""
    if shape.rival is None:
        return []
    n = len(room.corners)
    rings = np.stack([shape.adjusted.xy[:n], shape.rival[:n]])
    here, there = interior_angles_deg(rings, clockwise=room.survey.clockwise)
    turned = (here > 180.0) != (there > 180.0)
    return [corner.name for corner, other in zip(room.corners, turned, strict=True) if other]


def _rough(room: MeasuredRoom) -> Iterator[Finding]:
    if room.freedom < 1 or any(not s.left_out for s in room.suspects):
        return
    if room.s0**2 * room.freedom > chi_square_quantile(ROUGH, room.freedom):
        yield Finding(
            "survey-rough",
            "room",
            f"the lengths disagree {room.s0:.1f} times as much as this tape usually errs",
            "Measure once more what you are least sure of, or state a larger tape.sd.",
        )


def _unit(room: MeasuredRoom) -> Iterator[Finding]:
    low_x, low_y, high_x, high_y = room.outline.bounds
    long, short = max(high_x - low_x, high_y - low_y), min(high_x - low_x, high_y - low_y)
    if long > LARGEST_ROOM_MM or short < SMALLEST_ROOM_MM:
        yield Finding(
            "survey-unit",
            "room",
            f"the room comes to {format_length(long, room.unit)} by "
            f"{format_length(short, room.unit)}",
            "Check the unit of the lengths.",
        )


def _points(room: MeasuredRoom, shape: Shape) -> Iterator[Finding]:
    n = len(room.corners)
    grown = room.outline.buffer(max(20.0, room.enough_mm))
    for i, point in enumerate(room.points, start=n):
        other = shape.rival[i] if shape.rival is not None else None
        if not grown.covers(Point(point.x_mm, point.y_mm)):
            yield Finding(
                "survey-point",
                point.name,
                f"{point.name} comes to lie outside the room",
                "Check its distances and from which corners they were taken.",
            )
        elif other is not None and math.dist(other, (point.x_mm, point.y_mm)) > 100.0:
            yield Finding(
                "survey-point",
                point.name,
                f"{point.name} could be in two places inside the room",
                "Measure it from one more corner.",
            )


def _inexact(room: MeasuredRoom) -> Iterator[Finding]:
    if room.worst_mm <= room.enough_mm or room.status != "measured":
        return
    worst = max(room.corners, key=lambda corner: corner.ellipse.major_mm)
    words = _next_words(room.proposals[:3], room.unit).strip()
    yield Finding(
        "survey-inexact",
        worst.name,
        f"corner {worst.name} is known to {error_words(room.worst_mm, room.unit)}; "
        f"gap and trim hide {error_words(room.enough_mm, room.unit)}",
        words or "No further length between corners helps much; cut the last pieces to the wall.",
    )


def _unchecked(room: MeasuredRoom) -> Iterator[Finding]:
    unseen_mm = UNSEEN_MM[room.unit]
    loose = [length for length in room.lengths if length.unseen_mm > unseen_mm]
    if not loose or room.suspects:
        return
    names = _list([length.name for length in loose[: 2 * MOST_NAMED]])
    more = f" and {len(loose) - 2 * MOST_NAMED} more" if len(loose) > 2 * MOST_NAMED else ""
    yield Finding(
        "survey-unchecked",
        loose[0].name,
        f"a slip of {error_words(unseen_mm, room.unit)} in {names}{more} might go unseen",
        "Measure one more diagonal."
        if not room.proposals
        else f"Measure {room.proposals[0].name}.",
    )


# --- words -------------------------------------------------------------------------------------


def proposal_words(proposal: Proposal, unit: Unit) -> str:
    """``A-D (about 5021 mm): worst corner from 19 mm to 4 mm``."""
    return (
        f"{proposal.name} (about {format_length(proposal.length_mm, unit)}): worst corner from "
        f"{error_words(proposal.before_mm, unit)} to {error_words(proposal.after_mm, unit)}"
    )


def _next_words(proposals: tuple[Proposal, ...], unit: Unit) -> str:
    if not proposals:
        return ""
    return " Measure " + ", then ".join(proposal_words(p, unit) for p in proposals) + "."


def error_words(mm: float, unit: Unit) -> str:
    """An error, rounded up on the tape's marks."""
    return format_length(mm, unit if unit in ("mm", "in", "ft") else "mm", rounding="up")


def _list(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _be(things: Sequence[object]) -> str:
    return "is" if len(things) == 1 else "are"
