"""The tables ``[slab]`` and ``[air]`` of the job file, field by field."""

from datetime import date, datetime
from typing import Literal

from plankwright.files.quantities import Area, HeightOrNothing, SignedLength, Temperature, Weight
from plankwright.files.table import Corner, Length, Size, Table, described
from plankwright.model.air import MarginRule
from plankwright.model.build_up import MeetingKind
from plankwright.model.floor_run import BoardKind
from plankwright.model.slab import Answer, Drying, TestKind


class HistoryTable(Table):
    """``[slab.history]``: what was seen; any of it overrides every reading."""

    standing_water: bool = described("Water has stood on the slab.", False, source="measured")
    salt_crystals: bool = described("White crystals or powder.", False, source="measured")
    failed_sump: bool = described("The sump pump has failed before.", False, source="measured")
    musty_smell: bool = described("The room smells musty.", False, source="measured")
    damp_in_wet_season: bool = described(
        "Damp patches in the wet season.", False, source="measured"
    )


class ReadingTable(Table):
    """``[[slab.reading]]``: one moisture reading, in the unit of its own kind of test."""

    kind: TestKind = described("The kind of test.", source="measured")
    place: str = described("Where on the slab.", source="measured")
    on: date = described("The day it was read.", source="measured")
    value: float | None = described(
        "The figure: lb/(1000 ft2 24 h), % RH, or CM-%, by its kind.", None, source="measured"
    )
    wet: bool | None = described("Plastic sheet: wet beneath.", None, source="measured")
    grams: float | None = described("Dish: weight gained.", None, unit="g", source="measured")
    dish_area: float | None = described("Dish: exposed area.", None, unit="ft2", source="measured")
    hours: float | None = described("Dish: exposure, 60 to 72.", None, unit="h", source="measured")
    error: float | None = described(
        "Instrument error; by default 0.2 lb, 2 % RH (probe), 3 % RH (hygrometer), 0.1 CM-%.",
        None, source="common practice",
    )  # fmt: skip
    depth: Length | None = described("Depth of a probe.", None, unit="length", source="measured")
    waited: float | None = described(
        "Hours from drilling to reading a probe.", None, unit="h", source="measured"
    )
    air_temperature: Temperature | None = described(
        "Temperature of the air then.", None, unit="°C or °F", source="measured"
    )
    air_humidity: float | None = described(
        "Humidity of the air then.", None, unit="%", source="measured"
    )


class LimitTable(Table):
    """``[[slab.limit]]``: the leaflet's limit for one kind of test; never used for another."""

    kind: TestKind = described("The kind of test.", source="leaflet")
    highest: float = described("Highest reading without a vapor barrier.", source="leaflet")
    with_barrier: float | None = described(
        "Highest reading over a vapor barrier, only if the leaflet says so.", None, source="leaflet"
    )
    page: str = described("Page of the leaflet.", "", source="leaflet")


class FilmTable(Table):
    """``[slab.film]``: the vapor barrier and what the leaflet says of it."""

    perms: float | None = described(
        "Permeance of the film.", None, unit="US perm", source="leaflet"
    )
    sd: float | None = described("sd value, instead of perms.", None, unit="m", source="leaflet")
    required: bool = described("The leaflet asks for one in any case.", False, source="leaflet")
    required_perms: float | None = described(
        "The most open film the leaflet takes.", None, unit="US perm", source="leaflet"
    )
    required_sd: float | None = described(
        "The least sd value the leaflet takes.", None, unit="m", source="leaflet"
    )
    attached: bool = described("The board has a film or pad attached.", False, source="leaflet")
    second: Literal["allowed", "forbidden", "not said"] = described(
        "Whether the leaflet takes a second one.", "not said", source="leaflet"
    )


class HouseTable(Table):
    """``[slab.house]``: asked before anything is ground, scraped, drilled or pulled off."""

    year: int | None = described("Year the house was built.", None, source="measured")
    old_tile: Answer = described("Old tile or sheet floor.", "unknown", source="measured")
    black_mastic: Answer = described("Black mastic on the slab.", "unknown", source="measured")
    old_paint: Answer = described("Old paint on baseboards, jambs.", "unknown", source="measured")
    in_slab: Answer = described(
        "Pipes, cables, heating or tendons in the slab.", "unknown", source="measured"
    )
    asbestos_free_on: date | None = described("Day of a laboratory's clear result.", None)
    lead_free_on: date | None = described("Day of a clear lead test.", None)
    slab_scanned_on: date | None = described("Day the slab was scanned.", None)


