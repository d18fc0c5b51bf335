"""Is the slab dry enough: the moisture book weighed, and what to do.

The slab's water history comes first and overrides every reading. Then the worst reading of each
kind of test, plus its instrument's error, against the limit for that kind; no kind is ever
converted into another. A vapor barrier rescues a reading over the limit only where the leaflet
says so, and never stops liquid water.
"""

from dataclasses import dataclass

from plankwright.errors import RangeError
from plankwright.model.advice import ASK, COVER, MEASURE, Section, Step, Verdict
from plankwright.model.findings import Finding
from plankwright.model.slab import TEST_UNITS, MoistureLimit, MoistureReading, Slab, TestKind
from plankwright.physics.slab_moisture import (
    emission_lb,
    emission_si,
    probe_depth_mm,
    tests_needed,
    water_per_day_g,
)
from plankwright.units import Unit, format_area, format_length

SHALLOW_SHARE = 0.9  # a probe less deep than this share of the asked depth (common practice)
LEAST_WAIT_H = 24.0  # ASTM F2170 from 2018 on; 72 h before (secondary)
_COUNTED: tuple[TestKind, ...] = (
    "calcium chloride", "humidity probe", "surface hygrometer", "carbide",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Weighed:
    """A reading as it counts: its value in its own unit, and what is wrong with it."""

    reading: MoistureReading
    value: float | None
    fault: str = ""
    only_against: bool = False

    @property
    def worst(self) -> float:
        """The reading plus its instrument's error."""
        return (self.value or 0.0) + self.reading.instrument_error


@dataclass(frozen=True, slots=True)
class Moisture:
    """The verdict on moisture with its reasons."""

    verdict: Verdict
    reasons: tuple[str, ...]
    section: Section


def weigh_moisture(slab: Slab, unit: Unit) -> Moisture:
    """The verdict on a slab's moisture, its reasons, and the section of the page."""
    weighed = [weigh_reading(reading, slab) for reading in slab.readings]
    findings = [*_reading_findings(weighed), *_book_findings(slab, weighed, unit)]
    verdict, reasons = _verdict(slab, weighed)
    section = Section(
        "Moisture",
        tuple(_lines(slab, weighed, unit)),
        tuple(findings),
        tuple(_steps(slab, verdict, unit)),
    )
    return Moisture(verdict, tuple(reasons), section)


def weigh_reading(reading: MoistureReading, slab: Slab) -> Weighed:
    """A reading's value and whether it counts."""
    if reading.kind == "calcium chloride" and (slab.painted or slab.leveled):
        state = "painted or coated" if slab.painted else "patched or leveled"
        return Weighed(reading, None, f"void: the slab is {state} (ASTM F1869 scope)")
    try:
        value = _value(reading)
    except RangeError as error:
        return Weighed(reading, None, f"void: {error}")
    if reading.waited_h is not None and reading.waited_h < LEAST_WAIT_H:
        return Weighed(reading, None, f"void: read {reading.waited_h:g} h after drilling, not 24 h")
    if _too_shallow(reading, slab):
        return Weighed(reading, value, "too shallow: counts only if too wet", only_against=True)
    return Weighed(reading, value)


def _value(reading: MoistureReading) -> float:
    if reading.dish is None:
        return float(reading.value or 0.0)
    return emission_lb(reading.dish.gain_g, reading.dish.area_ft2, reading.dish.hours)


def _too_shallow(reading: MoistureReading, slab: Slab) -> bool:
    if reading.kind != "humidity probe" or reading.depth_mm is None or slab.thickness_mm is None:
        return False
    asked = probe_depth_mm(slab.thickness_mm, slab.drying)
    return reading.depth_mm < SHALLOW_SHARE * asked


# --- the verdict ------------------------------------------------------------------------------


def _verdict(slab: Slab, weighed: list[Weighed]) -> tuple[Verdict, list[str]]:
    signs = slab.history.signs()
    if signs:
        told = "; ".join(signs)
        return "stop", [f"The slab's history overrides any reading: {told}. Find the source."]
    if any(w.reading.kind == "plastic sheet" and w.value for w in weighed):
        return "stop", ["Wet under a plastic sheet: too wet whatever other tests say."]
    results = [_against_limit(w, slab) for w in weighed if w.value is not None]
    over = [reason for result, reason in results if result == "over"]
    if over:
        return "stop", over
    counted, need = _most_of_a_kind(slab, weighed), tests_needed(slab.area_m2)
    if counted < need:
        return "measure", [f"{counted} readings of one kind count; this slab needs {need}."]
    rescued = [reason for result, reason in results if result == "barrier"]
    within = [reason for result, reason in results if result == "within"]
    if rescued or slab.film.required or (slab.below_grade and slab.barrier_below != "yes"):
        return "go-with-barrier", rescued + _why_barrier(slab) + _worst_only(weighed, slab)
    return "go", within[:1] if len(within) == 1 else _worst_only(weighed, slab)


def _most_of_a_kind(slab: Slab, weighed: list[Weighed]) -> int:
    """How many readings count, of the kind that has most: kinds do not stand in for each other."""
    kinds = [w.reading.kind for w in weighed if w.reading.kind in _COUNTED and _judged(w, slab)]
    return max((kinds.count(kind) for kind in kinds), default=0)


def _judged(weighed: Weighed, slab: Slab) -> bool:
    if weighed.value is None or weighed.only_against:
        return False
    return slab.limit_for(weighed.reading.kind) is not None


def _against_limit(weighed: Weighed, slab: Slab) -> tuple[str, str]:
    """``over``, ``barrier`` or ``within``, or ``none`` where nothing can be said; and why."""
    reading, limit = weighed.reading, slab.limit_for(weighed.reading.kind)
    if reading.kind not in _COUNTED or limit is None:
        return "none", ""
    told = f"{reading.kind} at {reading.place}: {_figure(weighed)}"
    if weighed.worst <= limit.bare.value:
        result = "none" if weighed.only_against else "within"
        return result, f"{told}, within {limit.bare.told()}."
    rescue = limit.with_barrier
    if rescue is not None and weighed.worst <= rescue.value:
        return (
            "barrier",
            f"{told}, over {limit.bare.told()}, but within {rescue.told()} over a film.",
        )
    why = _no_rescue(limit)
    return "over", f"{told}, over {limit.bare.told()}. {why}"


def _no_rescue(limit: MoistureLimit) -> str:
    if limit.with_barrier is None:
        return "The leaflet does not say that a vapor barrier rescues it."
    return f"Over what the leaflet takes with a vapor barrier, too: {limit.with_barrier.told()}."


def _why_barrier(slab: Slab) -> list[str]:
    reasons = []
    if slab.film.required:
        reasons.append("The leaflet asks for a vapor barrier in any case.")
    if slab.below_grade and slab.barrier_below != "yes":
        reasons.append(
            "The slab lies on or below the ground and no vapor barrier beneath it is known."
        )
    return reasons


def _worst_only(weighed: list[Weighed], slab: Slab) -> list[str]:
    """The sentence on the worst reading of each kind, where it is within its limit."""
    told = []
    for kind in _COUNTED:
        of_kind = [w for w in weighed if w.reading.kind == kind and _judged(w, slab)]
        if of_kind:
            result, reason = _against_limit(max(of_kind, key=lambda w: w.worst), slab)
            told += [f"Worst {reason}"] if result == "within" else []
    return told


def _figure(weighed: Weighed) -> str:
    reading = weighed.reading
    return f"{weighed.value:.3g} + {reading.instrument_error:g} {TEST_UNITS[reading.kind]}"


# --- what is told -----------------------------------------------------------------------------


def _lines(slab: Slab, weighed: list[Weighed], unit: Unit) -> list[str]:
    lines = [_history_line(slab), _plan_line(slab, unit)]
    lines += [_reading_line(w, slab) for w in weighed]
    emissions = [w.value for w in weighed if w.reading.kind == "calcium chloride" and w.value]
    if emissions:
        lines.append(_water_line(max(emissions), slab.area_m2))
    lines.append(
        "One kind of test is never turned into another; no test finds liquid water under "
        "pressure, and every reading is of its own day."
    )
    return lines


def _history_line(slab: Slab) -> str:
    signs = slab.history.signs()
    return "History: " + ("; ".join(signs) if signs else "no water, crystals, smell or failed sump")


def _plan_line(slab: Slab, unit: Unit) -> str:
    need = tests_needed(slab.area_m2)
    depth = ""
    if slab.thickness_mm is not None:
        mm = probe_depth_mm(slab.thickness_mm, slab.drying)
        depth = f", probes {format_length(mm, unit)} deep"
    return f"{format_area(slab.area_m2, unit)}: {need} tests{depth} (ASTM F2170; secondary)"


def _reading_line(weighed: Weighed, slab: Slab) -> str:
    reading = weighed.reading
    head = f"{reading.on.isoformat()}, {reading.kind}, {reading.place}: "
    if weighed.value is None:
        return head + weighed.fault
    if reading.kind == "plastic sheet":
        return head + ("wet beneath" if weighed.value else "dry beneath, which proves nothing")
    if reading.kind == "meter":
        return head + f"{weighed.value:g}; a hand meter only tells where to test"
    result, _ = _against_limit(weighed, slab)
    words = {
        "over": "too wet",
        "barrier": "only over a vapor barrier",
        "within": "within its limit",
    }
    said = words.get(result, "cannot be judged")
    return head + _figure(weighed) + f": {weighed.fault or said}"


def _water_line(emission: float, area_m2: float) -> str:
    grams = water_per_day_g(emission, area_m2)
    micro, per_day = emission_si(emission)
    return (
        f"At {emission:.2f} lb/(1000 ft2 24 h) = {micro:.0f} ug/(s m2) = {per_day:.1f} g/(m2 24 h) "
        f"the slab gives off {grams / 453.59237:.2f} lb ({grams:.0f} g) of water a day."
    )


# --- what to check ----------------------------------------------------------------------------


def _reading_findings(weighed: list[Weighed]) -> list[Finding]:
    found = []
    for w in weighed:
        if w.fault:
            code = "reading-shallow" if w.only_against else "reading-void"
            where = f"{w.reading.kind} at {w.reading.place}"
            found.append(Finding(code, where, w.fault, "Test again as the procedure asks."))
    return found


def _book_findings(slab: Slab, weighed: list[Weighed], unit: Unit) -> list[Finding]:
    found = []
    valid = [w for w in weighed if w.reading.kind in _COUNTED and w.value is not None]
    need, counted = tests_needed(slab.area_m2), _most_of_a_kind(slab, weighed)
    if counted < need:
        message = (
            f"{counted} readings of one kind count; {format_area(slab.area_m2, unit)} need {need}"
        )
        found.append(Finding("too-few-tests", "slab", message, "Test where it looks dampest."))
    for kind in sorted({w.reading.kind for w in valid if slab.limit_for(w.reading.kind) is None}):
        message = f"no limit is known for the {kind} test"
        found.append(
            Finding("reading-no-limit", kind, message, "Copy it from the leaflet, with its page.")
        )
    if valid and not _wet_season_seen(slab, valid):
        months = ", ".join(str(m) for m in slab.wet_months) or "not said which (slab.wet_months)"
        message = f"no reading was taken in the wet months ({months})"
        remedy = "A dry-season reading is not a wet-season one: test again then."
        found.append(Finding("dry-season", "slab", message, remedy))
    return found


def _wet_season_seen(slab: Slab, valid: list[Weighed]) -> bool:
    return any(w.reading.on.month in slab.wet_months for w in valid)


# --- what to do -------------------------------------------------------------------------------


def _steps(slab: Slab, verdict: Verdict, unit: Unit) -> list[Step]:
    if verdict == "stop":
        return [
            Step(
                "Find where the water comes from: gutters, downspouts, ground that slopes to the "
                "house, window wells, drains, sump, plumbing. Lay nothing until it is mended and "
                "the slab has come through a wet season dry. Wet for over 24 to 48 h: assume mold "
                "(CDC, EPA, FEMA, HUD, NIH homeowner guide).",
                ASK,
            ),
            *_test_steps(slab, unit),
        ]
    return _test_steps(slab, unit) if verdict == "measure" else []


def _test_steps(slab: Slab, unit: Unit) -> list[Step]:
    need = tests_needed(slab.area_m2)
    depth = "40 % of the slab's thickness"
    if slab.thickness_mm is not None:
        depth = format_length(probe_depth_mm(slab.thickness_mm, slab.drying), unit)
    room = Step(
        "Hold the room at its living temperature and humidity for 48 h before testing and during.",
        MEASURE,
    )
    probes = Step(
        f"Drill {need} holes, {depth} deep, for humidity probes; wet or with a shroud and a HEPA "
        "vacuum (silica); read them 24 h later (72 h by editions of ASTM F2170 before 2018).",
        MEASURE,
    )
    return [room, probes]


def barrier_steps(verdict: Verdict, class_words: str, lap: str, upturn: str) -> list[Step]:
    """Steps for laying the film, where one is asked for or advised."""
    if verdict in ("stop", "measure"):
        return []
    return [
        Step(
            "Keep sump lids, drains and clean-outs open to reach: film and floor stop with a gap.",
            COVER,
        ),
        Step(
            f"Lay the vapor barrier ({class_words}): laps {lap}, taped full length, turned up the "
            f"wall {upturn} on the room side of the drywall, never behind it, where it would shut "
            "damp in. A vapor barrier is no radon barrier: test for radon before and after.",
            COVER,
        ),
    ]
