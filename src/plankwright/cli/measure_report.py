"""What a person reads after measuring: what to check, the lengths, the corners, what comes next."""

import math
from collections.abc import Sequence
from dataclasses import asdict, is_dataclass
from typing import Any, Literal

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from plankwright.application.measure_in_place import InPlace
from plankwright.application.measured_room import MeasuredLength, MeasuredRoom
from plankwright.application.survey_findings import error_words, proposal_words
from plankwright.units import format_area, format_length

MOST_PIECES = 12
WORDY = "Out of square"  # the column whose words give way
ORDERS = {
    False: "Facing wall {wall} from inside, {corner} is at your right hand "
    '(order = "anticlockwise"); if it is not, write order = "clockwise".',
    True: 'Facing wall {wall} from inside, {corner} is at your left hand (order = "clockwise").',
}
STATUS = {
    "measured": "measured",
    "assumed": "partly assumed: corners were taken as square",
    "unknown": "not known yet: a wall is a guess",
}


def print_report(
    room: MeasuredRoom,
    name: str,
    pieces: Sequence[InPlace] = (),
    *,
    planned: bool = False,
    console: Console | None = None,
) -> None:
    """The report on a terminal."""
    console = console or Console()
    console.print(Text(name, style="bold"))
    _print_grid(console, summary_lines(room))
    if room.findings:
        console.print(Text("\nCheck this", style="bold red"))
        for finding in room.findings:
            text = Text(finding.message[:1].upper() + finding.message[1:] + ".")
            text.append(f" {finding.remedy}" if finding.remedy else "", style="dim")
            console.print(Padding(text, (0, 0, 0, 2)))
    _print_table(console, "Lengths", _lengths_table(room))
    _print_table(console, "Corners", _corners_table(room))
    if room.tapers:
        console.print(Text("\nTaper", style="bold"))
        lines = [(f"{t.wall} to {t.facing}", _taper(room, i)) for i, t in enumerate(room.tapers)]
        _print_grid(console, lines)
    if room.square_checks:
        console.print(Text("\n3-4-5 check", style="bold"))
        for i in range(len(room.square_checks)):
            console.print(Padding(Text(square_words(room, i)), (0, 0, 0, 2)))
    if room.proposals:
        console.print(Text("\nMeasure next, what helps most first", style="bold"))
        for number, proposal in enumerate(room.proposals, start=1):
            words = f"{number}. {proposal_words(proposal, room.unit)}"
            console.print(Padding(Text(words), (0, 0, 0, 2)))
    if planned:
        _print_pieces(console, room, pieces)


def summary_lines(room: MeasuredRoom) -> list[tuple[str, str]]:
    """The figures at a glance, as pairs of a name and what it comes to."""
    worst = max(room.corners, key=lambda corner: corner.ellipse.major_mm)
    lines = [
        ("Room", f"{STATUS[room.status]}; {format_area(room.outline.area / 1e6, room.unit)}"),
        ("Worst corner", f"{worst.name}, known to {error_words(room.worst_mm, room.unit)} (95 %); "
                         f"gap and trim hide {error_words(room.enough_mm, room.unit)}"),
        ("Agreement", _agreement(room)),
    ]  # fmt: skip
    if room.closing is not None:
        gap = error_words(room.closing.gap, room.unit)
        one_in = "" if math.isinf(room.closing.one_in) else f", 1 in {room.closing.one_in:.0f}"
        lines.append(("Closing error", f"{gap} round the walls at the believed angles{one_in}"))
    wall = f"{room.corners[0].name}-{room.corners[1].name}"
    order = ORDERS[room.survey.clockwise].format(wall=wall, corner=room.corners[0].name)
    lines.append(("Corners", order))
    return lines


def _agreement(room: MeasuredRoom) -> str:
    if room.freedom < 1:
        return "nothing was measured twice: no length checks another"
    return (
        f"the lengths differ {room.s0:.1f} times as much as such a tape is expected to err "
        f"({room.freedom} more than needed)"
    )


def square_words(room: MeasuredRoom, number: int) -> str:
    """The 3-4-5 check at a corner, as an instruction."""
    check, unit = room.square_checks[number], room.unit
    return (
        f"{check.corner}: mark {format_length(check.before_mm, unit)} toward {check.toward_before} "
        f"and {format_length(check.after_mm, unit)} toward {check.toward_after}. Square is "
        f"{format_length(check.square_mm, unit)} from mark to mark; "
        f"here expect {format_length(check.expected_mm, unit)}."
    )


def _taper(room: MeasuredRoom, number: int) -> str:
    taper, unit = room.tapers[number], room.unit
    start, end = taper.wall.split("-")
    return (
        f"{format_length(taper.near_mm, unit)} at {start}, {format_length(taper.far_mm, unit)} at "
        f"{end}: {format_length(abs(taper.taper_mm), unit)} over "
        f"{format_length(taper.shared_mm, unit)}"
    )