class FlatnessTable(Table):
    """``[slab.flatness]``: how flat the leaflet wants it."""

    gap: Length | None = described(
        "Largest gap; by default 3 mm in 2 m (common practice).", None, unit="length",
        source="leaflet",
    )  # fmt: skip
    edge: Length | None = described(
        "Length of the straightedge.", None, unit="length", source="leaflet"
    )
    page: str = described("Page of the leaflet.", "", source="leaflet")
    standard: str | None = described(
        "A published rule instead, such as DIN 18202 line 3.", None, source="choice"
    )
    compare: tuple[str, ...] = described("Published rules to show beside it.", (), source="choice")


class HeightsTable(Table):
    """``[slab.heights]``: heights on a grid, or at any places."""

    rows: tuple[tuple[HeightOrNothing, ...], ...] = described(
        'Rows of heights, first row at the least y; "" where nothing could be read.', (),
        unit="length", source="measured",
    )  # fmt: skip
    step: Size | None = described("Steps along x and y.", None, unit="length", source="measured")
    origin: Corner = described(
        "Place of the first reading.", (0.0, 0.0), unit="length", source="measured"
    )
    readings: tuple[tuple[SignedLength, SignedLength, SignedLength], ...] = described(
        "Scattered readings [x, y, height] instead.", (), unit="length", source="measured"
    )
    counted: Literal["up", "down"] = described(
        "Up from a datum, or down from a level line such as a laser's.", "up", source="measured"
    )


class GapTable(Table):
    """``[[slab.gap]]``: a gap read under a straightedge."""

    place: str = described("Where on the slab.", source="measured")
    edge: Length = described("Length of the straightedge.", unit="length", source="measured")
    gap: Length = described("The gap.", unit="length", source="measured")


class CompoundTable(Table):
    """``[slab.compound]``: the self-leveling compound by its leaflet."""

    least: Length = described("Least depth.", 3.0, unit="length", source="common practice")
    greatest: Length = described(
        "Greatest depth of a layer.", 25.0, unit="length", source="common practice"
    )
    bag: Weight = described(
        'Weight of a bag, such as "50 lb"; a bare number is kilograms.', 25.0, unit="kg or lb",
        source="common practice",
    )  # fmt: skip
    coldest: Temperature = described(
        "Coldest slab.", 10.0, unit="°C or °F", source="common practice"
    )
    warmest: Temperature = described(
        "Warmest slab.", 30.0, unit="°C or °F", source="common practice"
    )
    hours: float = described("Hours until covered.", 24.0, unit="h", source="common practice")
    page: str = described("Page of the leaflet.", "", source="leaflet")


class LayersTable(Table):
    """``[slab.layers]``: thicknesses of the new floor."""

    board: Length | None = described(
        "Thickness of the board; by default that of [board].", None, unit="length", source="leaflet"
    )
    pad: Length = described("Thickness of the pad.", 0.0, unit="length", source="leaflet")
    film: Length = described(
        "Thickness of the vapor barrier.", 0.15, unit="length", source="leaflet"
    )
    leveling: Length = described(
        "Patch or compound where it meets a door.", 0.0, unit="length", source="measured"
    )


class MeetingTable(Table):
    """``[[slab.door]]``: a door, stair, step or neighboring floor that the new floor meets."""

    name: str = described("How you call it.", source="measured")
    kind: MeetingKind = described("What it is.", "door", source="measured")
    under_leaf: Length | None = described(
        "From the slab to the door leaf's lower edge.", None, unit="length", source="measured"
    )
    beyond: SignedLength | None = described(
        "Floor beyond, above this slab.", None, unit="length", source="measured"
    )
    riser: Length | None = described(
        "Bottom riser from the slab.", None, unit="length", source="measured"
    )
    others: Length | None = described("The other risers.", None, unit="length", source="measured")


