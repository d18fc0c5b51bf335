"""What a person wrote down about buying: prices, sizes in the store, spares, tools."""

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

from plankwright.errors import InputError
from plankwright.model.roll import Roll, Sheeting
from plankwright.model.toolbox import Rates, Toolbox
from plankwright.model.trim import StockLength, Trim

SPOIL_RATES = (Fraction(3, 100), Fraction(5, 100), Fraction(8, 100))
"""Shown side by side, since nobody knows his own."""


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices of one, each optional, and what is paid beside them.

    Parameters
    ----------
    currency : a word printed after amounts.
    tax_pct : on everything; 0 when prices hold it already.
    trip : what a second trip to the store costs: fuel, time, a day lost.
    things : price of any other line by its item, as pairs.
    """

    currency: str = ""
    tax_pct: Decimal = Decimal(0)
    pack: Decimal | None = None
    trip: Decimal | None = None
    things: tuple[tuple[str, Decimal], ...] = ()


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything about buying.

    Parameters
    ----------
    trim : at the walls.
    film, pad : vapor barrier and underlayment; None when none is to be bought.
    tape : for the seams of both.
    strips : lengths in which transitions are sold.
    spares : boards kept for repair; None for one pack (common practice).
    accept : the highest chance of running short that is put up with at the middle spoil rate.
    assumed : sizes that the person did not give, in words.
    """

    trim: Trim
    film: Sheeting | None
    pad: Sheeting | None
    tape: Roll
    strips: tuple[StockLength, ...]
    prices: Prices = field(default_factory=Prices)
    spares: int | None = None
    accept: Fraction = Fraction(1, 10)
    toolbox: Toolbox = field(default_factory=Toolbox)
    rates: Rates = field(default_factory=Rates)
    spacing_mm: float = 450.0
    cuts_per_blade: int = 200
    assumed: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.spares is not None and not 0 <= self.spares <= 10_000:
            raise InputError(
                "spares are from 0 to 10000",
                where="buy.spares",
                value=self.spares,
                remedy="Write how many boards you keep for repair.",
            )
        if not 0 < self.accept < 1:
            raise InputError(
                "must lie between 0 and 100 %",
                where="buy.accept",
                value=float(self.accept) * 100,
                remedy="Write 10 for one job in ten.",
            )
        if not 50.0 <= self.spacing_mm <= 5000.0:
            raise InputError(
                "spacers stand {0} to {1} apart",
                lengths_mm=(50.0, 5000.0),
                where="buy.spacing",
                value_mm=self.spacing_mm,
                remedy="Usual is one or two feet, 300 to 600 mm.",
            )
        if not 1 <= self.cuts_per_blade <= 100_000:
            raise InputError(
                "must be from 1 to 100000",
                where="buy.cuts_per_blade",
                value=self.cuts_per_blade,
                remedy="Write after how many cuts a blade is dull.",
            )

    def spare_boards(self, per_pack: int) -> int:
        """Boards kept for repair."""
        return per_pack if self.spares is None else self.spares
