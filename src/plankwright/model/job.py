"""The job: everything a person wrote down before the first board is cut."""

import math
from dataclasses import dataclass, field, replace

from plankwright.errors import InputError
from plankwright.model.board import Board, Hand
from plankwright.model.findings import Finding
from plankwright.model.limits import Limits
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.survey import Survey
from plankwright.model.wishes import Wishes
from plankwright.units import Unit, at_most

# The usual size of a laminate board in the trade; every job should say its own.
USUAL_BOARD = Board(1285.0, 192.0)
ASSUMED_BOARD = Finding(
    "assumed-board",
    "board",
    "the job names no board, so the usual size of 1285 x 192 mm was taken",
    "Measure your board's face and write it under [board].",
)


ASSUMED_LOCK = Finding(
    "assumed-lock",
    "board.tongue_end",
    "the job does not say which end of the board has the tongue, so boards were assumed whose lock "
    "closes in the laying direction that you asked for",
    "Hold a board with its start side away from you, look which end has the tongue, and write it "
    "under [board].",
)


@dataclass(frozen=True, slots=True)
class Job:
    """A room, a board, the rules on its leaflet and the person's wishes.

    Parameters
    ----------
    room : what is to be floored.
    board, rules, wishes : how.
    unit : unit of the lengths that are printed, and of bare numbers that were read.
    name : how the person calls the job.
    survey : the tape survey that the room was computed from, if it was.
    findings : what is odd in the job.
    knows_tongue_end : whether the person said which end of the board has the tongue.
    limits : how far the floor may float, and where the leaflet wants breaks.
    """

    room: Room
    board: Board = USUAL_BOARD
    rules: Rules = field(default_factory=Rules)
    wishes: Wishes = field(default_factory=Wishes)
    unit: Unit = "mm"
    name: str = "room"
    survey: Survey | None = None
    findings: tuple[Finding, ...] = ()
    knows_tongue_end: bool = False
    limits: Limits = field(default_factory=Limits)

    def __post_init__(self) -> None:
        self._require_walls()
        self._require_room_for_board()
        length, width = self.board.length_mm, self.board.width_mm
        rules, wishes = self.rules, self.wishes
        _require_at_most("rules.shortest_piece", rules.shortest_piece_mm, length, "a board")
        _require_at_most("rules.joint_offset", rules.joint_offset_mm, length / 2, "half a board")
        _require_at_most("rules.narrowest_row", rules.narrowest_row_mm, width, "a board's width")
        _require_at_most("laying.first_row", wishes.first_row_mm or 0.0, width, "a board's width")

    def with_lock_for_wish(self) -> "Job":
        """The same job with a board that fits the wished laying direction, if none was described.

        Mirrored products exist: what was assumed is said in a finding.
        """
        laid, board = self.wishes.laid, self.board
        if laid is None or self.knows_tongue_end or board.reversible:
            return self
        findings = tuple(finding for finding in self.findings if finding != ASSUMED_LOCK)
        near: Hand = "left" if laid == "left-to-right" else "right"
        return replace(
            self,
            board=replace(board, tongue_end=near),
            findings=(*findings, ASSUMED_LOCK),
        )

    def _require_walls(self) -> None:
        walls = [edge.name for edge in self.room.edges()]
        wished = {
            "row_angle": self.wishes.row_wall,
            "start_wall": self.wishes.start_wall,
            "window_wall": self.wishes.window_wall,
        }
        for key, wall in wished.items():
            if wall is not None and wall not in walls:
                raise InputError(
                    "there is no such wall",
                    where=f"laying.{key}",
                    value=wall,
                    remedy=f"Walls here: {', '.join(walls[:12])}.",
                )

    def _require_room_for_board(self) -> None:
        across = _width_mm(self.room)
        if self.board.width_mm > across:
            raise InputError(
                "the board is wider than the room, which is {0} across",
                lengths_mm=(across,),
                where="board.width",
                value_mm=self.board.width_mm,
                remedy="Check the board's width, the room's corners and their units.",
            )


def _require_at_most(where: str, length_mm: float, limit_mm: float, what: str) -> None:
    if not at_most(length_mm, limit_mm):
        raise InputError(
            f"longer than {what}, which is {{0}}: no row can keep that",
            lengths_mm=(limit_mm,),
            where=where,
            value_mm=length_mm,
            remedy="Give a smaller one, or check the unit and the board's size.",
        )


def _width_mm(room: Room) -> float:
    """The shorter side of the smallest rectangle round the room [mm]."""
    a, b, c, *_ = room.outline.minimum_rotated_rectangle.exterior.coords
    return min(math.dist(a, b), math.dist(b, c))
