"""The room's air: dew point, the slab's margin, the windows, the dehumidifier, the boards' wait."""

from datetime import datetime, timedelta

from plankwright.application.told import (
    told_limit,
    told_temperature,
    told_temperatures,
    told_warming,
)
from plankwright.errors import RangeError
from plankwright.model.advice import MEASURE, READY, Reminder, Section, Step
from plankwright.model.air import MARGINS_K, Air, Climate, RoomAir
from plankwright.model.findings import Finding
from plankwright.model.sourced import Sourced
from plankwright.physics.psychrometrics import (
    condensation_margin_k,
    dew_point_c,
    highest_humidity_pct,
    surface_humidity_pct,
    vapor_pressure_pa,
)
from plankwright.physics.wood_moisture import wood_moisture_pct
from plankwright.units import Unit

MOLD_PCT = Sourced(80.0, "% RH at the surface for days", "ISO 13788", "from memory")
COLDEST_SLAB_C = Sourced(15.0, "°C", "usual leaflets", "common practice")


def air_section(air: RoomAir, slab_c: float | None, unit: Unit) -> Section:
    """The section on air; empty lines where nothing was measured."""
    if air.now is None:
        told = "No air was measured: hang up a hygrometer before anything else."
        step = Step("Measure the air's temperature and humidity morning and evening.", MEASURE)
        return Section("Air", (told,), (), (step,))
    lines = [_now_line(air.now, unit), *_wood_lines(air.now)]
    findings = _climate_findings(air.now, air.limits, unit)
    steps: list[Step] = []
    if slab_c is not None:
        slab_lines, slab_findings, steps = _slab_parts(air, air.now, slab_c, unit)
        lines += slab_lines
        findings += slab_findings
    if air.outside is not None:
        lines.append(_window_line(air.now, air.outside, slab_c, unit))
    lines.append(_wait_line(air, unit))
    return Section("Air", tuple(lines), tuple(findings), (*steps, *_wait_steps(air)))


def _now_line(now: Air, unit: Unit) -> str:
    dew = dew_point_c(now.temperature_c, now.humidity_pct)
    return (
        f"Air {told_temperature(now.temperature_c, unit)}, {now.humidity_pct:g} % RH: "
        f"{'frost' if dew < 0 else 'dew'} point {told_temperature(dew, unit)} "
        "(Hyland-Wexler, ASHRAE)."
    )


def _wood_lines(now: Air) -> list[str]:
    try:
        moisture = wood_moisture_pct(now.temperature_c, now.humidity_pct)
    except RangeError as error:
        return [f"Wood's moisture in this air is not told: {error}."]
    return [f"Wood settles at {moisture:.1f} % moisture in this air (Wood Handbook)."]


def _slab_parts(
    air: RoomAir, now: Air, slab_c: float, unit: Unit
) -> tuple[list[str], list[Finding], list[Step]]:
    margin = condensation_margin_k(now.temperature_c, now.humidity_pct, slab_c)
    rule = MARGINS_K[air.margin]
    at_slab = surface_humidity_pct(now.temperature_c, now.humidity_pct, slab_c)
    target = highest_humidity_pct(now.temperature_c, slab_c, rule.value)
    lines = [
        f"Slab {told_temperature(slab_c, unit)}: {told_warming(margin, unit, signed=True)} from "
        f"the dew point; the rule asks for {told_warming(rule.value, unit)} ({rule.source}; "
        f"{rule.tag}). The other rule in use is "
        + ("5 °F = 2.78 K." if air.margin == "3 K" else "3 K = 5.4 °F."),
        f"At the slab the air is at {at_slab:.0f} % RH; mold is at home above {MOLD_PCT.told()}.",
        f"Dehumidifier: keep the room at {target:.0f} % RH or less at this temperature.",
    ]
    findings = _condensation_findings(margin, rule, at_slab, slab_c, unit)
    if slab_c < COLDEST_SLAB_C.value:
        findings.append(
            Finding(
                "condensation",
                "slab temperature",
                f"{told_temperature(slab_c, unit)} is below {told_limit(COLDEST_SLAB_C, unit)}",
                "Warm the room before laying.",
            )
        )
    steps = []
    if findings:
        warm = max(slab_c - margin + rule.value, COLDEST_SLAB_C.value)
        steps.append(
            Step(
                f"Run a dehumidifier down to {target:.0f} % RH, or warm the slab to "
                f"{told_temperature(warm, unit)}; measure at its coldest corner, early in the "
                "morning.",
                MEASURE,
            )
        )
    return lines, findings, steps


