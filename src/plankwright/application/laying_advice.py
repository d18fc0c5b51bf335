"""Use case: put a plan in its laying order, and say what to know before the first board goes in.

What is said stands in the plan's findings: start lines that must be true to each other, rows laid
backwards, pieces that cannot be tilted in, rows too long for one person, the way out of the room.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import cast

from shapely import LineString

from plankwright.application.merits import Handling
from plankwright.errors import InputError
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan
from plankwright.model.room import Doorway, Room
from plankwright.model.wishes import Wishes
from plankwright.plan.awkward import Awkward
from plankwright.plan.laying_order import LayingOrder, Start, in_order, order_plan
from plankwright.plan.turned_rows import spline_mm
from plankwright.units import Unit, format_length

AT_DOOR_MM = 30.0  # floor this near to a doorway's opening, beyond its gap, lies at it
EARLY = 0.5  # of the pieces: a way out that is reached before is walked over while laying


def laid_out(plan: Plan, room: Room, wishes: Wishes | None = None) -> Plan:
    """The plan in its laying order, with what is to be known about it among its findings.

    Raises
    ------
    InputError : a wished first row or way out does not exist, or cannot be.
    """
    wishes = wishes or Wishes()
    order = order_plan(plan, wishes)
    told = tuple(order_findings(plan, order)) + way_out_findings(plan, order, room, wishes)
    return replace(in_order(plan, order), findings=(*plan.findings, *told))


def count_handling(plan: Plan) -> Handling:
    """What is awkward about laying a plan, as choices count it; the plan need not be in order."""
    order = order_plan(plan)
    return Handling(len(order.awkward), order.rows_backwards, max(len(order.starts) - 1, 0))


def order_findings(plan: Plan, order: LayingOrder) -> Iterator[Finding]:
    """What is awkward about a laying order."""
    unit = cast(Unit, plan.unit)
    for start in order.starts[1:]:
        if start.meets_row is not None:
            yield _second_start(order.starts[0], start, start.meets_row, unit)
    if any(row.turned for row in order.rows):
        yield _rows_turned(plan, order, unit)
    elif order.rows:
        rows = [row.row for row in order.rows]
        yield Finding(
            "row-backwards",
            f"row {max(rows)}",
            f"{_rows(rows)} {'is' if len(set(rows)) == 1 else 'are'} laid backwards, joined on the "
            "room side: the groove is pushed on to the tongue that lies there",
            f"Snap a line for row {order.starts[0].row} first, and check that row with it before "
            "anything hangs on it.",
        )
    for awkward in order.awkward:
        yield _cannot_be_tilted(awkward, unit)
    if order.too_long:
        yield Finding(
            "row-too-long",
            f"row {order.too_long[0]}",
            f"{_rows(order.too_long)} must be put together at the ends and then tilted in as a "
            "whole, longer than one person can",
            "Be two for these rows, or hold the far end up on blocks; or run the rows the short "
            "way.",
        )
    if order.stop is not None:
        yield Finding(
            "stop-line",
            f"row {order.stop.after_row}",
            f"the furniture's half: {order.stop.share:.0%} of the floor lies before the joint "
            f"after row {order.stop.after_row}",
            "Lay up to that joint, clean its lock, move the furniture over on felt and boards, "
            "and go on.",
        )


def way_out_findings(
    plan: Plan, order: LayingOrder, room: Room, wishes: Wishes
) -> tuple[Finding, ...]:
    """When the floor reaches the door by which one leaves.

    Raises
    ------
    InputError : no doorway is called so.
    """
    if wishes.way_out is None or not order.sequence:
        return ()
    doorway = _doorway(room, wishes.way_out)
    share = reached_at(plan, order, room, doorway)
    name = doorway.name or f"the doorway in {doorway.edge}"
    if share >= EARLY:
        message = f"the floor reaches {name} after {share:.0%} of the pieces: you leave behind you"
        return (Finding("way-out", doorway.edge, message, ""),)
    return (
        Finding(
            "way-out",
            doorway.edge,
            f"the floor lies at {name} after {share:.0%} of the pieces: what comes in after that "
            "is carried over it",
            "Cover the new floor there, keep the packs in the room, or start from another wall.",
        ),
    )


def reached_at(plan: Plan, order: LayingOrder, room: Room, doorway: Doorway) -> float:
    """Share of the pieces that lie when the first one lies at a doorway; 1 when none ever does."""
    edge = next(edge for edge in room.edges() if edge.name == doorway.edge)
    wall = LineString([edge.start, edge.end])
    first, last = (
        wall.interpolate(at)
        for at in (doorway.from_corner_mm, doorway.from_corner_mm + doorway.width_mm)
    )
    gap = dict(plan.edges).get(doorway.edge, plan.rules.gap_mm)
    opening = LineString([first, last]).buffer(gap + AT_DOOR_MM, cap_style="flat")
    at_door = {piece.id for piece in plan.pieces if piece.outline.intersects(opening)}
    for number, name in enumerate(order.sequence):
        if name in at_door:
            return number / len(order.sequence)
    return 1.0


def _doorway(room: Room, name: str) -> Doorway:
    for doorway in room.doorways:
        if name in (doorway.name, doorway.edge):
            return doorway
    known = ", ".join(doorway.name or doorway.edge for doorway in room.doorways)
    raise InputError(
        "there is no such doorway",
        where="laying.way_out",
        value=name,
        remedy=f"Doorways here: {known}." if known else "Describe it under [[room.door]].",
    )


def _second_start(first: Start, start: Start, meets: int, unit: Unit) -> Finding:
    here = f"row {start.row}" + (f", stretch {start.stretch}" if start.stretch > 1 else "")
    if meets == start.row:
        message = (
            f"{here} is {format_length(start.length_mm, unit)} long and hangs on a short piece of "
            "the row before it, which does not keep it straight"
        )
        remedy = (
            f"Snap a line for row {start.row} first and set row {first.row} parallel to it; put "
            "spacers along the rest of its wall."
        )
    else:
        message = f"{here} lies apart from row {first.row} until row {meets} joins what was laid"
        remedy = (
            f"Snap one line for both, parallel to row {first.row}, and measure across from it "
            "after every row until they are joined."
        )
    return Finding("second-start", here, message, remedy)


def _rows_turned(plan: Plan, order: LayingOrder, unit: Unit) -> Finding:
    """Rows beyond a spline, how long it is, and what to know before it goes in."""
    rows = [row.row for row in order.rows]
    one = len(set(rows)) == 1
    length = format_length(spline_mm(replace(plan, rows=order.rows)), unit, rounding="up")
    return Finding(
        "row-turned",
        f"row {max(rows)}",
        f"{_rows(rows)} {'lies' if one else 'lie'} turned end for end beyond a spline of {length} "
        f"in the groove of row {order.starts[0].row}, and {'is' if one else 'are'} laid last, back "
        "toward the start wall",
        f"Snap a line for row {order.starts[0].row} first. Lay all rows from there to the far "
        "wall; then set the spline, glued if the leaflet says so, stand on the floor that lies, "
        "and lay these rows like any other, facing the start wall.",
    )


def _cannot_be_tilted(awkward: Awkward, unit: Unit) -> Finding:
    needs = format_length(awkward.needs_mm, unit, rounding="up")
    clear = format_length(awkward.clearance_mm, unit, rounding="down")
    return Finding(
        "piece-awkward",
        awkward.piece,
        f"cannot be tilted in under the {awkward.under}: that takes {needs} of height, and there "
        f"is {clear}",
        " If that cannot be: ".join(awkward.remedies),
    )


def _rows(rows: list[int] | tuple[int, ...]) -> str:
    """Rows in words: ``row 3``, ``rows 1 to 4``, ``rows 2, 5 and 7``.

    >>> _rows([3]), _rows([1, 2, 3, 4]), _rows([7, 2, 5])
    ('row 3', 'rows 1 to 4', 'rows 2, 5 and 7')
    """
    found = sorted(set(rows))
    if len(found) == 1:
        return f"row {found[0]}"
    if found[-1] - found[0] + 1 == len(found):
        return f"rows {found[0]} to {found[-1]}"
    return f"rows {', '.join(map(str, found[:-1]))} and {found[-1]}"