def _lengths_table(room: MeasuredRoom) -> Table:
    table = _table("Length", "Measured", "Adjusted", "Off by", "A slip unseen up to", "")
    for length in (*room.lengths, *room.walls_missing):
        table.add_row(*_length_row(room, length))
    return table


def _length_row(room: MeasuredRoom, length: MeasuredLength) -> list[str]:
    unit = room.unit
    if math.isnan(length.measured_mm):
        return [length.name, "not measured", format_length(length.adjusted_mm, unit), "", "", ""]
    unseen = "any" if math.isinf(length.unseen_mm) else error_words(length.unseen_mm, unit)
    return [
        length.name,
        format_length(length.measured_mm, unit),
        format_length(length.adjusted_mm, unit),
        format_length(length.measured_mm - length.adjusted_mm, unit),
        "" if math.isnan(length.unseen_mm) else unseen,
        "left out: measure again" if length.left_out else "",
    ]


def _corners_table(room: MeasuredRoom) -> Table:
    table = _table("Corner", "Angle", WORDY, "Known to", "x", "y")
    unit = room.unit
    for corner, angle in zip(room.corners, room.angles, strict=True):
        table.add_row(
            corner.name,
            f"{angle.degrees:.2f}° ±{1.96 * angle.sd_deg:.2f}",
            _square_words(room, corner.name, angle.first_mm, angle.second_mm),
            error_words(corner.ellipse.major_mm, unit),
            format_length(corner.x_mm, unit),
            format_length(corner.y_mm, unit),
        )
    for point in room.points:
        at = (format_length(point.x_mm, unit), format_length(point.y_mm, unit))
        table.add_row(point.name, "", "", error_words(point.ellipse.major_mm, unit), *at)
    return table


def _square_words(room: MeasuredRoom, corner: str, first_mm: float, second_mm: float) -> str:
    """``17 mm at the end of A-D``, over the shorter of the corner's walls."""
    before, after = room.survey.neighbors(corner)
    off_mm, far = min((first_mm, before), (second_mm, after), key=lambda pair: abs(pair[0]))
    way = "wide" if off_mm > 0.0 else "narrow"
    return f"{format_length(abs(off_mm), room.unit)} {way} over {corner}-{far}"


def _print_pieces(console: Console, room: MeasuredRoom, pieces: Sequence[InPlace]) -> None:
    console.print(Text("\nMeasure in place", style="bold"))
    if not pieces:
        words = "The survey knows every last piece to within the allowance."
        console.print(Padding(Text(words), (0, 0, 0, 2)))
        return
    unit = room.unit
    worst = error_words(max(piece.sure_mm for piece in pieces), unit)
    count = f"{len(pieces)} last pieces are" if len(pieces) > 1 else "One last piece is"
    told = f"{count} known worse than the allowance forgives, up to {worst}: cut to the wall."
    console.print(Padding(Text(told), (0, 0, 0, 2)))
    rows = [
        (f"row {p.row}, piece {p.piece}", f"{format_length(p.length_mm, unit)}, "
         f"known to {error_words(p.sure_mm, unit)}") for p in pieces[:MOST_PIECES]
    ]  # fmt: skip
    if len(pieces) > MOST_PIECES:
        rows.append((f"and {len(pieces) - MOST_PIECES} more", ""))
    _print_grid(console, rows)


def _table(*heads: str) -> Table:
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="dim")
    for number, head in enumerate(heads):
        side: Literal["left", "right"] = "left" if number in (0, 5) else "right"
        table.add_column(head, justify=side, no_wrap=head != WORDY)
    return table


def _print_table(console: Console, title: str, table: Table) -> None:
    console.print(Text(f"\n{title}", style="bold"))
    console.print(Padding(table, (0, 0, 0, 2), expand=False))


def _print_grid(console: Console, lines: Sequence[tuple[str, str]]) -> None:
    grid = Table.grid(padding=(0, 2))
    for name, words in lines:
        grid.add_row(name, Text(words))
    console.print(Padding(grid, (0, 0, 0, 2), expand=False))


def as_plain(room: MeasuredRoom, name: str, pieces: Sequence[InPlace] = ()) -> dict[str, Any]:
    """The same for machines: millimeters and degrees; what is not known is null."""
    fields = (
        "status", "is_sure", "worst_mm", "enough_mm", "s0", "freedom", "closing", "corners",
        "points", "lengths", "walls_missing", "angles", "tapers", "square_checks", "suspects",
        "telling", "proposals", "findings",
    )  # fmt: skip
    told = {field: _plain(getattr(room, field)) for field in fields}
    outline = [list(point) for point in room.outline.exterior.coords[:-1]]
    return {
        "name": name,
        "unit": room.unit,
        **told,
        "outline": outline,
        "edge_walls": list(room.edge_walls),
        "measure_in_place": _plain(pieces),
    }


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {key: _plain(part) for key, part in asdict(value).items()}
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(part) for part in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value
