"""What is odd in the rows of a plan: slivers, short stretches, joints that could not be legal."""

from collections.abc import Sequence

from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import Stretch
from plankwright.geometry.slabs import narrow_runs
from plankwright.model.findings import Finding
from plankwright.model.plan import Piece
from plankwright.model.rules import Rules

SAME_MM = 0.01


def inspect_pieces(
    stretches: Sequence[Stretch], pieces: Sequence[Piece], rules: Rules, frame: Frame
) -> tuple[Finding, ...]:
    """A finding for every piece that breaks a length or width rule, with its reason."""
    by_seat = {(stretch.row, stretch.number): stretch for stretch in stretches}
    narrow = {key: _narrow_parts(stretch, rules) for key, stretch in by_seat.items()}
    found: list[Finding] = []
    for piece in pieces:
        stretch = by_seat[piece.row, piece.stretch]
        found += _length_finding(piece, stretch, rules)
        runs = narrow[piece.row, piece.stretch]
        if runs:
            u0, _, u1, _ = frame.to_plan(piece.outline).bounds
            runs = [run for run in runs if run[0] < u1 - SAME_MM and run[1] > u0 + SAME_MM]
        found += _width_finding(piece, runs, rules)
        if piece.outline.interiors:
            found.append(
                Finding(
                    "ring-piece",
                    piece.id,
                    "this piece goes all round a fixed thing",
                    "Saw it through beside the hole, lay both parts round it and glue that cut.",
                )
            )
    return tuple(found)


def _length_finding(piece: Piece, stretch: Stretch, rules: Rules) -> list[Finding]:
    if piece.length_mm >= rules.shortest_piece_mm - SAME_MM:
        return []
    if stretch.length < rules.shortest_piece_mm:
        return [
            Finding(
                "short-stretch",
                piece.id,
                f"the row is only {stretch.length:.0f} mm long here",
                "Nothing to do: one short piece fills it.",
            )
        ]
    return [
        Finding(
            "short-piece",
            piece.id,
            f"{piece.length_mm:.0f} mm, where {rules.shortest_piece_mm:.0f} mm is the least; "
            "no joint of this stretch is legal",
            "Glue its end joint if the leaflet allows it, or accept a smaller shortest piece.",
        )
    ]


def _narrow_parts(stretch: Stretch, rules: Rules) -> list[tuple[float, float]]:
    """Runs of a stretch longer than the shortest piece that are narrower than allowed."""
    if stretch.is_rectangle:
        u0, v0, u1, v1 = stretch.polygon.bounds
        return [(u0, u1)] if v1 - v0 < rules.narrowest_row_mm - SAME_MM else []
    runs = narrow_runs(stretch.slabs(), rules.narrowest_row_mm - SAME_MM)
    return [run for run in runs if run[1] - run[0] > rules.shortest_piece_mm]


def _width_finding(
    piece: Piece, runs: Sequence[tuple[float, float]], rules: Rules
) -> list[Finding]:
    narrow = piece.width_mm < rules.narrowest_row_mm - SAME_MM
    if not (narrow or runs):
        return []
    return [
        Finding(
            "narrow-row",
            piece.id,
            f"row {piece.row} is narrower than {rules.narrowest_row_mm:.0f} mm here",
            "Shift the start line or turn the rows; a sliver must be glued if it stays.",
        )
    ]
