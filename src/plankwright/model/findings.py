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
    "scrap": "A tip of floor under 1 cm², or a strip under 1 mm, is left open: it is no piece.",
    "ring-piece": "A piece goes all round a fixed thing: it needs a relief cut to be slipped on.",
    # rows and pieces
    "narrow-row": "A row or part of one is narrower than the narrowest row.",
    "short-stretch": "A stretch is itself shorter than the shortest piece.",
    "short-piece": "A piece is shorter than the shortest piece; no legal place for its joint.",
    "joint-offset": "End joints of neighboring rows lie closer than the joint offset.",
    "rules-conflict": "Rules that no plan was found to keep together, and what would help.",
    "rule-cost": "What keeping a rule costs in boards.",
    "gap-too-small": "A gap is narrower than the least one that the leaflet allows.",
    "gap-uncovered": "A gap is wider than what the trim covers.",
    # the laying order
    "second-start": "A row that nothing laid before holds straight needs a line of its own.",
    "row-backwards": "Rows are laid backwards, joined on their room side.",
    "row-turned": "Rows lie turned end for end beyond a spline.",
    "piece-awkward": "A piece cannot be tilted in because something hangs over it.",
    "row-too-long": "A row that is tilted in as a whole is too long for one person.",
    "stop-line": "Where to stop while furniture stays on the other half of the room.",
    "way-out": "When the floor reaches the door by which one leaves.",
    # expansion breaks
    "run-at-limit": "The floor is just as long as it may float.",
    "break-proposed": "Where an expansion break is to go.",
    # the board
    "assumed-board": "The job names no board; the usual size was taken.",
    "assumed-lock": "The job does not say which end has the tongue; a lock that fits was assumed.",
    "lay-direction": "The laying direction was changed to the one in which the lock closes.",
    # the slab and the air
    "reading-void": "A moisture reading was not taken as its procedure asks and does not count.",
    "reading-shallow": "A probe sits too shallow: it counts only when it reads too wet.",
    "reading-no-limit": "Nothing says what a reading of this kind may be.",
    "too-few-tests": "Fewer moisture readings than the slab's area asks for.",
    "dry-season": "No reading was taken in the wet season.",
    "film-unknown": "The vapor barrier's permeance is not known.",
    "film-too-open": "The vapor barrier is more open than a limit it is held against.",
    "second-barrier": "A second vapor barrier or pad that the leaflet does not take.",
    "out-of-range": "A value lies outside the published range of a formula; it was not used.",
    "condensation": "The slab is too near to the dew point of the room's air.",
    "room-climate": "The room's air is outside the limits for the boards.",
    "flatness-other-edge": "Gaps were read under another edge than the limit is for.",
    "heights-sparse": "Heights were read too far apart to trust what lies between them.",
    "pour-unsuitable": "Self-leveling compound does not suit the slab as it is.",
    "growth-over-gap": "The floor can grow by more than its gap.",
    "run-too-long": "The floor is longer than it may float without an expansion break.",
    "door-binds": "A door leaf touches the new floor.",
    "edge-to-trip": "The new floor ends higher or lower than a foot forgives.",
    "riser-changed": "The new floor makes a stair's bottom riser differ from the others.",
    # the tape survey
    "survey-blunder": "A measured length does not fit the others: measure it again.",
    "survey-belief": "A corner is not as square, or at the angle, as was believed.",
    "survey-assumed": "Too little was measured: corners were taken as square.",
    "survey-wall-missing": "A wall was not measured; its length follows from the others.",
    "survey-unknown": "Too little was measured: the length of a wall is a guess.",
    "survey-unchecked": "A slip in a measured length would go unseen.",
    "survey-two-shapes": "Two different rooms fit the same lengths.",
    "survey-rough": "The lengths disagree by more than the tape's usual error.",
    "survey-inexact": "A corner is not known as well as the gap and the trim can hide.",
    "survey-unit": "The room's size is unusual: check the unit of the lengths.",
    "survey-point": "A post or another point lies outside the room, or could be in two places.",
    # other people's drawings
    "import-took": "What was taken from a drawing, and why.",
    "import-left": "What was left of a drawing, and why.",
    "import-unit": "The drawing's header does not fit its sizes; another unit was taken.",
    "import-gap-closed": "Gaps and openings between walls were closed to find rooms.",
    "import-size": "A room's size as it is written in the drawing is not what is drawn.",
    "import-open": "Several names stand in one room: no wall is drawn between them.",
    "import-no-room": "A room's name stands where no walls enclose a room.",
    "import-damaged": "The drawing's file is damaged; what could be read was.",
    # buying
    "buy-assumed": "A size in the store was not given; the usual one was taken.",
    "buy-saw": "A saw is missing, or too short for the board.",
    "transition-unknown": "The heights at a doorway are not known, nor so its transition.",
    "price-unused": "A price names nothing that is on the list.",
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
