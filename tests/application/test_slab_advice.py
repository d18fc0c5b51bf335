"""The page as a whole: film, air, flatness, heights, movement, steps, reminders."""

import re
from dataclasses import replace
from datetime import date, datetime

import numpy as np
import pytest

from plankwright.application.air_advice import air_section, ready_at
from plankwright.application.film_advice import film_section, strictest_perms
from plankwright.application.flat_advice import judge_flatness
from plankwright.application.gap_advice import judge_gap
from plankwright.application.height_advice import height_section, transition_kind
from plankwright.application.movement_advice import growth_mm, movement_section
from plankwright.application.slab_advice import PlacedTest, SlabJob, advise_on_slab
from plankwright.application.told import counted, told_thickness
from plankwright.errors import InputError
from plankwright.model.air import Air, Climate, RoomAir
from plankwright.model.build_up import Layers, Meeting
from plankwright.model.floor_run import FloorRun
from plankwright.model.house import House
from plankwright.model.slab import Film, MoistureReading, Slab, WaterHistory
from plankwright.model.slab_heights import GapReading, HeightGrid, ScatteredHeights
from plankwright.physics.flatness_rules import published_rule, single_rule
from plankwright.physics.pouring import Compound

FT = 304.8
IN = 25.4
READINGS = tuple(
    MoistureReading("humidity probe", f"place {n}", date(2026, 4, 2), 65.0) for n in range(3)
)
SLAB = Slab(20.0, 100.0, readings=READINGS, wet_months=(4,), temperature_c=19.0)
FLAT = HeightGrid(((0.0,) * 5,) * 4, (500.0, 500.0))
ROOM = RoomAir(Air(20.0, 50.0))
GAPS = (("A-B", 8.0),)
NEW = House(2015, "no", "no", "no", "no")


# --- film ---------------------------------------------------------------------------------------


def test_a_class_i_film_is_told_not_to_reach_the_european_value() -> None:
    section = film_section(replace(SLAB, film=Film(perms=0.06)), "go-with-barrier", "mm")
    assert "sd 58.3 m" in section.lines[0]
    assert "class I" in section.lines[0]
    assert [finding.code for finding in section.findings] == ["film-too-open"]
    assert "sd 75 m" in section.findings[0].message


def test_vapor_through_a_film_is_told_in_the_unit_of_the_job() -> None:
    slab = replace(SLAB, film=Film(perms=0.06), temperature_c=15.0)
    metric, inches = (film_section(slab, "go", unit).lines[2] for unit in ("mm", "in"))
    grams, pounds = (float(re.findall(r"through (\S+) ", line)[0]) for line in (metric, inches))
    # 1 lb/(1000 ft2 24 h) = 453.59237 g / 92.90304 m2 = 4.8824 g/(m2 24 h), told to 0.001 of each
    assert pounds == pytest.approx(grams / 4.8824, abs=0.0007)
    assert "g/(m2 24 h) from a saturated slab into a room of 20.0 °C (68.0 °F)" in metric
    assert "lb/(1000 ft2 24 h) from a saturated slab into a room of 68.0 °F (20.0 °C)" in inches


def test_a_tight_film_passes_both_and_an_open_one_neither() -> None:
    assert film_section(replace(SLAB, film=Film(perms=0.04)), "go", "mm").findings == ()
    messages = [
        f.message for f in film_section(replace(SLAB, film=Film(perms=0.5)), "go", "mm").findings
    ]
    assert len(messages) == 3


def test_the_strictest_limit_wins() -> None:
    assert strictest_perms(Film())[0] == 0.1
    assert strictest_perms(Film(required_perms=0.05))[0] == 0.05
    assert strictest_perms(Film(required_sd_m=75.0))[0] == pytest.approx(0.0466, abs=1e-4)


def test_a_second_film_is_questioned_unless_the_leaflet_takes_it() -> None:
    for second, asked in (("forbidden", True), ("not said", True), ("allowed", False)):
        film = Film(perms=0.04, attached=True, second=second)  # type: ignore[arg-type]
        found = {f.code for f in film_section(replace(SLAB, film=film), "go", "mm").findings}
        assert ("second-barrier" in found) == asked


# --- air ----------------------------------------------------------------------------------------


def test_w4_w5_on_the_page() -> None:
    section = air_section(RoomAir(Air(24.0, 60.0)), 17.0, "mm")
    told = " ".join(section.lines)
    assert "+1.24 K" in told
    assert "92 % RH" in told
    assert [f.code for f in section.findings].count("condensation") == 2
    assert "18.8 °C (65.8 °F)" in section.findings[0].remedy


