"""``[buy]``: prices, sizes in the store, spares, tools and rates of the job file."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema

from plankwright.application.film_advice import LAP_IN_MM, LAP_MM, UPTURN_IN_MM, UPTURN_MM
from plankwright.buying.tools import TOOL_NAMES
from plankwright.errors import InputError
from plankwright.files.source import parse_toml
from plankwright.files.suggest import nearest_words
from plankwright.files.table import Length, Table, described, read_table
from plankwright.model.buying import Buying, Prices
from plankwright.model.money import read_decimal, read_price
from plankwright.model.roll import Aim, Roll, Sheeting
from plankwright.model.toolbox import Rates, Toolbox
from plankwright.model.trim import Inside, Splice, StockLength, Trim, WallKind
from plankwright.units import Unit, format_length, told_in

_NUMBER = WithJsonSchema({"type": ["string", "number"]})
Price = Annotated[Decimal, BeforeValidator(lambda value: read_price(value, where="")), _NUMBER]
Percent = Annotated[
    Decimal,
    BeforeValidator(lambda value: read_decimal(value, where="", most=Decimal(100))),
    _NUMBER,
]
RATES = Rates()


class FilmRollTable(Table):
    """``[buy.film]``: the vapor barrier as it is sold and how it is to be laid."""

    wanted: bool = described("Whether one is bought.", True)
    width: Length | None = described(
        "Width of the roll; without it 2 m, or 10 ft.", None, unit="length",
        source="common practice",
    )  # fmt: skip
    length: Length | None = described(
        "Length on the roll; without it 25 m, or 25 ft.", None, unit="length",
        source="common practice",
    )  # fmt: skip
    lap: Length | None = described(
        "Lap of neighboring strips; without it 200 mm, or 8 in; leaflets run from 50 to 300 mm.",
        None, unit="length", source="leaflet",
    )  # fmt: skip
    end_lap: Length | None = described(
        "Lap where strips are joined end to end; without it the lap.", None, unit="length",
        source="leaflet",
    )  # fmt: skip
    upturn: Length | None = described(
        "Upturn at the walls; without it 75 mm, or 3 in.", None, unit="length", source="leaflet"
    )
    aim: Aim = described("What to save first.", "fewest rolls")
    joined: bool = described("A strip may be pieced together from two rolls.", True)
    side_up: str = described("Which side goes up, in the leaflet's words.", "", source="leaflet")
    price: Price | None = described("Price of a roll.", None)


class PadRollTable(Table):
    """``[buy.pad]``: the underlayment as it is sold; edge to edge, never doubled."""

    wanted: bool = described("Buy one; never where the board has a pad attached.", True)
    width: Length | None = described(
        "Width of the roll; without it 1 m, or 4 ft.", None, unit="length",
        source="common practice",
    )  # fmt: skip
    length: Length | None = described(
        "Length on the roll; without it 10 m, or 25 ft.", None, unit="length",
        source="common practice",
    )  # fmt: skip
    lap: Length = described(
        "Lap, if the leaflet wants one; pads are butted.", 0.0, unit="length", source="leaflet"
    )
    aim: Aim = described("What to save first.", "fewest rolls")
    joined: bool = described("A strip may be pieced together from two rolls.", True)
    side_up: str = described("Which side goes up, in the leaflet's words.", "", source="leaflet")
    price: Price | None = described("Price of a roll.", None)


class TapeTable(Table):
    """``[buy.tape]``: the tape for seams."""

    length: Length | None = described(
        "Length on the roll; without it 25 m, or 180 ft.", None, unit="length",
        source="common practice",
    )  # fmt: skip
    price: Price | None = described("Price of a roll.", None)


class StockTable(Table):
    """``[[buy.trim.stock]]``: a length trim is sold in; without any 2.4 m, or 8, 12 and 16 ft."""

    length: Length = described("The length.", unit="length", source="measured")
    price: Price | None = described("Price of one.", None)


class StripTable(Table):
    """``[[buy.transition]]``: a length transitions are sold in; without any 0.9 and 1.8 m, or 36
    and 72 in."""

    length: Length = described("The length.", unit="length", source="measured")
    price: Price | None = described("Price of one.", None)


class TrimTable(Table):
    """``[buy.trim]``: the trim that covers the gap."""

    name: str = described("What it is called in the store.", "quarter round")
    thickness: Length | None = described(
        "What it covers of the floor, from the wall; without it 19 mm, or 3/4 in.", None,
        unit="length", source="common practice",
    )  # fmt: skip
    inside: Inside = described("How inside corners are made.", "coped")
    splice: Splice = described(
        "Scarf joints where a wall is longer than the stock, or anywhere if that saves.",
        "where needed",
    )
    kerf: Length = described("Kerf of the miter saw.", 3.0, unit="length", source="common practice")
    miter: Length | None = described(
        "Extra length for each end that is not square; without it twice the thickness and a kerf.",
        None, unit="length", source="common practice",
    )  # fmt: skip
    shortest: Length = described("Shortest part of a spliced run.", 400.0, unit="length")
    margin: Length = described(
        "What trim covers beyond the gap: taper, rip error, caulk line.", 5.0, unit="length",
        source="common practice",
    )  # fmt: skip
    casing: Length = described("Width of the door casings.", 0.0, unit="length", source="measured")
    wall: WallKind = described("What stands behind the trim.", "unknown", source="measured")
    wallboard: Length = described(
        "Wallboard between trim and frame.", 12.7, unit="length", source="measured"
    )
    stock: list[StockTable] = described("Lengths in the store.", [], source="measured")


class ToolsTable(Table):
    """``[buy.tools]``: what is at hand, so that it is not on the list."""

    own: list[str] = described("Tools at hand: " + ", ".join(TOOL_NAMES) + ".", [])
    rips: bool = described("A saw that rips is at hand or can be hired or lent.", True)
    reach: Length | None = described(
        "Widest board the crosscut saw cuts in one pass.", None, unit="length", source="measured"
    )


class RatesTable(Table):
    """``[buy.rates]``: how long things take you; the defaults are a first guess."""

    set_up: float = described("To clear, sweep and set up.", RATES.set_up, unit="min")
    board: float = described("A board laid.", RATES.board, unit="min")
    crosscut: float = described("A piece cut to length, more.", RATES.crosscut, unit="min")
    rip: float = described("A piece ripped, more.", RATES.rip, unit="min")
    odd_piece: float = described("A notched piece, more.", RATES.odd_piece, unit="min")
    row: float = described("A row: spacers, a check of the line.", RATES.row, unit="min")
    jamb: float = described("A jamb undercut.", RATES.jamb, unit="min")
    film_strip: float = described("A strip rolled out and taped.", RATES.film_strip, unit="min")
    trim_piece: float = described("A piece of trim cut and fixed.", RATES.trim_piece, unit="min")
    day_hours: float = described("A day's work.", RATES.day_hours, unit="h")


class BuyTable(Table):
    """``[buy]``: prices and what is wanted; all of it optional."""

    currency: str = described("Printed after amounts.", "")
    tax: Percent = described(
        "Sales tax on everything; 0 where prices hold it.", Decimal(0), unit="%"
    )
    pack: Price | None = described("Price of a pack of boards.", None)
    trip: Price | None = described("What a second trip to the store costs you.", None)
    spares: int | None = described(
        "Boards to keep for repair; without it a pack.", None, source="common practice"
    )
    accept: Percent = described(
        "The highest chance of running short you put up with, at 5 % of boards spoiled.",
        Decimal(10), unit="%",
    )  # fmt: skip
    spacing: Length = described(
        "From spacer to spacer, 300 to 600 mm.", 450.0, unit="length", source="common practice"
    )
    cuts_per_blade: int = described("Cuts until a blade is dull.", 200, source="common practice")
    prices: dict[str, Price] = described(
        'Prices of other things by their name on the list: `{ "pull bar" = 18.50 }`.', {}
    )
    film: FilmRollTable = described("The vapor barrier.", FilmRollTable())
    pad: PadRollTable = described("The underlayment.", PadRollTable())
    tape: TapeTable = described("Tape.", TapeTable())
    trim: TrimTable = described("Trim.", TrimTable())
    transition: list[StripTable] = described("Lengths in the store.", [])
    tools: ToolsTable = described("Tools.", ToolsTable())
    rates: RatesTable = described("Rates.", RatesTable())


def read_rates(text: str, where: str) -> Rates | None:
    """The rates in the text of a job file; None where it says none."""
    buy = parse_toml(text, where).get("buy", {})
    if not isinstance(buy, dict) or "rates" not in buy:
        return None
    return Rates(**read_table(RatesTable, buy["rates"], where="buy.rates").model_dump())


def make_buying(table: BuyTable, unit: Unit) -> Buying:
    """The table as a noun; sizes that are not given are the usual ones, and said so.

    Raises
    ------
    InputError
        with field, value and remedy.
    """
    with told_in(unit):
        return _buying(table, _Sizes(unit))


def _buying(table: BuyTable, sizes: "_Sizes") -> Buying:
    return Buying(
        trim=_trim(table.trim, sizes),
        film=_film(table.film, sizes) if table.film.wanted else None,
        pad=_pad(table.pad, sizes) if table.pad.wanted else None,
        tape=Roll(50.0, sizes.of(table.tape.length, 25_000.0, 54_864.0, "tape"), table.tape.price),
        strips=_stock(table.transition, sizes, (900.0, 1800.0), (914.4, 1828.8), "transitions"),
        prices=Prices(
            table.currency, table.tax, table.pack, table.trip,
            tuple((name.lower(), price) for name, price in table.prices.items()),
        ),
        spares=table.spares,
        accept=Fraction(table.accept) / 100,
        toolbox=_toolbox(table.tools),
        rates=Rates(**table.rates.model_dump()),
        spacing_mm=table.spacing,
        cuts_per_blade=table.cuts_per_blade,
        assumed=tuple(sizes.assumed),
    )  # fmt: skip


class _Sizes:
    """Sizes in the store as given, else the usual ones of the unit's system."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self.inches = unit in ("in", "ft")
        self.assumed: list[str] = []

    def of(self, given: float | None, metric: float, inches: float, what: str) -> float:
        if given is not None:
            return given
        size = self.usual(metric, inches)
        self.assumed.append(f"{what} {format_length(size, self.unit)}")
        return size

    def usual(self, metric: float, inches: float) -> float:
        return inches if self.inches else metric


