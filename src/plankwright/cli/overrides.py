"""What was typed on the command line in place of what stands in the job."""

from dataclasses import dataclass, replace
from typing import cast, get_args

from plankwright.errors import InputError
from plankwright.files.job_board import Lock, read_row_angle
from plankwright.files.suggest import nearest_words
from plankwright.model.board import Board, Laid
from plankwright.model.job import ASSUMED_BOARD, Job
from plankwright.model.rules import Rules
from plankwright.model.wishes import Prefer, Wishes
from plankwright.units import Unit, parse_length, parse_size, told_in


@dataclass(frozen=True, slots=True)
class Overrides:
    """Options as they were typed; None keeps the job's own. Bare numbers are in the job's unit."""

    board: str | None = None
    per_pack: int | None = None
    lock: str | None = None
    gap: str | None = None
    kerf: str | None = None
    allowance: str | None = None
    shortest: str | None = None
    offset: str | None = None
    narrowest: str | None = None
    row_angle: str | None = None
    first_row: str | None = None
    laid: str | None = None
    prefer: str | None = None
    spend: int | None = None

    def applied_to(self, job: Job) -> Job:
        """The job with these in place of its own."""
        with told_in(job.unit):
            return replace(
                job,
                board=self._board(job.board, job.unit),
                rules=self._rules(job.rules, job.unit),
                wishes=self._wishes(job.wishes, job.unit),
                findings=tuple(f for f in job.findings if f != ASSUMED_BOARD or self.board is None),
            ).with_lock_for_wish()

    def _board(self, board: Board, unit: Unit) -> Board:
        if self.board is not None:
            length, width = parse_size(self.board, unit, where="--board")
            board = replace(board, length_mm=float(length), width_mm=float(width))
        if self.per_pack is not None:
            board = replace(board, per_pack=self.per_pack)
        if self.lock is not None:
            lock = _one_of(self.lock, get_args(Lock), "--lock")
            board = replace(board, reversible=lock == "reversible")
        return board

    def _rules(self, rules: Rules, unit: Unit) -> Rules:
        typed = {
            "gap_mm": ("--gap", self.gap),
            "kerf_mm": ("--kerf", self.kerf),
            "allowance_mm": ("--allowance", self.allowance),
            "shortest_piece_mm": ("--shortest", self.shortest),
            "joint_offset_mm": ("--offset", self.offset),
            "narrowest_row_mm": ("--narrowest", self.narrowest),
        }
        lengths = {
            field: float(parse_length(text, unit, where=option))
            for field, (option, text) in typed.items()
            if text is not None
        }
        return replace(rules, **lengths)

    def _wishes(self, wishes: Wishes, unit: Unit) -> Wishes:
        if self.row_angle is not None:
            wishes = replace(wishes, row_angle_deg=None, row_wall=None)
            wishes = replace(wishes, **read_row_angle(self.row_angle, "--row-angle"))
        if self.first_row is not None:
            auto = self.first_row == "auto"
            width = None if auto else float(parse_length(self.first_row, unit, where="--first-row"))
            wishes = replace(wishes, first_row_mm=width)
        if self.laid is not None:
            laid = _one_of(self.laid, get_args(Laid), "--laid")
            wishes = replace(wishes, laid="left-to-right" if laid[0] == "l" else "right-to-left")
        if self.prefer is not None:
            prefer = _one_of(self.prefer, get_args(Prefer), "--prefer")
            wishes = replace(wishes, prefer=cast(Prefer, prefer))
        if self.spend is not None:
            wishes = replace(wishes, spend_boards=self.spend)
        return wishes


def _one_of(word: str, known: tuple[str, ...], option: str) -> str:
    if word not in known:
        raise InputError(
            "not one of the words known here",
            where=option,
            value=word,
            remedy=nearest_words(word, known),
        )
    return word
