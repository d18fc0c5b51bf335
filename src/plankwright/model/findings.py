"""Findings: what is odd in a person's data or in a plan, said with a place and a remedy.

On screen and paper a finding is called *check this*.
"""

from dataclasses import dataclass

from plankwright.errors import PlankwrightError

# Every code there is, with the sentence the reference page prints for it.
CODES: dict[str, str] = {
    # the room and the floor
    "floor-vanishes": "The gaps leave no floor at all.",
    "floor-split": "The gaps part the room into floors that are planned one by one.",
    "floor-part-dropped": "A scrap of floor too small to cover was left out.",
    "ring-piece": "A piece goes all round a fixed thing: it needs a relief cut to be slipped on.",
    # rows and pieces
    "narrow-row": "A row or part of one is narrower than the narrowest row.",
    "short-stretch": "A stretch is itself shorter than the shortest piece.",
    "short-piece": "A piece is shorter than the shortest piece; no legal place for its joint.",
    "joint-offset": "End joints of neighboring rows lie closer than the joint offset.",
    "gap-uncovered": "A gap is wider than what the trim covers.",
    # the board
    "lay-direction": "The laying direction was changed to the one in which the lock closes.",
    # the search
    "time-limit": "The search was stopped by the time limit; the best plan so far was kept.",
}


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the program noticed.

    Parameters
    ----------
    code : one of :data:`CODES`.
    where : the place, such as a piece id ``"7.1.2"``, an edge ``"A-B"`` or a job-file field.
    message : what is odd, in a sentence with its figures.
    remedy : what to do about it; may be empty when nothing needs doing.
    """

    code: str
    where: str
    message: str
    remedy: str = ""

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise PlankwrightError(f"unknown finding code {self.code!r}; add it to findings.CODES")