def _film(table: FilmRollTable, sizes: _Sizes) -> Sheeting:
    width = sizes.of(table.width, 2000.0, 3048.0, "vapor barrier, width")
    length = sizes.of(table.length, 25_000.0, 7620.0, "vapor barrier, length")
    lap = sizes.usual(LAP_MM, LAP_IN_MM) if table.lap is None else table.lap
    upturn = sizes.usual(UPTURN_MM, UPTURN_IN_MM) if table.upturn is None else table.upturn
    end_lap = lap if table.end_lap is None else table.end_lap
    try:
        roll = Roll(width, length, table.price)
        return Sheeting(roll, lap, end_lap, upturn, table.aim, table.joined, side_up=table.side_up)
    except InputError as error:
        raise error.at("buy.film") from None


def _pad(table: PadRollTable, sizes: _Sizes) -> Sheeting:
    width = sizes.of(table.width, 1000.0, 1219.2, "underlayment, width")
    length = sizes.of(table.length, 10_000.0, 7620.0, "underlayment, length")
    try:
        roll = Roll(width, length, table.price)
        return Sheeting(
            roll, table.lap, table.lap, 0.0, table.aim, table.joined, 500.0, table.side_up
        )
    except InputError as error:
        raise error.at("buy.pad") from None


def _trim(table: TrimTable, sizes: _Sizes) -> Trim:
    thickness = sizes.of(table.thickness, 19.0, 19.05, "thickness of trim")
    feet = (8 * 304.8, 12 * 304.8, 16 * 304.8)
    return Trim(
        stock=_stock(table.stock, sizes, (2400.0,), feet, "trim"),
        name=table.name,
        thickness_mm=thickness,
        inside=table.inside,
        splice=table.splice,
        kerf_mm=table.kerf,
        miter_mm=table.miter,
        shortest_mm=table.shortest,
        margin_mm=table.margin,
        casing_mm=table.casing,
        wall=table.wall,
        wallboard_mm=table.wallboard,
    )


def _stock(
    tables: Sequence[StockTable | StripTable],
    sizes: _Sizes,
    metric: tuple[float, ...],
    inches: tuple[float, ...],
    what: str,
) -> tuple[StockLength, ...]:
    if tables:
        return tuple(StockLength(table.length, table.price) for table in tables)
    usual = inches if sizes.inches else metric
    told = ", ".join(format_length(length, sizes.unit) for length in usual)
    sizes.assumed.append(f"{what} in lengths of {told}")
    return tuple(map(StockLength, usual))


def _toolbox(table: ToolsTable) -> Toolbox:
    for name in table.own:
        if name not in TOOL_NAMES:
            raise InputError(
                "no such tool is known here",
                where="buy.tools.own",
                value=name,
                remedy=nearest_words(name, TOOL_NAMES),
            )
    return Toolbox(tuple(table.own), table.rips, table.reach)