def _condensation_findings(
    margin: float, rule: Sourced, at_slab: float, slab_c: float, unit: Unit
) -> list[Finding]:
    found = []
    if margin < rule.value:
        message = (
            f"the slab lies {told_warming(margin, unit, signed=True)} from the dew point, "
            f"{told_warming(rule.value, unit)} are asked for"
        )
        warm = told_temperature(slab_c - margin + rule.value, unit)
        remedy = f"Dry the air, or warm the slab to {warm}."
        found.append(Finding("condensation", "slab", message, remedy))
    if at_slab > MOLD_PCT.value:
        message = f"{at_slab:.0f} % RH at the slab's face, over {MOLD_PCT.told()}"
        found.append(Finding("condensation", "slab face", message, "Dry the air or warm the slab."))
    return found


def _window_line(now: Air, outside: Air, slab_c: float | None, unit: Unit) -> str:
    inside_pa = vapor_pressure_pa(now.temperature_c, now.humidity_pct)
    outside_pa = vapor_pressure_pa(outside.temperature_c, outside.humidity_pct)
    humidity = surface_humidity_pct(outside.temperature_c, outside.humidity_pct, now.temperature_c)
    dew = dew_point_c(outside.temperature_c, outside.humidity_pct)
    told = (
        f"Windows: outside air {told_temperature(outside.temperature_c, unit)}, "
        f"{outside.humidity_pct:g} % RH, dew point {told_temperature(dew, unit)}, would "
        f"stand at {humidity:.0f} % RH in this room. "
    )
    if slab_c is not None and dew >= slab_c:
        return told + "It would drip on the slab: keep the windows shut."
    if outside_pa < inside_pa:
        return told + "It is drier than the room's: airing helps."
    return told + "It carries more water than the room's: keep the windows shut."


# --- the boards' wait -------------------------------------------------------------------------


def _climate_findings(now: Air, limits: Climate, unit: Unit) -> list[Finding]:
    if limits.holds(now):
        return []
    message = (
        f"{told_temperature(now.temperature_c, unit)}, {now.humidity_pct:g} % RH is outside "
        f"{told_temperatures(limits.coldest_c, limits.warmest_c, unit)}, "
        f"{limits.driest_pct:g} to {limits.dampest_pct:g} %"
    )
    return [
        Finding("room-climate", "air", message, "Bring the room there before the boards come in.")
    ]


def ready_at(air: RoomAir) -> datetime | None:
    """When the boards have waited long enough; None while they are not in."""
    return None if air.boards_in is None else air.boards_in + timedelta(hours=air.hours)


def _wait_line(air: RoomAir, unit: Unit) -> str:
    ready = ready_at(air)
    limits = air.limits
    told = (
        f"Boards wait {air.hours:g} h in closed packs, flat, in this room, at "
        f"{told_temperatures(limits.coldest_c, limits.warmest_c, unit)} and "
        f"{limits.driest_pct:g} to {limits.dampest_pct:g} % RH "
        "(common practice; ranges in use differ)"
    )
    return told + (f": ready {ready:%Y-%m-%d %H:%M}." if ready else ".")


def _wait_steps(air: RoomAir) -> list[Step]:
    ready = ready_at(air)
    when = f" until {ready:%Y-%m-%d %H:%M}" if ready else f" for {air.hours:g} h"
    return [Step(f"Let the boards wait in the room, packs closed and flat,{when}.", READY)]


def wait_reminders(air: RoomAir) -> list[Reminder]:
    """A reminder half way, to read the air, and one when the boards are ready."""
    ready = ready_at(air)
    if air.boards_in is None or ready is None:
        return []
    half = air.boards_in + (ready - air.boards_in) / 2
    return [
        Reminder(half, "Read the room's air", "Within the leaflet's limits? If not, wait longer."),
        Reminder(ready, "Boards are ready to lay", "Read air and slab temperature first."),
    ]