def test_a_job_in_inches_has_its_air_in_fahrenheit() -> None:
    # the same air: 24 °C = 75.2 °F, 17 °C = 62.6 °F, 1.24 K = 2.2 °F, 3 K = 5.4 °F; 18 to 24 °C
    section = air_section(RoomAir(Air(24.0, 60.0), limits=Climate(18, 23, 40, 60)), 17.0, "in")
    told = " ".join(section.lines)
    assert "Air 75.2 °F (24.0 °C)" in told
    assert "Slab 62.6 °F (17.0 °C): +2.2 °F (+1.24 K) from the dew point; the rule asks for 5.4 °F"
    outside = section.findings[0].message
    assert outside == "75.2 °F (24.0 °C), 60 % RH is outside 64 to 73 °F, 40 to 60 %"


def test_3_kelvin_and_5_fahrenheit_are_different_rules() -> None:
    # dew point 15.763 °C: a slab of 18.6 °C has 2.84 K: passes 5 °F (2.78 K), fails 3 K
    def condenses(rule: str) -> bool:
        air = RoomAir(Air(24.0, 60.0), margin=rule)  # type: ignore[arg-type]
        return any(f.where == "slab" for f in air_section(air, 18.6, "mm").findings)

    assert condenses("3 K")
    assert not condenses("5 F")


def test_windows_on_a_summer_and_a_winter_day() -> None:
    cellar = Air(18.0, 60.0)
    summer = air_section(RoomAir(cellar, outside=Air(30.0, 60.0)), 16.0, "mm").lines
    assert any("drip on the slab: keep the windows shut" in line for line in summer)
    winter = air_section(RoomAir(cellar, outside=Air(2.0, 80.0)), 16.0, "mm").lines
    assert any("airing helps" in line for line in winter)
    mild = air_section(RoomAir(cellar, outside=Air(20.0, 65.0)), 16.0, "mm").lines
    assert any("more water than the room's" in line for line in mild)


def test_boards_are_ready_after_their_hours() -> None:
    air = RoomAir(Air(20, 50), boards_in=datetime(2026, 10, 10, 9), hours=48)  # noqa: DTZ001
    assert ready_at(air) == datetime(2026, 10, 12, 9)  # noqa: DTZ001
    assert ready_at(RoomAir()) is None


def test_without_air_the_page_asks_for_it() -> None:
    assert "No air was measured" in air_section(RoomAir(), None, "mm").lines[0]


def test_nonsense_air_is_refused() -> None:
    for values in ((200.0, 50.0), (20.0, 0.0), (20.0, 101.0)):
        with pytest.raises(InputError):
            Air(*values)
    with pytest.raises(InputError):
        Climate(20, 10, 30, 60)


# --- gaps under a straightedge ------------------------------------------------------------------

RULE_8_FT = single_rule("leaflet", 8 * FT, 3 / 16 * IN, "leaflet, p. 2")


def test_three_quarters_under_12_ft_with_a_limit_under_8_ft() -> None:
    """Gaps do not scale with length: it fails as it stands, and 8 ft readings are asked for."""
    gap = GapReading("middle", 12 * FT, 3 / 4 * IN)
    verdict, words = judge_gap(gap, RULE_8_FT, "in")
    assert verdict == "fails as it stands"
    assert "Gaps do not scale with length" in words
    flat = judge_flatness(None, [gap], RULE_8_FT, (), Compound(), "in")
    assert flat.passes is False
    assert "flatness-other-edge" in {f.code for f in flat.section.findings}
    assert any('straightedge of 96"' in step.text for step in flat.section.steps)


@pytest.mark.parametrize(
    ("edge_ft", "gap_in", "verdict"),
    [
        (8, 0.18, "passes"),
        (8, 0.20, "fails"),
        (12, 0.18, "passes"),  # a shorter edge shows no more
        (4, 0.25, "fails"),  # a longer edge shows no less
        (4, 0.10, "unproven"),
    ],
)
def test_what_another_edge_can_and_cannot_tell(edge_ft: float, gap_in: float, verdict: str) -> None:
    gap = GapReading("here", edge_ft * FT, gap_in * IN)
    assert judge_gap(gap, RULE_8_FT, "in")[0] == verdict