class MovementTable(Table):
    """``[slab.movement]``: how the board moves and how far it may float."""

    kind: BoardKind = described("What the board is made of.", "laminate", source="leaflet")
    species: str = described("Wood of engineered or solid boards.", "red oak", source="leaflet")
    along: Length | None = described(
        "Longest run along the boards; by default the room's longer side.", None, unit="length"
    )
    across: Length | None = described(
        "Longest run across; by default the room's shorter side.", None, unit="length"
    )
    longest_along: Length | None = described(
        "Longest floating length along.", None, unit="length", source="leaflet"
    )
    longest_across: Length | None = described(
        "Longest floating length across.", None, unit="length", source="leaflet"
    )


class PlacedTable(Table):
    """``[[slab.placed]]``: a test that was set up and waits to be read: a reminder is written."""

    kind: TestKind = described("The kind of test.", source="measured")
    place: str = described("Where on the slab.", source="measured")
    at: datetime = described("When it was set up, local time.", source="measured")


class SlabTable(Table):
    """``[slab]``: the slab, its water history and its moisture book."""

    area: Area | None = described(
        "Floor area; by default the room's.", None, unit="m2 or ft2", source="measured"
    )
    thickness: Length | None = described(
        "Thickness of the slab.", None, unit="length", source="measured"
    )
    drying: Drying = described("Faces it dries from.", "one face", source="measured")
    below_grade: bool = described("On or below the ground.", True, source="measured")
    barrier_below: Answer = described("A vapor barrier under it.", "unknown", source="measured")
    painted: bool = described("Painted or coated.", False, source="measured")
    leveled: bool = described("Patched or leveled before.", False, source="measured")
    temperature: Temperature | None = described(
        "Its face at the coldest corner, early morning.", None, unit="°C or °F", source="measured"
    )
    wet_months: tuple[int, ...] = described(
        "Months, 1 to 12, in which your ground is wettest.", (), source="measured"
    )
    history: HistoryTable = described("Water history.", HistoryTable())
    reading: list[ReadingTable] = described("Moisture readings.", [])
    limit: list[LimitTable] = described("The leaflet's limits.", [])
    film: FilmTable = described("Vapor barrier.", FilmTable())
    house: HouseTable = described("The house.", HouseTable())
    flatness: FlatnessTable = described("Flatness asked for.", FlatnessTable())
    heights: HeightsTable | None = described("Heights.", None)
    gap: list[GapTable] = described("Gaps under a straightedge.", [])
    compound: CompoundTable = described("Self-leveling compound.", CompoundTable())
    layers: LayersTable = described("Layers of the new floor.", LayersTable())
    door: list[MeetingTable] = described("What the floor meets.", [])
    movement: MovementTable = described("Movement.", MovementTable())
    placed: list[PlacedTable] = described("Tests that wait.", [])


class AirTable(Table):
    """``[air]``: the room's air today and over the year."""

    temperature: Temperature | None = described(
        "Air temperature today.", None, unit="°C or °F", source="measured"
    )
    humidity: float | None = described("Humidity today.", None, unit="%", source="measured")
    outside_temperature: Temperature | None = described(
        "Outside air today.", None, unit="°C or °F", source="measured"
    )
    outside_humidity: float | None = described(
        "Outside humidity today.", None, unit="%", source="measured"
    )
    margin: MarginRule = described(
        "Margin of the slab over the dew point: 3 K (5.4 °F) or 5 F (2.78 K).", "3 K"
    )
    coldest: Temperature | None = described(
        "Coldest room in a year.", None, unit="°C or °F", source="measured"
    )
    warmest: Temperature | None = described(
        "Warmest room in a year.", None, unit="°C or °F", source="measured"
    )
    driest: float | None = described("Least humidity in a year.", None, unit="%", source="measured")
    dampest: float | None = described(
        "Greatest humidity in a year.", None, unit="%", source="measured"
    )
    least_temperature: Temperature = described(
        "For laying, lower limit.", 18.0, unit="°C or °F", source="common practice"
    )
    most_temperature: Temperature = described(
        "For laying, upper limit.", 24.0, unit="°C or °F", source="common practice"
    )
    least_humidity: float = described("For laying.", 40.0, unit="%", source="common practice")
    most_humidity: float = described("For laying.", 60.0, unit="%", source="common practice")
    boards_in: datetime | None = described(
        "When the packs came into the room, local time.", None, source="measured"
    )
    hours: float = described("Hours they wait.", 48.0, unit="h", source="common practice")
