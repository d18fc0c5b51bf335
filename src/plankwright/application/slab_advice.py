"""The slab and the air before the first board: one page of advice and a list of things to do."""

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from plankwright.application.air_advice import air_section, wait_reminders
from plankwright.application.film_advice import class_words, film_section, lap_and_upturn
from plankwright.application.flat_advice import Flatness, judge_flatness
from plankwright.application.gates import cleared_words, open_gates, order_steps
from plankwright.application.height_advice import height_section
from plankwright.application.moisture_advice import Moisture, barrier_steps, weigh_moisture
from plankwright.application.movement_advice import movement_section
from plankwright.model.advice import (
    CLEAN,
    COVER,
    DRY,
    MEASURE,
    OPEN,
    READY,
    Reminder,
    Section,
    Step,
    Verdict,
)
from plankwright.model.air import RoomAir
from plankwright.model.build_up import Layers, Meeting
from plankwright.model.findings import Finding
from plankwright.model.floor_run import FloorRun
from plankwright.model.house import House
from plankwright.model.slab import Slab, TestKind
from plankwright.model.slab_heights import GapReading, HeightGrid, ScatteredHeights
from plankwright.physics.flatness_rules import FlatnessRule, published_rule
from plankwright.physics.pouring import Compound
from plankwright.units import Unit

# From setting a test up to reading it [h]: F1869 60 to 72, F2170 24 (2018 on), D4263 at least 16.
DUE_HOURS: dict[TestKind, float] = {
    "calcium chloride": 66.0,
    "humidity probe": 24.0,
    "surface hygrometer": 72.0,
    "plastic sheet": 16.0,
}


@dataclass(frozen=True, slots=True)
class PlacedTest:
    """A test that was set up and waits to be read."""

    kind: TestKind
    place: str
    at: datetime


@dataclass(frozen=True, slots=True)
class SlabJob:
    """Everything that was written down about slab, air, house and heights.

    Parameters
    ----------
    rule : flatness asked for; by default the common leaflet figure.
    others : published rules to be shown beside it.
    placed : tests that wait to be read.
    """

    slab: Slab
    air: RoomAir = field(default_factory=RoomAir)
    house: House = field(default_factory=House)
    heights: HeightGrid | ScatteredHeights | None = None
    gaps: tuple[GapReading, ...] = ()
    rule: FlatnessRule = field(default_factory=lambda: published_rule("leaflet habit, 2 m"))
    others: tuple[FlatnessRule, ...] = ()
    compound: Compound = field(default_factory=Compound)
    layers: Layers | None = None
    meetings: tuple[Meeting, ...] = ()
    run: FloorRun | None = None
    placed: tuple[PlacedTest, ...] = ()
    unit: Unit = "mm"