def test_unproven_gaps_leave_the_question_open() -> None:
    short = GapReading("here", 4 * FT, 1.0)
    assert judge_flatness(None, [short], RULE_8_FT, (), Compound(), "in").passes is None
    long = GapReading("here", 8 * FT, 1.0)
    assert judge_flatness(None, [long], RULE_8_FT, (), Compound(), "in").passes is True
    nothing = judge_flatness(None, [], RULE_8_FT, (), Compound(), "in")
    assert nothing.passes is None
    assert nothing.section.steps


# --- heights ------------------------------------------------------------------------------------

WAVY = HeightGrid(
    tuple(
        tuple(float(-9 * np.exp(-((x - 3) ** 2 + (y - 2) ** 2) / 2)) for x in range(7))
        for y in range(5)
    ),
    (500.0, 500.0),
)


def test_a_wavy_slab_is_mended_with_less_than_the_best_plane() -> None:
    flat = judge_flatness(WAVY, (), published_rule("BS 8204 SR1"), (), Compound(), "mm")
    assert flat.passes is False
    assert flat.patch is not None
    assert flat.patch.passes
    assert len(flat.dips) == 1
    assert flat.dips[0].at == (1500.0, 1000.0)
    assert any("Dip 1" in line for line in flat.section.lines)
    assert any("deepest first" in step.text for step in flat.section.steps)
    assert len(flat.pours) == 2


def test_a_job_in_inches_buys_bags_of_pounds_and_mixes_quarts() -> None:
    rule, fifty = published_rule("BS 8204 SR1"), Compound(bag_kg=22.6796185)
    inches, metric = (judge_flatness(WAVY, (), rule, (), fifty, unit, 8.0) for unit in ("in", "mm"))
    assert inches.patch is not None
    quarts = inches.patch.fill_l / 0.946352946  # US liquid quart, NIST Handbook 44, appendix C
    told = f"{quarts:.1f} qt" if quarts < 3.95 else f"{quarts / 4:.1f} gal"
    [line] = [line for line in inches.section.lines if line.startswith("Least patch")]
    assert line.startswith(f"Least patch: {told}, ")
    assert "of 50 lb;" in line
    [line] = [line for line in metric.section.lines if line.startswith("Least patch")]
    assert line.startswith(f"Least patch: {inches.patch.fill_l:.1f} L, ")
    assert "of 22.7 kg;" in line
    # 8 °C = 46.4 °F; 10 °C = 50 °F, 30 °C = 86 °F
    cold = inches.section.findings[-1].message
    assert cold == "the slab is at 46.4 °F (8.0 °C), compound and patch want 50 to 86 °F"
    assert any("Slab 50 to 86 °F" in step.text for step in inches.section.steps)
    assert any("Slab 10 to 30 °C" in step.text for step in metric.section.steps)
    pages = [*inches.section.lines, *(step.text for step in inches.section.steps)]
    assert not any(re.search(r"\d (L|kg|m2|°C)\b", line) for line in pages)


def test_a_flat_slab_needs_no_step() -> None:
    others = (published_rule("DIN 18202 line 3"),)
    flat = judge_flatness(FLAT, (), published_rule("BS 8204 SR1"), others, Compound(), "mm")
    assert flat.passes is True
    assert flat.section.steps == ()
    assert flat.dips == []


def test_sparse_and_scattered_heights() -> None:
    sparse = HeightGrid(((0.0, 0.0), (0.0, 1.0)), (1500.0, 1500.0))
    flat = judge_flatness(sparse, (), published_rule("BS 8204 SR1"), (), Compound(), "mm")
    assert "heights-sparse" in {f.code for f in flat.section.findings}
    scattered = ScatteredHeights(((0, 0, 0), (900, 0, 1), (0, 900, 2), (900, 900, 0)))
    judged = judge_flatness(scattered, (), published_rule("BS 8204 SR1"), (), Compound(), "mm")
    assert judged.passes is not None


def test_ff_is_told_where_the_step_is_the_standards() -> None:
    rows = ((0.0, 1.0, 0.0, 1.0, 0.0),) * 2
    grid = HeightGrid(rows, (304.8, 304.8))
    flat = judge_flatness(grid, (), published_rule("BS 8204 SR3"), (), Compound(), "mm")
    assert any("FF" in line and "indicative" in line for line in flat.section.lines)


