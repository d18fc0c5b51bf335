"""The rules of the leaflet and of good practice, as lengths."""

import math
from dataclasses import dataclass, fields

from plankwright.errors import InputError


@dataclass(frozen=True, slots=True)
class Rules:
    """What a plan must keep. All lengths in millimeters.

    Parameters
    ----------
    gap_mm : expansion gap at walls and fixed things that name none of their own.
    kerf_mm : the width the saw takes.
    allowance_mm : what a piece cut to a real wall may differ from the plan; kept, beside the
        kerf, between two pieces cut from one board.
    shortest_piece_mm : no piece shorter, except where the stretch itself is shorter.
    joint_offset_mm : least distance along the row between end joints of neighboring rows.
    narrowest_row_mm : no first, last or partial row narrower.
    trim_cover_mm : the widest gap that the trim still covers.
    least_gap_mm : the least gap that the leaflet allows; None where only the planned one is known.
    """

    gap_mm: float = 8.0
    kerf_mm: float = 3.0
    allowance_mm: float = 3.0
    shortest_piece_mm: float = 300.0
    joint_offset_mm: float = 300.0
    narrowest_row_mm: float = 50.0
    trim_cover_mm: float = 16.0
    least_gap_mm: float | None = None

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if value is None:
                continue
            if not (math.isfinite(value) and 0.0 <= value <= 10_000.0):
                raise InputError(
                    "must be from 0 to {0}",
                    lengths_mm=(10_000.0,),
                    where="rules." + field.name.removesuffix("_mm"),
                    value_mm=value,
                    remedy="Check the number and its unit.",
                )

        if self.least_gap_mm is not None and self.least_gap_mm > self.gap_mm:
            raise InputError(
                "must not be above the planned gap",
                where="rules.least_gap",
                value_mm=self.least_gap_mm,
                remedy="Plan a wider gap, or read the least one off the leaflet again.",
            )

    @property
    def least_mm(self) -> float:
        """The least gap: the leaflet's, or the planned one where that is not known [mm]."""
        return self.gap_mm if self.least_gap_mm is None else self.least_gap_mm

    @property
    def cut_mm(self) -> float:
        """Kerf and allowance together: what must stay between two pieces along one board."""
        return self.kerf_mm + self.allowance_mm