@dataclass(frozen=True, slots=True, eq=False)
class SlabReport:
    """The page.

    Parameters
    ----------
    verdict : on moisture.
    ready : whether nothing stands against laying.
    advice : the advice in plain words, reasons included.
    sections : the page's sections in order.
    steps : things to do, in order, gates in front of what they guard.
    reminders : for the calendar.
    flatness : figures for the contour map.
    """

    verdict: Verdict
    ready: bool
    advice: tuple[str, ...]
    sections: tuple[Section, ...]
    steps: tuple[Step, ...]
    reminders: tuple[Reminder, ...]
    flatness: Flatness

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything to check, in the order of the sections."""
        return tuple(finding for section in self.sections for finding in section.findings)


def advise_on_slab(job: SlabJob) -> SlabReport:
    """The page of advice for a slab: moisture, air, flatness, movement, heights, gates."""
    moisture = weigh_moisture(job.slab, job.unit)
    flatness = judge_flatness(
        job.heights, job.gaps, job.rule, job.others, job.compound, job.unit, job.slab.temperature_c
    )
    sections = [
        moisture.section,
        film_section(job.slab, moisture.verdict, job.unit),
        air_section(job.air, job.slab.temperature_c, job.unit),
        flatness.section,
    ]
    if job.run is not None:
        sections.append(movement_section(job.run, job.air.swing, job.unit))
    if job.layers is not None:
        sections.append(height_section(job.layers, job.meetings, job.unit))
    sections.append(_gate_section(job.house))
    steps = _all_steps(job, moisture.verdict, sections)
    return SlabReport(
        verdict=moisture.verdict,
        ready=_is_ready(moisture.verdict, flatness, sections),
        advice=tuple(_advice(job, moisture, flatness, sections)),
        sections=tuple(sections),
        steps=order_steps(steps, job.house),
        reminders=tuple(_reminders(job)),
        flatness=flatness,
    )


def _is_ready(verdict: Verdict, flatness: Flatness, sections: list[Section]) -> bool:
    """Whether nothing stands against laying but the steps that belong to laying itself."""
    codes = {finding.code for section in sections for finding in section.findings}
    dry = verdict in ("go", "go-with-barrier") and "condensation" not in codes
    return dry and flatness.passes is True


# --- advice -----------------------------------------------------------------------------------


def _advice(
    job: SlabJob, moisture: Moisture, flatness: Flatness, sections: list[Section]
) -> list[str]:
    words = {
        "go": "Go on. A vapor barrier is advised over every slab all the same (US wood flooring "
        "trade; retrieved).",
        "go-with-barrier": f"Go on with a vapor barrier of {class_words(job.slab.film)}.",
        "measure": "Not yet: measure first. Nothing can be said with so few readings.",
        "stop": "Stop: find the source of the water. A vapor barrier does not stop liquid water.",
    }
    advice = [words[moisture.verdict], *moisture.reasons]
    told = {
        True: "The slab is flat enough.",
        False: "The slab is not flat enough: mend it first, as listed.",
        None: "Whether the slab is flat enough is not known yet.",
    }
    advice.append(told[flatness.passes])
    codes = {finding.code for section in sections for finding in section.findings}
    if "condensation" in codes:
        advice.append("The slab can sweat in this air: dry the air or warm the slab first.")
    if "dry-season" in codes:
        advice.append("Read again in the wet season: a dry-season reading is not a wet-season one.")
    advice.append("Local codes and licensed people go before anything on this page.")
    return advice


def _gate_section(house: House) -> Section:
    lines = [*cleared_words(house)]
    unsettled = [gate.words for gate in open_gates(house)]
    if unsettled:
        lines.append(f"Not settled yet, see the list: {', '.join(unsettled)}.")
    lines += [
        "Radon: a vapor barrier is none against radon. Fix at or above 4 pCi/L (148 Bq/m3); test "
        "before and after (EPA 402/K-12/002).",
        "Water and current: no cords on a wet slab, outlets with ground-fault protection; sump "
        "lid, floor drain and clean-out stay open to reach.",
        "Escape: a finished basement needs an escape opening; a new floor takes headroom. Ask your "
        "building department.",
    ]
    return Section("Before you grind, scrape, drill or pull anything off", tuple(lines))


# --- steps ------------------------------------------------------------------------------------


def _all_steps(job: SlabJob, verdict: Verdict, sections: list[Section]) -> list[Step]:
    """Everything to do; while the slab's moisture is not settled, only what settles it."""
    asked = [step for section in sections for step in section.steps]
    if verdict in ("stop", "measure"):
        again = Step("Then ask for this page again, before anything is mended or laid.", READY)
        return [*(step for step in asked if step.phase <= MEASURE), again]
    steps = [*_opening_steps(), *_film_steps(job, verdict), *_covering_steps(job)]
    return [*steps, *asked, *_before_row_one()]


def _film_steps(job: SlabJob, verdict: Verdict) -> list[Step]:
    return barrier_steps(verdict, class_words(job.slab.film), *lap_and_upturn(job.unit))


def _opening_steps() -> list[Step]:
    return [
        Step(
            "Take doors off and pull the baseboards; number them on the back; mind pipes and "
            "cables behind nails.",
            OPEN,
        ),
        Step("Clean the slab: vacuum with a HEPA filter, no dry sweeping of concrete dust.", CLEAN),
    ]


def _covering_steps(job: SlabJob) -> list[Step]:
    steps = []
    if not job.slab.film.attached:
        pad = "Lay the pad: butted, never lapped, joints taped; never two pads."
        steps.append(Step(pad, COVER))
    if job.layers is None:
        steps.append(Step("Saw the jambs off at the height of a board on a pad.", DRY))
    return steps


def _before_row_one() -> list[Step]:
    return [
        Step(
            "Inspect every board in daylight: decor, edges, locks, batch number; put doubtful ones "
            "aside, mix packs.",
            READY,
        ),
        Step("Doors off, jambs cut, slab clean, boards inspected: row 1 may begin.", READY),
    ]


# --- reminders --------------------------------------------------------------------------------


def _reminders(job: SlabJob) -> list[Reminder]:
    reminders = [*_placed_reminders(job), *wait_reminders(job.air)]
    recheck = _next_wet_month(job.slab)
    if recheck is not None:
        when = datetime.combine(recheck, time(9))
        text = "Read the probes again now that the ground is at its wettest."
        reminders.append(Reminder(when, "Wet-season moisture test", text))
    return sorted(reminders, key=lambda reminder: reminder.when)


def _placed_reminders(job: SlabJob) -> list[Reminder]:
    return [
        Reminder(
            test.at + timedelta(hours=DUE_HOURS[test.kind]),
            f"Read the {test.kind} test: {test.place}",
            "Write down value, place, date and the room's air.",
        )
        for test in job.placed
        if test.kind in DUE_HOURS
    ]


def _next_wet_month(slab: Slab) -> date | None:
    """The 15th of the first wet month after the last reading."""
    if not slab.wet_months or not slab.readings:
        return None
    last = max(reading.on for reading in slab.readings)
    coming = [date(last.year + k, month, 15) for k in (0, 1) for month in slab.wet_months]
    return min((day for day in coming if day > last), default=None)