def test_broken_heights_are_refused() -> None:
    with pytest.raises(InputError):
        HeightGrid(((0.0, 1.0), (0.0,)), (500.0, 500.0))
    with pytest.raises(InputError):
        HeightGrid(((0.0, 1.0), (0.0, float("nan"))), (500.0, 500.0))
    with pytest.raises(InputError):
        GapReading("x", 100.0, 100.0)
    with pytest.raises(InputError):
        ScatteredHeights(((0, 0, 0),))


# --- movement -----------------------------------------------------------------------------------


def test_growth_by_kind_of_board() -> None:
    swing = Climate(15.0, 30.0, 35.0, 65.0)
    laminate = FloorRun(6000, 4000, GAPS)
    assert growth_mm(laminate, swing) == pytest.approx((5.4, 3.6))
    vinyl = replace(laminate, kind="vinyl", along_mm=8000)
    assert growth_mm(vinyl, swing)[0] == pytest.approx(9.6)  # W16 at 8e-5
    # W18's 2.32 mm on 125 mm, across 4000 mm: 32 boards of it
    solid = replace(laminate, kind="solid")
    assert growth_mm(solid, swing)[1] == pytest.approx(2.32 * 32, abs=0.3)


def test_growth_over_the_gap_and_runs_over_the_limit_are_found() -> None:
    swing = Climate(15.0, 30.0, 35.0, 65.0)
    section = movement_section(FloorRun(12_000, 9_000, (("A-B", 3.0), ("B-C", 8.0))), swing, "mm")
    assert [f.code for f in section.findings] == ["growth-over-gap", "run-too-long", "run-too-long"]
    assert "18.0 mm on each side" in section.lines[-1]
    assert "9.0 mm by the other" in section.lines[-1]


def test_a_swing_outside_the_published_range_is_told() -> None:
    section = movement_section(FloorRun(4000, 3000, GAPS), Climate(15, 25, 20, 60), "mm")
    assert section.findings[0].code == "out-of-range"
    assert "20 is outside 30 to 90" in section.findings[0].message
    assert "not given" in movement_section(FloorRun(4000, 3000, GAPS), None, "mm").lines[0]


# --- doors and steps ----------------------------------------------------------------------------


def test_doors_jambs_transitions_and_risers() -> None:
    meetings = [
        Meeting("laundry", under_leaf_mm=12.0, beyond_mm=6.0),
        Meeting("furnace room", "fire door", under_leaf_mm=10.0),
        Meeting("hall", "opening", beyond_mm=0.0),
        Meeting("stair", "stair", riser_mm=190.0, others_mm=190.0),
    ]
    section = height_section(Layers(8.0, 2.0, 0.2), meetings, "mm")
    told = " ".join(section.lines)
    assert "10.2 mm over the slab" in told
    assert "Saw jambs off 12 mm" in told  # 10.2 + 1.5, rounded up
    codes = [f.code for f in section.findings]
    assert codes == ["door-binds", "door-binds", "edge-to-trip", "riser-changed"]
    assert "Do not trim a fire-rated door" in section.findings[1].remedy
    assert not any("furnace room" in step.text and "rim" in step.text for step in section.steps)


def test_a_job_in_inches_has_its_heights_and_growth_in_inches() -> None:
    # 12 - 10.2 = 1.8 mm = 2.27 of 1/32 in; 10.2 - 0 mm; growth 18 mm / 2 = 9 mm = 11.3 of 1/32
    meetings = [Meeting("laundry", under_leaf_mm=12.0), Meeting("hall", "opening", beyond_mm=0.0)]
    told = height_section(Layers(8.0, 2.0, 0.2), meetings, "in")
    assert told.findings[0].message.startswith('1/16" (1.8 mm) would stay free')
    assert 'new floor 13/32" (10.2 mm) higher' in " ".join(told.lines)
    # 8 / 25.4 = 0.315, 2 / 25.4 = 0.079, 0.2 / 25.4 = 0.008 in; 6 mm = 7.6 of 1/32, told as 1/4
    layers = 'Board 0.315" + pad 0.079" + vapor barrier 0.008" + leveling 0" = 13/32"'
    assert told.lines[0].startswith(layers)
    assert told.findings[0].message.endswith(
        'wanted: 1/4" (free space under a door leaf; common practice)'
    )
    run = FloorRun(12_000, 9_000, (("A-B", 3.0),))
    growth = movement_section(run, Climate(15.0, 30.0, 35.0, 65.0), "in")
    assert growth.findings[0].message.endswith('the gap there is 1/8" (3.0 mm)')


