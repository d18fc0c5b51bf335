"""The moisture book: history first, worst reading plus error, no kind turned into another."""

from dataclasses import replace
from datetime import date

import pytest

from plankwright.application.moisture_advice import Moisture, weigh_moisture, weigh_reading
from plankwright.errors import InputError
from plankwright.model.slab import (
    Dish,
    Film,
    MoistureLimit,
    MoistureReading,
    Slab,
    WaterHistory,
)
from plankwright.model.slab import (
    TestKind as Kind,
)
from plankwright.model.sourced import Sourced
from plankwright.physics.constants import M2_PER_FT2

DAY = date(2026, 4, 2)


def reading(kind: Kind, value: float, place: str = "middle") -> MoistureReading:
    return MoistureReading(kind, place, DAY, value)


def probes(*values: float) -> tuple[MoistureReading, ...]:
    return tuple(reading("humidity probe", v, f"place {n}") for n, v in enumerate(values))


DRY = Slab(20.0, 100.0, below_grade=False, readings=probes(60, 65, 70), wet_months=(4,))


def weigh(slab: Slab) -> Moisture:
    return weigh_moisture(slab, "mm")


def codes(slab: Slab) -> set[str]:
    return {finding.code for finding in weigh(slab).section.findings}


def test_dry_above_grade_goes_on() -> None:
    moisture = weigh(DRY)
    assert moisture.verdict == "go"
    assert "70" in " ".join(moisture.reasons)
    assert moisture.section.findings == ()


@pytest.mark.parametrize(
    "history",
    [
        WaterHistory(standing_water=True),
        WaterHistory(salt_crystals=True),
        WaterHistory(failed_sump=True),
        WaterHistory(musty_smell=True),
        WaterHistory(damp_in_wet_season=True),
    ],
)
def test_history_overrides_every_reading(history: WaterHistory) -> None:
    moisture = weigh(replace(DRY, history=history))
    assert moisture.verdict == "stop"
    assert "history" in moisture.reasons[0]
    assert "Find where the water comes from" in moisture.section.steps[0].text


def test_the_instruments_error_counts() -> None:
    # 74 % passes the default of 75 %; 74 % + 2 % does not
    assert weigh(replace(DRY, readings=probes(60, 65, 73))).verdict == "go"
    over = weigh(replace(DRY, readings=probes(60, 65, 74)))
    assert over.verdict == "stop"
    assert "does not say that a vapor barrier rescues it" in over.reasons[0]


def test_a_barrier_rescues_only_where_the_leaflet_says_so() -> None:
    rescue = MoistureLimit(
        "humidity probe",
        Sourced(75, "% RH", "leaflet, p. 3", "leaflet"),
        Sourced(85, "% RH", "leaflet, p. 3", "leaflet"),
    )
    slab = replace(DRY, readings=probes(60, 65, 80), limits=(rescue,))
    assert weigh(slab).verdict == "go-with-barrier"
    assert weigh(replace(slab, readings=probes(60, 65, 84))).verdict == "stop"


def test_a_limit_of_one_kind_never_judges_another() -> None:
    # A leaflet that knows only the calcium chloride test says nothing about carbide.
    slab = replace(DRY, readings=(*probes(60, 60), reading("carbide", 9.9)))
    assert weigh(slab).verdict == "measure"
    assert "reading-no-limit" in codes(slab)


def test_below_grade_wants_a_barrier_even_when_dry() -> None:
    assert weigh(replace(DRY, below_grade=True)).verdict == "go-with-barrier"
    assert weigh(replace(DRY, below_grade=True, barrier_below="yes")).verdict == "go"
    assert weigh(replace(DRY, film=Film(required=True))).verdict == "go-with-barrier"


