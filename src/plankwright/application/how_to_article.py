"""The article put together: title, lead, the floor at a glance, materials, steps, how it went."""

from collections.abc import Iterator

from plankwright.application.buy_job import told_area
from plankwright.application.cautions import DEFER, cautions_of
from plankwright.application.how_to import HowTo, HowToSource, Supply
from plankwright.application.how_to_facts import SQUARE_DEG, Facts
from plankwright.application.how_to_steps import steps_of
from plankwright.application.how_to_went import hours_of, mishaps_of
from plankwright.application.told import counted

TOOLS = "Tools"  # the part of the shopping list that is no material

# Told to everyone: the reader's house is another one.
GATES = (
    "Asbestos. Old tile, sheet floors, black mastic and old glue can hold it. Have a licensed "
    "laboratory test them before anything is ground, scraped, drilled or pulled up, and leave them "
    "alone until then. Sound old tile is disturbed least by covering it.",
    "Lead. Old paint on baseboards and door jambs can hold it. Have it tested before you pull or "
    "saw them; until it is clear work wet, behind plastic sheet, with a HEPA vacuum, and keep "
    "children and pregnant people out.",
    "What lies in the slab. Pipes, cables, floor heating and post-tension tendons do not show. "
    "Look at the drawings or have the slab scanned by a licensed service before you drill or "
    "grind. A cut tendon can kill.",
)


def write_how_to(source: HowToSource) -> HowTo:
    """The article of a job."""
    facts = Facts(source)
    cautions = [(c.title, c.lines) for c in cautions_of(None, facts.cuts) if not c.stop]
    return HowTo(
        title=_title(facts),
        lead=tuple(_lead(facts)),
        facts=tuple(_at_a_glance(facts)),
        supplies=tuple(_supplies(source)),
        tools=tuple(_tools(source)),
        steps=steps_of(facts),
        mishaps=mishaps_of(source),
        hours=hours_of(source),
        minutes=round(source.found.work.hours * 60.0),
        gates=GATES,
        cautions=(*cautions, ("Above all", (DEFER,))),
        totals=source.found.totals if source.wanted.prices else None,
        currency=source.job.buying.prices.currency,
        laid=source.day is not None,
    )


def _title(facts: Facts) -> str:
    around = f" round {facts.obstacles}" if facts.obstacles else ""
    area = facts.area(facts.figures.floor_m2)
    where = f": {facts.plan.name}" if facts.source.wanted.name else ""
    return f"How to lay a click-together floor{around} ({area}){where}"


def _lead(facts: Facts) -> Iterator[str]:
    figures = facts.figures
    crooked = facts.worst_corner[1] > SQUARE_DEG
    shape = "a room that is not quite square" if crooked else "a plain room"
    around = f", round {facts.obstacles}" if facts.obstacles else ""
    yield (
        f"This is the story of one floor: {facts.area(figures.floor_m2)} of floating, "
        f"click-together boards in {shape}{around}. One person, a tape, a miter saw in another "
        "room. No glue, no nails, and nothing that cannot be taken up again."
    )
    if facts.source.day is not None:
        yield (
            "It was planned board by board before the first cut and written down while it was "
            "laid, so you will find what was planned and what came of it side by side, mishaps "
            "included."
        )
    else:
        yield (
            "It is planned board by board, before the first cut: every figure below is this "
            "room's own. Yours will differ; the reasons will not, and they are given."
        )
    yield (
        "If you have never laid a floor, read it once from top to bottom. The work is not hard. "
        "What goes wrong goes wrong early: in the measuring, in the slab, and in the first row."
    )


def _at_a_glance(facts: Facts) -> Iterator[tuple[str, str]]:
    figures, packs = facts.figures, facts.source.found.packs
    used = facts.source.used
    yield "Floor", facts.area(figures.floor_m2)
    yield "Board", facts.board
    taken = "" if used is None else f"; {used.boards_taken} used"
    yield "Boards", f"{figures.boards} planned{taken}"
    yield "Packs", f"{packs.taken.packs} of {facts.plan.board.per_pack}"
    yield "Rows", f"{figures.rows}, along wall {facts.plan.laying.start_wall}"
    yield "To saw", f"{figures.cut_pieces} of {figures.pieces} pieces"
    yield "Waste", f"{figures.waste_pct:.1f} % over the floor's area"
    yield "Time", f"about {facts.source.found.work.hours:.0f} hours for one person"


def _supplies(source: HowToSource) -> Iterator[Supply]:
    """Everything to buy but tools; what the log knows stands beside it."""
    used = source.used
    for line in source.found.lines:
        if line.section == TOOLS:
            continue
        unit = "" if line.unit.startswith("piece") else f" {line.unit}"
        told = ""
        if used is not None and line.section == "Boards":
            packs = counted(len(used.packs), "pack")
            told = f"{counted(used.boards_taken, 'board')}; {packs} written down"
        yield Supply(line.item, f"{line.count}{unit}", told)
    if used is not None:
        planned, so_far = (
            told_area(m2 * 1e6, source.job.unit) for m2 in (used.waste_planned_m2, used.waste_m2)
        )
        left = counted(used.offcuts_left, "offcut")
        yield Supply("waste", planned, f"{so_far}, {left} left on the shelf")


def _tools(source: HowToSource) -> Iterator[tuple[str, str]]:
    bought = [(line.item, line.why) for line in source.found.lines if line.section == TOOLS]
    owned = [(tool, "") for tool in source.job.buying.toolbox.owned]
    yield from (*owned, *bought)