@pytest.mark.parametrize(
    ("kind", "rise", "transition"),
    [
        ("door", 0.0, "T-molding"),
        ("door", 5.0, "reducer"),
        ("door", 12.0, "door threshold or ramp"),
        ("outside door", 0.0, "door threshold or ramp"),
        ("opening", -12.0, "ramp"),
    ],
)
def test_kinds_of_transition(kind: str, rise: float, transition: str) -> None:
    assert transition_kind(Meeting("x", kind), rise) == transition  # type: ignore[arg-type]


# --- the page -----------------------------------------------------------------------------------


def test_a_dry_flat_slab_is_ready_and_its_steps_are_in_order() -> None:
    job = SlabJob(SLAB, ROOM, NEW, FLAT, layers=Layers(8.0))
    report = advise_on_slab(job)
    assert report.verdict == "go-with-barrier"
    assert report.ready
    assert report.advice[0].startswith("Go on with a vapor barrier of class I")
    phases = [step.phase for step in report.steps]
    assert phases == sorted(phases)
    assert all(step.after == () for step in report.steps)
    assert report.steps[-1].text.endswith("row 1 may begin.")
    film = next(step.text for step in report.steps if "vapor barrier" in step.text)
    assert "never behind it" in film  # an upturned film must not shut damp in
    assert "no radon barrier" in film


def test_a_wet_history_stops_and_lays_no_film() -> None:
    slab = replace(SLAB, history=WaterHistory(standing_water=True))
    report = advise_on_slab(SlabJob(slab, ROOM, NEW, FLAT))
    assert report.verdict == "stop"
    assert not report.ready
    assert not any("Lay the vapor barrier" in step.text for step in report.steps)
    assert report.advice[0].startswith("Stop: find the source")


@pytest.mark.parametrize("readings", [(), READINGS[:2]])
def test_before_enough_is_known_nothing_is_laid(
    readings: tuple[MoistureReading, ...],
) -> None:
    report = advise_on_slab(SlabJob(replace(SLAB, readings=readings), ROOM, House(), FLAT))
    assert report.verdict == "measure"
    told = " ".join(step.text for step in report.steps)
    assert "row 1 may begin" not in told
    assert "Drill 3 holes" in told
    assert report.steps[-1].text.startswith("Then ask for this page again")


def test_a_cold_slab_takes_no_compound() -> None:
    rule = published_rule("BS 8204 SR1")
    cold = judge_flatness(WAVY, (), rule, (), Compound(), "mm", slab_c=8.0)
    assert any(f.where == "slab temperature" for f in cold.section.findings)


def test_every_gate_is_asked_in_an_old_house() -> None:
    report = advise_on_slab(SlabJob(SLAB, ROOM, House(), WAVY))
    asked = [n for n, s in enumerate(report.steps) if ", first:" in s.text]
    pulled = next(n for n, s in enumerate(report.steps) if "pull the baseboards" in s.text)
    assert asked
    assert min(asked) < pulled


def test_reminders_for_tests_boards_and_the_wet_season() -> None:
    start = datetime(2026, 10, 1, 8)  # noqa: DTZ001
    slab = replace(SLAB, readings=tuple(replace(r, on=date(2026, 10, 3)) for r in READINGS))
    job = SlabJob(
        slab, replace(ROOM, boards_in=start), NEW, FLAT,
        placed=(PlacedTest("calcium chloride", "middle", start),
                PlacedTest("humidity probe", "middle", start)),
    )  # fmt: skip
    reminders = advise_on_slab(job).reminders
    told = [(r.when.isoformat(), r.title) for r in reminders]
    assert told == [
        ("2026-10-02T08:00:00", "Read the humidity probe test: middle"),
        ("2026-10-02T08:00:00", "Read the room's air"),
        ("2026-10-03T08:00:00", "Boards are ready to lay"),
        ("2026-10-04T02:00:00", "Read the calcium chloride test: middle"),
        ("2027-04-15T09:00:00", "Wet-season moisture test"),
    ]


def test_figures_for_people() -> None:
    assert told_thickness(7.0, "in") == '9/32" (7.0 mm)'
    assert told_thickness(25.4, "ft") == '1" (25.4 mm)'
    assert told_thickness(0.1, "in") == '0" (0.1 mm)'
    assert told_thickness(7.04, "mm") == "7.0 mm"
    assert counted(2, "dip") == "2 dips"
