"""What the new floor's height means at doors, jambs, stairs and neighboring floors."""

from collections.abc import Sequence

from plankwright.application.told import told_limit, told_thickness
from plankwright.model.advice import DRY, OPEN, READY, Section, Step
from plankwright.model.build_up import Layers, Meeting
from plankwright.model.findings import Finding
from plankwright.model.sourced import Sourced
from plankwright.units import Unit, format_length

JAMB_PLAY = Sourced(1.5, "mm", "board and pad and 1 to 2 mm", "common practice")
LEAF_CLEARANCE = Sourced(6.0, "mm", "free space under a door leaf", "common practice")
EVEN = Sourced(2.0, "mm", "floors this near take a T-molding", "common practice")
TRIP = Sourced(6.0, "mm", "above about that a ramp or threshold", "common practice")
RISER = Sourced(9.5, "mm", "IRC R311.7.5.1, largest less smallest riser", "from memory")


def height_section(layers: Layers, meetings: Sequence[Meeting], unit: Unit) -> Section:
    """Height of the floor, jamb cuts, door trims, transitions and risers."""
    total = layers.total_mm
    jamb = total - layers.leveling_mm + JAMB_PLAY.value
    play = told_limit(JAMB_PLAY, unit).partition(" (")[0]
    lines = [
        f"{_layer_sum(layers, unit)} = {told_thickness(total, unit)} over the slab.",
        f"Saw jambs off {format_length(jamb, unit, rounding='up')} above the leveled slab: floor "
        f"and {play} of play (common practice); try with a scrap of board on a scrap of pad.",
    ]
    findings: list[Finding] = []
    steps = [
        Step(
            f"Saw the jambs off {format_length(jamb, unit, rounding='up')} above the leveled slab.",
            DRY,
        )
    ]
    for meeting in meetings:
        for line, found, step in (_leaf(meeting, total, unit), _beyond(meeting, total, unit),
                                  _riser(meeting, total, unit)):  # fmt: skip
            lines += [line] if line else []
            findings += [found] if found else []
            steps += [step] if step else []
    return Section("Heights", tuple(lines), tuple(findings), tuple(steps))


def told_layer(mm: float, unit: Unit) -> str:
    """A layer's thickness in decimals, inches to a thousandth: a film has no fraction.

    >>> told_layer(0.1524, "in"), told_layer(7.9375, "mm")
    ('0.006"', '7.94 mm')
    """
    return f'{round(mm / 25.4, 3):g}"' if unit in ("in", "ft") else f"{mm:.3g} mm"


def _layer_sum(layers: Layers, unit: Unit) -> str:
    board, pad, film, leveling = (
        told_layer(mm, unit)
        for mm in (layers.board_mm, layers.pad_mm, layers.film_mm, layers.leveling_mm)
    )
    return f"Board {board} + pad {pad} + vapor barrier {film} + leveling {leveling}"


Told = tuple[str, Finding | None, Step | None]
_NOTHING: Told = ("", None, None)


def _leaf(meeting: Meeting, total: float, unit: Unit) -> Told:
    """The door leaf: how much comes off it."""
    if meeting.under_leaf_mm is None:
        return _NOTHING
    free = meeting.under_leaf_mm - total
    off = LEAF_CLEARANCE.value - free
    if off <= 0.0:
        return f"{meeting.name}: {told_thickness(free, unit)} stay free under the leaf.", None, None
    told = format_length(off, unit, rounding="up")
    size = told_thickness(abs(free), unit)
    left = f"{size} would stay free" if free > 0.0 else f"it would bind by {size}"
    message = f"{left} under the leaf; wanted: {told_limit(LEAF_CLEARANCE, unit)}"
    if meeting.kind in ("fire door", "outside door"):
        remedy = (
            "Do not trim a fire-rated door, a furnace-room door or an outside door: ask a licensed "
            "door fitter or your building department."
        )
        return (
            f"{meeting.name}: {message}.",
            Finding("door-binds", meeting.name, message, remedy),
            None,
        )
    step = Step(f"Take the leaf of {meeting.name} off and trim {told} from its lower edge.", OPEN)
    finding = Finding("door-binds", meeting.name, message, f"Trim {told}.")
    return f"{meeting.name}: {message}.", finding, step


def _beyond(meeting: Meeting, total: float, unit: Unit) -> Told:
    """The floor beyond: kind of transition and the edge a foot meets."""
    if meeting.beyond_mm is None or meeting.kind == "stair":
        return _NOTHING
    rise = total - meeting.beyond_mm
    kind = transition_kind(meeting, rise)
    side = "higher" if rise >= 0.0 else "lower"
    line = f"{meeting.name}: new floor {told_thickness(abs(rise), unit)} {side}: {kind}."
    finding = None
    if abs(rise) > TRIP.value:
        limit = told_limit(TRIP, unit)
        message = f"{format_length(abs(rise), unit)} {side} than the floor beyond; {limit}"
        finding = Finding("edge-to-trip", meeting.name, message, f"Use a {kind}.")
    step = Step(
        f"At {meeting.name} fix the {kind} to the slab, never through the floating floor.", READY
    )
    return line, finding, step


def transition_kind(meeting: Meeting, rise_mm: float) -> str:
    """The transition that bridges a difference of height [mm], new floor less the one beyond.

    >>> transition_kind(Meeting("door"), 1.0), transition_kind(Meeting("door"), 4.0)
    ('T-molding', 'reducer')
    """
    if meeting.kind == "outside door" or abs(rise_mm) > TRIP.value:
        return "door threshold or ramp" if meeting.kind != "opening" else "ramp"
    if abs(rise_mm) <= EVEN.value:
        return "T-molding"
    return "reducer"


def _riser(meeting: Meeting, total: float, unit: Unit) -> Told:
    """The bottom riser of a stair, which the floor shortens."""
    if meeting.kind != "stair" or meeting.riser_mm is None:
        return _NOTHING
    new = meeting.riser_mm - total
    others = meeting.others_mm if meeting.others_mm is not None else meeting.riser_mm
    change = abs(others - new)
    line = (
        f"{meeting.name}: the bottom riser becomes {format_length(new, unit)}, "
        f"{told_thickness(change, unit)} off the others."
    )
    if change <= RISER.value:
        return line, None, None
    message = f"{told_thickness(change, unit)} between risers; {told_limit(RISER, unit)}"
    remedy = "People fall on uneven stairs: ask your building department before you lay."
    return line, Finding("riser-changed", meeting.name, message, remedy), None
