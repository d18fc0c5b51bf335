"""Does the vapor barrier do: US perms and the European sd value, side by side."""

from plankwright.application.told import told_temperature
from plankwright.errors import RangeError
from plankwright.model.advice import Section, Verdict
from plankwright.model.findings import Finding
from plankwright.model.slab import Film, Slab
from plankwright.physics.constants import G_PER_M2_DAY_PER_LB
from plankwright.physics.permeance import (
    CLASS_LIMITS_PERM,
    EUROPEAN_SD_M,
    WOOD_TRADE_PERM,
    perms_from_sd,
    sd_from_perms_m,
    vapor_class,
    vapor_flux_g_m2_day,
)
from plankwright.units import Unit, format_length

# Laps and upturn over a slab under a floating floor; leaflets run from 50 to 300 mm, the code for
# films under a slab says 6 in, for radon membranes 12 in (common practice; settings).
LAP_MM, LAP_IN_MM = 200.0, 203.2
UPTURN_MM, UPTURN_IN_MM = 75.0, 76.2
ROOM_C, ROOM_PCT = 20.0, 50.0  # the room above a whole film


def strictest_perms(film: Film) -> tuple[float, str]:
    """The most open film that may be used [US perm], and why: the strictest of all limits wins."""
    limits = [(CLASS_LIMITS_PERM["I"], "US building code classes; secondary")]
    if film.required_perms is not None:
        limits.append((film.required_perms, "leaflet"))
    if film.required_sd_m is not None:
        words = f"leaflet, sd {film.required_sd_m:g} m"
        limits.append((perms_from_sd(film.required_sd_m), words))
    return min(limits)


def class_words(film: Film) -> str:
    """Which class of film to use, in words."""
    perms, why = strictest_perms(film)
    return f"class {vapor_class(perms)}: {perms:.3g} perm or less ({why})"


def lap_and_upturn(unit: Unit) -> tuple[str, str]:
    """Lap and upturn of the film in round figures of the unit."""
    inches = unit in ("in", "ft")
    lap, upturn = (LAP_IN_MM, UPTURN_IN_MM) if inches else (LAP_MM, UPTURN_MM)
    return format_length(lap, unit), format_length(upturn, unit)


def film_section(slab: Slab, verdict: Verdict, unit: Unit) -> Section:
    """The film's permeance in both systems and what it fails."""
    film = slab.film
    if film.perms is None:
        findings = [_unknown()] if verdict in ("go-with-barrier", "go") else []
        return Section("Vapor barrier", (f"Use {class_words(film)}.",), (*findings, *_second(film)))
    sd_m = sd_from_perms_m(film.perms)
    lines = [
        f"{film.perms:g} US perm = sd {sd_m:.1f} m of still air: US class "
        f"{vapor_class(film.perms)} (ASTM E96).",
        f"European limit sd {EUROPEAN_SD_M.told()}, which is {perms_from_sd(75.0):.4f} perm.",
        *_flux_lines(slab, film.perms, unit),
        "Laps {}, upturn {}: leaflets differ widely (common practice).".format(
            *lap_and_upturn(unit)
        ),
    ]
    return Section("Vapor barrier", tuple(lines), (*_too_open(film, film.perms), *_second(film)))


def _flux_lines(slab: Slab, perms: float, unit: Unit) -> list[str]:
    if slab.temperature_c is None:
        return []
    try:
        flux = vapor_flux_g_m2_day(perms, slab.temperature_c, ROOM_C, ROOM_PCT)
    except RangeError:
        return []
    room = told_temperature(ROOM_C, unit)
    return [
        f"Whole, it lets through {_told_flux(max(flux, 0.0), unit)} from a saturated slab into "
        f"a room of {room} and {ROOM_PCT:g} %: laps and holes govern, not the film."
    ]


def _told_flux(g_m2_day: float, unit: Unit) -> str:
    """Vapor through a film, for inches and feet in the unit of the calcium chloride test."""
    if unit in ("in", "ft"):
        return f"{g_m2_day / G_PER_M2_DAY_PER_LB:.3f} lb/(1000 ft2 24 h)"
    return f"{g_m2_day:.3f} g/(m2 24 h)"


def _too_open(film: Film, perms: float) -> list[Finding]:
    limits = [
        (CLASS_LIMITS_PERM["I"], "US class I (secondary)", "film"),
        (WOOD_TRADE_PERM.value, "the US wood flooring trade's limit (retrieved)", "film"),
        (perms_from_sd(EUROPEAN_SD_M.value), "DIN EN 16354, sd 75 m (retrieved)", "film"),
    ]
    if film.required_perms is not None:
        limits.append((film.required_perms, "the leaflet's limit", "leaflet"))
    if film.required_sd_m is not None:
        limits.append((perms_from_sd(film.required_sd_m), "the leaflet's sd value", "leaflet"))
    return [
        Finding(
            "film-too-open",
            where,
            f"{perms:g} perm (sd {sd_from_perms_m(perms):.0f} m) does not reach {words}: "
            f"{limit:.3g} perm (sd {sd_from_perms_m(limit):.0f} m)",
            "The strictest limit that holds for you wins; passing one system is not passing both.",
        )
        for limit, words, where in limits
        if perms > limit * (1.0 + 1e-9)
    ]


def _unknown() -> Finding:
    return Finding(
        "film-unknown", "slab.film", "the vapor barrier's permeance is not given",
        "Read perms or the sd value off its label; thickness alone does not tell.",
    )  # fmt: skip


def _second(film: Film) -> list[Finding]:
    if not film.attached or film.second == "allowed":
        return []
    said = "forbids" if film.second == "forbidden" else "does not say that it takes"
    return [
        Finding(
            "second-barrier", "slab.film",
            f"the board has a film or pad attached and the leaflet {said} a second one",
            "Ask the maker before laying both: two soft layers break locks, two films trap water.",
        )
    ]  # fmt: skip
