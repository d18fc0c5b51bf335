"""The slab part of a job file, read into a :class:`SlabJob`."""

import math
from typing import Any

from plankwright.application.slab_advice import PlacedTest, SlabJob
from plankwright.errors import InputError
from plankwright.files.job_slab_tables import (
    AirTable,
    FilmTable,
    FlatnessTable,
    HeightsTable,
    LimitTable,
    ReadingTable,
    SlabTable,
)
from plankwright.files.table import read_table
from plankwright.model.air import Air, Climate, RoomAir
from plankwright.model.build_up import Layers, Meeting
from plankwright.model.floor_run import FloorRun
from plankwright.model.house import House
from plankwright.model.job import Job
from plankwright.model.slab import (
    TEST_UNITS,
    Dish,
    Film,
    MoistureLimit,
    MoistureReading,
    Slab,
    WaterHistory,
)
from plankwright.model.slab_heights import GapReading, HeightGrid, ScatteredHeights
from plankwright.model.sourced import Sourced
from plankwright.physics.flatness_rules import FlatnessRule, published_rule, single_rule
from plankwright.physics.permeance import perms_from_sd
from plankwright.physics.pouring import Compound
from plankwright.units import Unit, told_in


def read_slab(tables: dict[str, Any], unit: Unit, job: Job | None = None) -> SlabJob:
    """The slab part of a job file.

    Parameters
    ----------
    tables : the job file's tables; ``slab`` and ``air`` are read, others left alone.
    unit : unit of bare lengths; bare temperatures are in °F and bare areas in ft² with inches
        and feet, else in °C and m².
    job : the rest of the job file, for the room's area and sides, the gap, the board's thickness.

    Raises
    ------
    InputError
        with field, value and remedy.
    """
    slab = read_table(SlabTable, tables.get("slab", {}), unit=unit, where="slab")
    air = read_table(AirTable, tables.get("air", {}), unit=unit, where="air")
    with told_in(unit):
        return slab_job(slab, air, unit, job)


def slab_job(slab: SlabTable, air: AirTable, unit: Unit, job: Job | None = None) -> SlabJob:
    """The tables, as read, as nouns; see :func:`read_slab`."""
    return SlabJob(
        slab=_slab(slab, job),
        air=_room_air(air),
        house=House(**slab.house.model_dump()),
        heights=_heights(slab.heights),
        gaps=tuple(GapReading(g.place, g.edge, g.gap) for g in slab.gap),
        rule=_rule(slab.flatness),
        others=tuple(published_rule(name) for name in slab.flatness.compare),
        compound=_compound(slab),
        layers=_layers(slab, job),
        meetings=tuple(
            Meeting(d.name, d.kind, d.under_leaf, d.beyond, d.riser, d.others) for d in slab.door
        ),
        run=_run(slab, job),
        placed=tuple(PlacedTest(p.kind, p.place, p.at) for p in slab.placed),
        unit=unit,
    )


def _slab(table: SlabTable, job: Job | None) -> Slab:
    area = table.area
    if area is None and job is not None:
        area = job.room.outline.area * 1e-6
    if area is None:
        raise InputError("the floor's area is missing", where="slab.area", remedy="Write it there.")
    return Slab(
        area_m2=area,
        thickness_mm=table.thickness,
        drying=table.drying,
        below_grade=table.below_grade,
        barrier_below=table.barrier_below,
        painted=table.painted,
        leveled=table.leveled,
        temperature_c=table.temperature,
        wet_months=table.wet_months,
        history=WaterHistory(**table.history.model_dump()),
        readings=tuple(_reading(r, n) for n, r in enumerate(table.reading, 1)),
        limits=tuple(_limit(limit) for limit in table.limit),
        film=_film(table.film),
    )


def _reading(table: ReadingTable, number: int) -> MoistureReading:
    where = f"slab.reading #{number}"
    weighed = (table.grams, table.dish_area, table.hours)
    dish = None
    value = table.value if table.wet is None else float(table.wet)
    if any(part is not None for part in weighed):
        if table.grams is None or table.dish_area is None or table.hours is None:
            raise InputError("a dish needs grams, dish_area and hours", where=where, value=weighed)
        dish = Dish(table.grams, table.dish_area, table.hours)
    air = _air(table.air_temperature, table.air_humidity, where)
    try:
        return MoistureReading(
            table.kind, table.place, table.on, value, dish, table.error, table.depth, table.waited,
            air,
        )  # fmt: skip
    except InputError as error:
        raise error.at(where) from None


