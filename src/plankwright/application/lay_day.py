"""Use case: a laying day. The plan that is laid, its cards, and the log of what happened."""

from dataclasses import dataclass

from plankwright.errors import InputError
from plankwright.guide.card_events import done_of
from plankwright.guide.cards import Card, cards_of, next_card
from plankwright.guide.checks import Check, due_check
from plankwright.guide.events import What
from plankwright.guide.laying_log import LayingLog, log_of
from plankwright.guide.laying_state import LayingState
from plankwright.model.plan import Plan


@dataclass(frozen=True, slots=True)
class Day:
    """A floor that is being laid.

    Parameters
    ----------
    plan : the revision that is laid now.
    cards : its cards, in laying order.
    log : what happened so far.
    """

    plan: Plan
    cards: tuple[Card, ...]
    log: LayingLog

    @property
    def state(self) -> LayingState:
        """What lies and what is at hand."""
        return self.log.state

    def card(self, piece: str) -> Card:
        """The card of a piece.

        Raises
        ------
        InputError : the plan has no such piece.
        """
        for card in self.cards:
            if card.piece == piece:
                return card
        raise InputError(
            "the plan has no such piece",
            where="piece",
            value=piece,
            remedy="Pieces are called row.stretch.seat, such as 3.1.2, as on the drawing.",
        )


@dataclass(frozen=True, slots=True)
class NextStep:
    """The next step and only that: a check that is due, else a card, else nothing."""

    check: Check | None
    card: Card | None
    in_hand: bool = False  # its piece is cut already
    cards_left: int = 0


def day_of(plan: Plan, log: LayingLog | None = None) -> Day:
    """The day of a plan, with nothing done where no log is given."""
    return Day(plan, cards_of(plan), log or log_of((), board_size(plan)))


def board_size(plan: Plan) -> tuple[float, float]:
    """Length and width of a new board, to 0.001 mm as events keep them."""
    return round(plan.board.length_mm, 3), round(plan.board.width_mm, 3)


def next_step(day: Day) -> NextStep:
    """What comes next on a day."""
    card = next_card(day.cards, day.state.laid)
    return NextStep(
        check=due_check(day.plan, day.cards, day.state),
        card=card,
        in_hand=card is not None and card.piece in day.state.hand,
        cards_left=sum(card.piece not in day.state.laid for card in day.cards),
    )


def step_done(day: Day, piece: str = "", *, pack: str = "") -> tuple[What, ...]:
    """What is written down when a card, the next one where none is named, is done.

    Raises
    ------
    InputError : nothing is left to lay, or the plan has no such piece.
    """
    card = day.card(piece) if piece else next_card(day.cards, day.state.laid)
    if card is None:
        raise InputError("every piece lies; nothing is left to do", where="piece")
    return done_of(card, day.state, pack=pack)