def test_calcium_chloride_on_paint_or_patch_is_void() -> None:
    dishes = tuple(
        MoistureReading("calcium chloride", f"p{n}", DAY, dish=Dish(1.0, 0.5, 66)) for n in range(3)
    )
    # 1.0 × 52.9109 / (0.5 × 66) = 1.603 lb, well below 3
    assert weigh(replace(DRY, readings=dishes)).verdict == "go"
    for state in ({"painted": True}, {"leveled": True}):
        slab = replace(DRY, readings=dishes, **state)  # type: ignore[arg-type]
        assert weigh(slab).verdict == "measure"
        assert "reading-void" in codes(slab)
        assert weigh_reading(dishes[0], slab).value is None


def test_a_dish_that_lay_too_long_is_void_with_value_and_range() -> None:
    late = MoistureReading("calcium chloride", "middle", DAY, dish=Dish(1.0, 0.5, 80))
    weighed = weigh_reading(late, DRY)
    assert weighed.value is None
    assert "80 is outside 60 to 72" in weighed.fault


def test_a_dry_plastic_sheet_proves_nothing_and_a_wet_one_stops() -> None:
    sheets = tuple(reading("plastic sheet", 0.0, f"p{n}") for n in range(3))
    assert weigh(replace(DRY, readings=sheets)).verdict == "measure"
    wet = (*probes(50, 50, 50), reading("plastic sheet", 1.0))
    assert weigh(replace(DRY, readings=wet)).verdict == "stop"


def test_hand_meters_decide_nothing() -> None:
    meters = tuple(reading("meter", 5.0, f"p{n}") for n in range(5))
    assert weigh(replace(DRY, readings=meters)).verdict == "measure"


def test_too_few_readings_for_the_area() -> None:
    assert weigh(replace(DRY, readings=probes(50, 50))).verdict == "measure"
    large = replace(DRY, area_m2=1650 * M2_PER_FT2)  # four tests (W13)
    assert weigh(large).verdict == "measure"
    assert "too-few-tests" in codes(large)
    steps = " ".join(step.text for step in weigh(large).section.steps)
    assert "Drill 4 holes, 40 mm deep" in steps


def test_kinds_do_not_stand_in_for_each_other() -> None:
    mixed = (*probes(50, 50), reading("calcium chloride", 1.0))
    assert weigh(replace(DRY, readings=mixed)).verdict == "measure"


def test_a_wet_reading_stops_even_when_there_are_too_few() -> None:
    assert weigh(replace(DRY, readings=probes(95))).verdict == "stop"


def test_a_shallow_probe_counts_only_against() -> None:
    shallow = tuple(replace(r, depth_mm=20.0) for r in probes(50, 50, 50))
    slab = replace(DRY, readings=shallow)
    assert weigh(slab).verdict == "measure"
    assert "reading-shallow" in codes(slab)
    assert weigh(replace(DRY, readings=(replace(shallow[0], value=90.0),))).verdict == "stop"


def test_a_probe_read_too_soon_is_void() -> None:
    soon = replace(probes(50)[0], waited_h=5.0)
    assert weigh_reading(soon, DRY).fault.startswith("void")


def test_dry_season_readings_are_called_so() -> None:
    assert "dry-season" in codes(replace(DRY, wet_months=(10,)))
    assert "dry-season" in codes(replace(DRY, wet_months=()))


def test_water_a_day_at_3_and_5_lb_on_961_square_feet() -> None:
    for pounds, told in ((3.0, "2.88 lb"), (5.0, "4.8")):
        slab = Slab(961 * M2_PER_FT2, readings=(reading("calcium chloride", pounds),))
        assert told in " ".join(weigh(slab).section.lines)


def test_broken_readings_are_refused() -> None:
    with pytest.raises(InputError):
        MoistureReading("humidity probe", "x", DAY)
    with pytest.raises(InputError):
        MoistureReading("humidity probe", "x", DAY, dish=Dish(1, 0.5, 66))
    with pytest.raises(InputError):
        reading("humidity probe", -1.0)
    with pytest.raises(InputError):
        Slab(0.0)
    with pytest.raises(InputError):
        Slab(10.0, wet_months=(13,))
