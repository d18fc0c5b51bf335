"""Gates: what is asked before a step that grinds, scrapes, drills or pulls a baseboard off.

A step is known by its words, so that no step can be written that slips past its gate. Doubt leads
to a licensed test. The order of steps is by phase; a gate stands before the first step it guards,
and each guarded step names its gate.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from plankwright.model.advice import ASK, Step
from plankwright.model.house import House
from plankwright.model.sourced import Sourced

# Material of this year or older is suspect. 29 CFR 1926.1101 presumes it up to 1980 (from memory),
# pages say "before 1981", some treat anything before 1986 as suspect: the last is used.
ASBESTOS_YEAR = Sourced(1985, "", "strictest of the dates in use", "secondary")
LEAD_YEAR = Sourced(1978, "", "US ban of lead paint in housing", "retrieved")

_GUARDED = {
    "asbestos": re.compile(r"\b(grind|scrape|sand|drill\w*|chip|pull\w*)\b", re.I),
    "lead": re.compile(r"\b(baseboards?|jambs?|casings?)\b", re.I),
    "slab": re.compile(r"\b(drill\w*|grind|chip)\b", re.I),
}


@dataclass(frozen=True, slots=True)
class Gate:
    """A question that must be settled before the steps it guards."""

    name: str
    step: Step

    @property
    def words(self) -> str:
        """What it is about, in words."""
        return {"asbestos": "asbestos", "lead": "lead paint", "slab": "lines in the slab"}[
            self.name
        ]

    def guards(self, text: str) -> bool:
        """Whether a step with these words is guarded."""
        return _GUARDED[self.name].search(text) is not None


def open_gates(house: House) -> list[Gate]:
    """The gates that are not cleared for a house: where anything is in doubt."""
    gates = []
    if house.asbestos_free_on is None and _asbestos_possible(house):
        gates.append(Gate("asbestos", Step(_asbestos_words(house), ASK)))
    if house.lead_free_on is None and _lead_possible(house):
        gates.append(Gate("lead", Step(_lead_words(house), ASK)))
    if house.slab_scanned_on is None and house.in_slab != "no":
        gates.append(Gate("slab", Step(_SLAB_WORDS, ASK)))
    return gates


def cleared_words(house: House) -> list[str]:
    """Why a gate is open to pass, for the page."""
    names = {gate.name for gate in open_gates(house)}
    told = []
    if "asbestos" not in names:
        told.append("Asbestos: " + _cleared(house.asbestos_free_on, house.year, ASBESTOS_YEAR))
    if "lead" not in names:
        told.append("Lead paint: " + _cleared(house.lead_free_on, house.year, LEAD_YEAR))
    if "slab" not in names:
        told.append("In the slab: nothing, or scanned and marked.")
    return told


def order_steps(steps: Sequence[Step], house: House) -> tuple[Step, ...]:
    """Steps by phase, each open gate before the first step that it guards."""
    ordered: list[Step] = []
    placed: dict[str, int] = {}
    gates = open_gates(house)
    for step in sorted(steps, key=lambda s: s.phase):
        guarding = [gate for gate in gates if gate.guards(step.text)]
        for gate in guarding:
            if gate.name not in placed:
                ordered.append(gate.step)
                placed[gate.name] = len(ordered)
        after = tuple(placed[gate.name] for gate in guarding)
        ordered.append(replace(step, after=after))
    return tuple(ordered)


def _asbestos_possible(house: House) -> bool:
    doubt = (house.old_tile, house.black_mastic) != ("no", "no")
    old = house.year is None or house.year <= ASBESTOS_YEAR.value
    return house.black_mastic == "yes" or (old and doubt)


def _lead_possible(house: House) -> bool:
    old = house.year is None or house.year <= LEAD_YEAR.value
    return old and house.old_paint != "no"


def _age(house: House) -> str:
    return "the year of the house is not known" if house.year is None else f"built {house.year}"


def _asbestos_words(house: House) -> str:
    return (
        "ASBESTOS, first: have old tile, sheet floor, black mastic and glue tested by a licensed "
        f"laboratory ({_age(house)}; old tile: {house.old_tile}, black mastic: "
        f"{house.black_mastic}). Until it is clear, leave all of it alone: do not sand, saw or "
        "break it. Sound old tile is disturbed least by covering it."
    )


def _lead_words(house: House) -> str:
    return (
        f"LEAD PAINT, first: have the paint on the trim tested ({_age(house)}). Until it is clear, "
        "work wet, behind plastic sheet, with a HEPA vacuum, and no dry sanding; children and "
        "pregnant people stay out."
    )


_SLAB_WORDS = (
    "HIDDEN LINES, first: find out whether water or gas pipes, cables, floor heating or "
    "post-tension tendons lie in the slab, from drawings or a scan by a licensed service. A cut "
    "tendon can kill."
)


def _cleared(on: object, year: int | None, limit: Sourced) -> str:
    if on is not None:
        return f"tested clear on {on}."
    if year is not None and year > limit.value:
        return f"built {year}, after {limit.value:g} ({limit.source}; {limit.tag})."
    return "you say that there is none. If you find any, stop and have it tested."
