"""The slab part of a job file."""

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from shapely import box

import plankwright
from plankwright.application.slab_advice import SlabJob
from plankwright.errors import InputError
from plankwright.files.job import read_job
from plankwright.files.job_slab import read_slab
from plankwright.files.quantities import parse_area_m2, parse_temperature_c, parse_weight_kg
from plankwright.model.job import Job
from plankwright.model.room import Room
from plankwright.model.slab_heights import HeightGrid, ScatteredHeights
from plankwright.units import Unit

DEMO = Path(plankwright.__file__).parent / "data" / "demo_room.toml"
AREA: dict[str, Any] = {"area": 20}


def read(slab: dict[str, Any], air: dict[str, Any] | None = None, unit: Unit = "mm") -> SlabJob:
    return read_slab({"slab": {**AREA, **slab}, "air": air or {}}, unit)


def test_the_demo_slab() -> None:
    text = DEMO.read_text()
    job = read_slab(tomllib.loads(text), "in", read_job(text, "demo"))
    assert job.slab.area_m2 == pytest.approx(202 * 0.09290304)
    assert job.slab.thickness_mm == pytest.approx(101.6)
    assert job.slab.temperature_c == pytest.approx(15.556, abs=1e-3)
    assert len(job.slab.readings) == 5
    assert job.slab.readings[0].on == date(2026, 10, 3)
    limit = job.slab.limit_for("humidity probe")
    assert limit is not None
    assert limit.bare.told() == "75 % RH (leaflet, p. 3)"
    assert isinstance(job.heights, HeightGrid)
    assert job.rule.edge_mm == pytest.approx(3048)
    assert job.rule.limits[0][1] == pytest.approx(4.7625)
    assert job.house.year == 1958
    assert job.layers is not None
    assert job.layers.total_mm == pytest.approx(9.6774)


def test_heights_counted_down_from_a_laser_line() -> None:
    rows = [["40", "39 7/8"], ["40 1/8", ""]]
    heights = read(
        {"heights": {"rows": rows, "step": [24, 24], "counted": "down"}}, unit="in"
    ).heights
    assert isinstance(heights, HeightGrid)
    assert heights.rows[0] == pytest.approx((-1016.0, -1012.825))
    assert heights.rows[1][1] is None


def test_scattered_heights_and_gaps() -> None:
    readings = [[0, 0, 0], [500, 0, -2.5], [0, 500, 1]]
    job = read({"heights": {"readings": readings}, "gap": [{"place": "x", "edge": 2000, "gap": 4}]})
    assert isinstance(job.heights, ScatteredHeights)
    assert job.heights.readings[1] == pytest.approx((500, 0, -2.5))
    assert job.gaps[0].gap_mm == 4


def test_area_sides_gap_and_thickness_come_from_the_job() -> None:
    job = Job(Room(box(0, 0, 5000, 3000), edge_gaps=(("A-B", 6.0),)))
    read_job = read_slab({"slab": {}}, "mm", job)
    assert read_job.slab.area_m2 == pytest.approx(15.0)
    assert read_job.run is not None
    assert (read_job.run.along_mm, read_job.run.across_mm) == pytest.approx((5000, 3000))
    assert read_job.run.narrowest_mm == 6.0
    assert read_job.run.gaps_mm[1] == ("B-C", 8.0)


@pytest.mark.parametrize(
    ("text", "unit", "celsius"),
    [("59 F", "mm", 15.0), ("15 C", "in", 15.0), (59, "in", 15.0), (15, "m", 15.0),
     ("-4 °F", "mm", -20.0), ("20.5°C", "mm", 20.5)],
)  # fmt: skip
def test_temperatures(text: object, unit: Unit, celsius: float) -> None:
    assert parse_temperature_c(text, unit) == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("text", "unit", "m2"),
    [("100 ft2", "mm", 9.290304), ("100 sq ft", "mm", 9.290304), (100, "in", 9.290304),
     (20, "mm", 20.0), ("20 m²", "in", 20.0)],
)  # fmt: skip
def test_areas(text: object, unit: Unit, m2: float) -> None:
    assert parse_area_m2(text, unit) == pytest.approx(m2)


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [("50 lb", 22.6796185), ("50 LBS", 22.6796185), ("1 pound", 0.45359237), ("22.7 kg", 22.7),
     (25, 25.0), ("25", 25.0)],
)  # fmt: skip
def test_weights(text: object, kilograms: float) -> None:
    assert parse_weight_kg(text) == pytest.approx(kilograms, rel=1e-12)


def test_a_bag_is_read_with_its_unit_and_is_kilograms_without() -> None:
    for unit in ("in", "mm"):
        read_bags = [
            read_slab({"slab": {"area": 20, "compound": {"bag": bag}}}, unit).compound.bag_kg
            for bag in ("50 lb", 22.7)
        ]
        assert read_bags == pytest.approx([22.6796185, 22.7])


PROBE = {"kind": "humidity probe", "place": "x", "on": date(2026, 1, 2)}


@pytest.mark.parametrize(
    ("slab", "air", "where"),
    [
        ({"area": "big"}, {}, "slab: area"),
        ({"area": 0}, {}, "slab.area"),
        ({"temperature": "warm"}, {}, "slab: temperature"),
        ({"temperature": "300 K"}, {}, "slab: temperature"),
        ({"compound": {"bag": "50 stone"}}, {}, "slab: compound.bag"),
        ({"compound": {"bag": True}}, {}, "slab: compound.bag"),
        ({"compound": {"bag": "500 lb"}}, {}, "slab.compound"),
        ({"thicknes": 4}, {}, "slab"),
        ({"reading": [PROBE]}, {}, "slab.reading #1"),
        ({"reading": [{**PROBE, "value": -3}]}, {}, "slab.reading #1"),
        ({"reading": [{**PROBE, "kind": "guess", "value": 3}]}, {}, "slab: reading #1.kind"),
        ({"reading": [{**PROBE, "grams": 3}]}, {}, "slab.reading #1"),
        ({"flatness": {"gap": 3}}, {}, "slab.flatness"),
        ({"flatness": {"standard": "none such"}}, {}, ""),
        ({"heights": {"rows": [[0, 1], [2, 3]]}}, {}, "slab.heights.step"),
        ({"heights": {"rows": [[0, 1], [2]], "step": [500, 500]}}, {}, "slab.heights.rows"),
        ({"film": {"perms": 0.1, "sd": 75}}, {}, "slab.film"),
        ({"film": {"perms": 0}}, {}, "slab.film.perms"),
        ({"wet_months": [13]}, {}, "slab.wet_months"),
        ({"house": {"year": 58}}, {}, "slab.house.year"),
        ({"compound": {"least": 30}}, {}, "slab.compound"),
        ({}, {"temperature": 20}, "air"),
        ({}, {"temperature": 20, "humidity": 120}, "air"),
        ({}, {"coldest": 10}, "air"),
        ({}, {"margin": "2 K"}, "air: margin"),
    ],
)
def test_bad_input_is_refused_with_its_place(
    slab: dict[str, Any], air: dict[str, Any], where: str
) -> None:
    with pytest.raises(InputError) as caught:
        read(slab, air)
    assert where in str(caught.value)


def test_without_area_or_room_the_area_is_asked_for() -> None:
    with pytest.raises(InputError, match="area"):
        read_slab({"slab": {}}, "mm")
