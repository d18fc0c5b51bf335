"""Where things stand in the picture of a board: large for the screen, small for a card on paper."""

from dataclasses import dataclass

from plankwright.drawing.scene import Point

SHEET_MM = (190.0, 122.0)
CARD_WIDE_MM, RIPPED_WIDE_MM = 104.0, 112.0  # of the small pictures


@dataclass(frozen=True, slots=True)
class BoardFormat:
    """Where things stand in the picture; distances off the board's edges [mm]."""

    sheet: tuple[float, float]
    board: tuple[float, float]
    left: float
    top: float
    end_words: float
    away_words: float  # above the board
    toward_words: float  # below it
    over: float  # the upper length's line
    under: float  # the lower length's line
    wide_left: float  # a width's line
    wide_right: float
    small: bool = False

    @property
    def right(self) -> float:
        """The board's right end."""
        return self.left + self.board[0]

    @property
    def bottom(self) -> float:
        """The board's lower edge."""
        return self.top + self.board[1]

    @property
    def middle(self) -> Point:
        """The middle of the board."""
        return self.left + self.board[0] / 2.0, self.top + self.board[1] / 2.0


FULL = BoardFormat(SHEET_MM, (136.0, 34.0), 27.0, 46.0, 8.0, 10.5, 10.5, 18.0, 27.0, 14.0, 19.0)


def card_format(*, angled: bool, ripped: bool, cut: bool) -> BoardFormat:
    """As small as 14-point words and a 24-point length allow: beside the words of a card."""
    wide, left = (RIPPED_WIDE_MM, 20.0) if ripped else (CARD_WIDE_MM, 14.0)
    top = 21.5 if angled else 10.5
    board = (wide - 2.0 * left, 20.0)
    high = top + board[1] + (21.0 if cut or angled else 10.0)
    return BoardFormat(
        (wide, high), board, left, top, 7.0, 6.5, 6.5, 11.5, 18.5, 11.5, 16.5, small=True
    )
