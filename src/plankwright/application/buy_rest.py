"""The rest: spacers, patch, primer, test kits, blades, tools, and what a missing saw changes."""

import math
from collections import Counter
from dataclasses import dataclass

from plankwright.application.buy_job import BuyJob, Part, told_area
from plankwright.application.flat_advice import Flatness
from plankwright.application.told import counted
from plankwright.buying.labor import is_crosscut, is_ripped
from plankwright.buying.tools import Needs, saw_words, tools_for
from plankwright.model.findings import Finding
from plankwright.model.shopping import Line
from plankwright.model.slab import TestKind
from plankwright.physics.pouring import POWDER_KG_PER_L, bags_band
from plankwright.physics.slab_moisture import tests_needed
from plankwright.plan.turned_rows import spline_mm
from plankwright.units import KG_PER_LB, L_PER_QT, format_volume, format_weight

KITS: tuple[TestKind, ...] = ("humidity probe", "calcium chloride")
PRIMER_M2 = 5.0  # a small bottle goes about so far (common practice; read its label)


@dataclass(frozen=True, slots=True)
class Rest:
    """What the other parts tell this one."""

    trim_pieces: int
    sheets: bool


def rest_part(job: BuyJob, rest: Rest) -> tuple[Part, Part]:
    """Small things, and tools by reason."""
    flat = _flatness(job)
    lines = [*_kits(job), *_patch(job, flat), *_spline(job), *_spacers(job), *_blades(job)]
    needs = Needs(
        jambs=jambs(job),
        pipes=sum(thing.kind == "pipe" for thing in job.plan.fixed),
        sheets=rest.sheets,
        patch=flat is not None and flat.patch is not None,
        nails=rest.trim_pieces > 0 and job.buying.trim.wall != "masonry",
        adhesive=rest.trim_pieces > 0 and job.buying.trim.wall == "masonry",
    )
    notes = []
    if job.slab is None or flat is None:
        notes.append(
            "No heights of the slab are known: patch is not on the list. Read heights or gaps and "
            "run plankwright slab before you buy boards."
        )
    tools = [
        Line("Tools", tool.name, 1, "piece", tool.why + ("; may be hired" if tool.hire else ""))
        for tool in tools_for(job.plan, job.buying.toolbox, needs)
    ]  # fmt: skip
    saws = saw_words(job.plan, job.buying.toolbox, job.unit)
    findings = tuple(
        Finding("buy-saw", "buy.tools", words, "Settle it before the first board is bought.")
        for words in saws
    )
    return Part("Small things", tuple(lines), tuple(notes)), Part("Tools", tuple(tools), (),
                                                                  findings)  # fmt: skip


def jambs(job: BuyJob) -> int:
    """Jambs to be undercut: two for each doorway whose jambs the floor runs under."""
    if job.doorways is not None:
        return 2 * sum(door.undercut_mm > 0.0 for door in job.doorways)
    return 2 * sum("jamb" in recess.kind for recess in job.plan.recesses)


def _flatness(job: BuyJob) -> Flatness | None:
    if job.slab is None or job.slab.heights is None or job.slab_report is None:
        return None
    return job.slab_report.flatness


def _kits(job: BuyJob) -> list[Line]:
    """Moisture tests that the slab's area still asks for."""
    area = job.plan.room.area / 1e6 if job.slab is None else job.slab.slab.area_m2
    needed = tests_needed(area)
    readings = () if job.slab is None else job.slab.slab.readings
    kinds = Counter(r.kind for r in readings if r.kind in KITS)
    kind, read = max(((kind, kinds[kind]) for kind in KITS), key=lambda entry: entry[1])
    if read >= needed:
        return []
    why = (
        f"{needed} tests for {told_area(area * 1e6, job.unit)} of slab (3 for the first 1000 "
        f"sq ft, 1 per further 1000; ASTM F2170), {read} read; a limit is the leaflet's and holds "
        "for one kind of test only"
    )
    item = f"moisture test, {kind}"
    return [Line("Small things", item, needed - read, "pieces", why)]


def _patch(job: BuyJob, flat: Flatness | None) -> list[Line]:
    """Patch for the dips, or compound where patch does not do; primer below either."""
    if flat is None or flat.passes or job.slab is None:
        return []
    bag = job.slab.compound.bag_kg
    if flat.patch is not None:
        item, liters = "patch for concrete", flat.patch.fill_l
    elif flat.pours:
        item, liters = "self-leveling compound", flat.pours[0].liters
    else:
        return []
    low, high = bags_band(liters, bag)
    why = (
        f"{format_volume(liters, job.unit)} make the slab flat enough, {_powder(job)} and 10 % "
        f"more (common practice): {counted(high, 'bag')}"
        + (f", perhaps {low}" if low < high else "")
    )
    wet = sum(dip.area_m2 for dip in flat.dips) or job.plan.room.area / 1e6
    bottles = max(1, math.ceil(wet / PRIMER_M2))
    return [
        Line("Small things", f"{item}, bag of {format_weight(bag, job.unit)}", high,
             "bags" if high > 1 else "bag", why, back=True),
        Line("Small things", "primer, solvent-free, as the leaflet of the patch names it", bottles,
             "bottle" if bottles == 1 else "bottles",
             f"{told_area(wet * 1e6, job.unit)} to prime, about "
             f"{told_area(PRIMER_M2 * 1e6, job.unit)} a bottle (common practice)",
             back=True),
    ]  # fmt: skip


def _powder(job: BuyJob) -> str:
    """How much dry powder makes a volume of patch, from least to most."""
    low, high = (figure.value for figure in POWDER_KG_PER_L)
    if job.inches:
        low, high = (figure * float(L_PER_QT / KG_PER_LB) for figure in (low, high))
        return f"{low:.1f} to {high:.1f} lb of powder a quart"
    return f"{low:g} to {high:g} kg of powder a liter"


def _spline(job: BuyJob) -> list[Line]:
    """The loose tongue between rows that are turned end for end and the others, by length."""
    length = spline_mm(job.plan)
    if not length:
        return []
    why = (
        "the loose tongue in the line from which rows are laid both ways: the board's own make, "
        "as its leaflet names it; buy whole sticks that add up to it"
    )
    return [Line("Small things", f"spline, {job.total(length)}", 1, "length", why)]


def _spacers(job: BuyJob) -> list[Line]:
    first = min((piece.row for piece in job.plan.pieces), default=0)
    joints = sum(piece.row == first for piece in job.plan.pieces) - 1
    around = job.plan.room.exterior.length
    count = math.ceil(around / job.buying.spacing_mm) + max(0, joints)
    gap = job.length(job.plan.rules.gap_mm)
    why = (
        f"one every {job.length(job.buying.spacing_mm)} along {job.total(around)} of wall and one "
        f"at each of {max(0, joints)} end joints of row {first}; all come out at the end"
    )
    return [Line("Small things", f"spacers, {gap}", count, "pieces", why, back=True)]  # fmt: skip


def _blades(job: BuyJob) -> list[Line]:
    cuts = sum(is_crosscut(p) + is_ripped(p) for p in job.plan.pieces)
    if not cuts:
        return []
    count = math.ceil(cuts / job.buying.cuts_per_blade)
    why = f"{cuts} cuts, about {job.buying.cuts_per_blade} to a blade; boards dull blades fast"
    unit = "piece" if count == 1 else "pieces"
    return [Line("Small things", "fine-toothed saw blade", count, unit, why, back=True)]