def _limit(table: LimitTable) -> MoistureLimit:
    source = f"leaflet, {table.page}" if table.page else "leaflet"
    unit = TEST_UNITS[table.kind]
    rescue = table.with_barrier
    return MoistureLimit(
        table.kind,
        Sourced(table.highest, unit, source, "leaflet"),
        None if rescue is None else Sourced(rescue, unit, source, "leaflet"),
    )


def _film(table: FilmTable) -> Film:
    if table.perms is not None and table.sd is not None:
        raise InputError("give perms or sd, not both", where="slab.film", value=table.sd)
    perms = perms_from_sd(table.sd) if table.sd is not None else table.perms
    if perms is not None and not 1e-6 <= perms <= 1e4:
        raise InputError("no film has this permeance", where="slab.film.perms", value=perms)
    return Film(
        perms=perms,
        required=table.required,
        required_perms=table.required_perms,
        required_sd_m=table.required_sd,
        attached=table.attached,
        second=table.second,
    )


def _room_air(table: AirTable) -> RoomAir:
    swing = (table.coldest, table.warmest, table.driest, table.dampest)
    known = all(part is not None for part in swing)
    if any(part is not None for part in swing) and not known:
        raise InputError(
            "the year's swing needs coldest, warmest, driest and dampest", where="air", value=swing
        )
    return RoomAir(
        now=_air(table.temperature, table.humidity, "air"),
        outside=_air(table.outside_temperature, table.outside_humidity, "air.outside"),
        margin=table.margin,
        swing=Climate(*(float(part or 0.0) for part in swing)) if known else None,
        limits=Climate(
            table.least_temperature, table.most_temperature, table.least_humidity,
            table.most_humidity,
        ),
        boards_in=table.boards_in,
        hours=table.hours,
    )  # fmt: skip


def _air(temperature: float | None, humidity: float | None, where: str) -> Air | None:
    if temperature is None and humidity is None:
        return None
    if temperature is None or humidity is None:
        raise InputError("air needs temperature and humidity", where=where)
    try:
        return Air(temperature, humidity)
    except InputError as error:
        raise error.at(where) from None


def _heights(table: HeightsTable | None) -> HeightGrid | ScatteredHeights | None:
    if table is None:
        return None
    sign = 1.0 if table.counted == "up" else -1.0
    if table.readings:
        return ScatteredHeights(tuple((x, y, sign * h) for x, y, h in table.readings))
    if table.step is None:
        raise InputError("the step between heights is missing", where="slab.heights.step")
    rows = tuple(tuple(None if h is None else sign * h for h in row) for row in table.rows)
    return HeightGrid(rows, table.step, table.origin)


def _rule(table: FlatnessTable) -> FlatnessRule:
    if table.standard is not None:
        return published_rule(table.standard)
    if (table.gap is None) != (table.edge is None):
        raise InputError("a flatness limit needs gap and edge", where="slab.flatness")
    if table.gap is None or table.edge is None:
        return published_rule("leaflet habit, 2 m")
    source = f"leaflet, {table.page}" if table.page else "leaflet"
    return single_rule("leaflet", table.edge, table.gap, source)


def _compound(table: SlabTable) -> Compound:
    c = table.compound
    return Compound(c.least, c.greatest, c.bag, c.coldest, c.warmest, c.hours, c.page)


def _layers(table: SlabTable, job: Job | None) -> Layers | None:
    board = table.layers.board
    if board is None and job is not None and job.board.thickness_mm > 0.0:
        board = job.board.thickness_mm
    if board is None:
        return None
    return Layers(board, table.layers.pad, table.layers.film, table.layers.leveling)


def _run(table: SlabTable, job: Job | None) -> FloorRun | None:
    along, across = table.movement.along, table.movement.across
    if job is None or (along is None) != (across is None):
        return None
    if along is None or across is None:
        across, along = _sides_mm(job)
    own = dict(job.room.edge_gaps)
    gaps = tuple((e.name, own.get(e.name, job.rules.gap_mm)) for e in job.room.edges())
    movement = table.movement
    return FloorRun(
        along, across, gaps, movement.kind, movement.species,
        movement.longest_along, movement.longest_across,
    )  # fmt: skip


def _sides_mm(job: Job) -> tuple[float, float]:
    """Shorter and longer side of the smallest rectangle round the room [mm]."""
    a, b, c, *_ = job.room.outline.minimum_rotated_rectangle.exterior.coords
    shorter, longer = sorted((math.dist(a, b), math.dist(b, c)))
    return shorter, longer
