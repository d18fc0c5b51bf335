"""The steps of the how-to: what was done, why, and what this room asked for."""

from collections.abc import Iterator

from plankwright.application.height_advice import JAMB_PLAY
from plankwright.application.how_to import HowToStep
from plankwright.application.how_to_facts import SQUARE_DEG, Facts
from plankwright.application.told import counted
from plankwright.units import format_volume

WHOLE = 0.97  # of a board's width, and the row counts as whole
ALIKE = 0.2  # of a board's width, and first and last row look alike


def steps_of(facts: Facts) -> tuple[HowToStep, ...]:
    """Every step, in the trade's own order."""
    return (
        _measure(facts),
        _slab(facts),
        _board(facts),
        _plan(facts),
        _buy(facts),
        _prepare(facts),
        _layers(facts),
        _saw(facts),
        _first_row(facts),
        _rows(facts),
        *_odd(facts),
        _last_row(facts),
        _trim(facts),
        _keep(facts),
    )


def _measure(facts: Facts) -> HowToStep:
    corner, off = facts.worst_corner
    text = [
        "Rooms are never as square as they look, and a floor finds out. Measure every wall at "
        "floor level, then both diagonals: in a true rectangle they are equal. Measure from the "
        "corners to whatever stands in the room, too. Read the tape twice and have somebody else "
        "write it down; a slip of an inch costs a board in every row.",
    ]
    if off > SQUARE_DEG:
        shift = facts.plan.board.width_mm * off * 0.017453
        text.append(
            f"In this room corner {corner} is {off:.1f}° off square. That sounds like nothing, "
            f"but it is {facts.length(shift)} over the width of one board: the end of each row is "
            "cut at that slant, and the first and the last row would taper if the plan did not "
            "take care of it."
        )
    else:
        text.append("This room is square to within what a tape can tell. Count yourself lucky.")
    return HowToStep("measure", "Measure the room, twice", tuple(text))


def _slab(facts: Facts) -> HowToStep:
    report, name = facts.job.slab_report, "Ask the slab whether it is ready"
    text = [
        "A floating floor forgives a lot, but not water and not waves. Concrete below the ground "
        "can look bone dry and still give off enough vapor to swell a floor from below. Ask its "
        "history first: has water ever stood here, does the room smell, do white crystals grow on "
        "the walls? Any yes beats any meter. Then test as the leaflet of your board asks, and "
        "never turn one kind of test into another.",
    ]
    if report is None:
        text.append("Lay a straightedge about the slab, too, and write down the worst gap.")
        return HowToStep("slab", name, tuple(text))
    verdicts = {
        "go": "Here the readings were low enough to go on.",
        "go-with-barrier": "Here the readings were low enough to go on over a vapor barrier.",
        "measure": "Here there were too few readings to decide: more had to be taken first.",
        "stop": "Here the slab said stop: the water had to be found before anything was laid.",
    }
    text.append(verdicts[report.verdict])
    flat = report.flatness
    if flat.worst is not None:
        gap, allowed = facts.length(flat.worst.gap_mm), facts.length(flat.worst.allowed_mm)
        text.append(
            f"For flatness, heights were read on a grid and a straightedge was tried everywhere. "
            f"The worst gap was {gap} where the leaflet allows {allowed}."
            + (" Flat enough." if flat.worst.passes else " That had to be mended first.")
        )
    picture = "" if flat.surface is None else "contour"
    return HowToStep("slab", name, tuple(text), picture=picture)


def _board(facts: Facts) -> HowToStep:
    board, rules, laying = facts.plan.board, facts.plan.rules, facts.plan.laying
    text = [
        f"Take one board out of its pack and look at it. Ours covers {facts.board}, measured from "
        "face edge to face edge; the tongue does not count. Read the leaflet for the gap at the "
        f"walls ({facts.length(rules.gap_mm)} here), the shortest piece "
        f"({facts.length(rules.shortest_piece_mm)}) and how far end joints of neighboring rows "
        f"must be apart ({facts.length(rules.joint_offset_mm)}).",
    ]
    near = board.near_end(laying.laid)
    if near is not None:
        text.append(
            "Then the thing that trips up every beginner: a click board has two different ends and "
            f"two different sides. Lay the {board.start_side} side toward the start wall and see "
            f"on which end the tongue is. With this board rows are laid {_way(facts)}, the {near} "
            "end first. Turned end for end, nothing clicks any more."
        )
    return HowToStep("board", "Get to know your board", tuple(text))


def _way(facts: Facts) -> str:
    return facts.plan.laying.laid.replace("-", " ")


def _plan(facts: Facts) -> HowToStep:
    figures, laying = facts.figures, facts.plan.laying
    text = [
        f"The rows run along wall {laying.start_wall}: {figures.rows} of them, "
        f"{figures.pieces} pieces from {facts.boards_told}.",
    ]
    if figures.first_row_mm and figures.last_row_mm:
        text.append(
            f"Row 1 is {facts.range(figures.first_row_mm)} wide and row {figures.rows} "
            f"{facts.range(figures.last_row_mm)}. {_why_first_row(facts)}"
        )
    if figures.joint_offset_mm is not None:
        text.append(
            f"No two end joints of neighboring rows are nearer than "
            f"{facts.piece(figures.joint_offset_mm)}. {counted(facts.shelved, 'offcut')} "
            f"{'is' if facts.shelved == 1 else 'are'} used again, each with a letter, so that the "
            "right one is at hand when its turn comes. An offcut keeps one factory end: one with "
            "its far end left can only begin a row, one with its near end can only finish one."
        )
    return HowToStep("plan", "Plan every row before the first cut", tuple(text), picture="plan")


def _why_first_row(facts: Facts) -> str:
    first, last = facts.figures.first_row_mm, facts.figures.last_row_mm
    width = facts.plan.board.width_mm
    if first is None or last is None or first[0] > WHOLE * width:
        return "Row 1 could stay whole: what is left for the last row is wide enough to work with."
    told = (
        "Why not begin with a whole board? Because what is left at the far wall would then be "
        "whatever it is, often a sliver that breaks in your hand. "
    )
    if abs(first[0] - last[0]) < ALIKE * width:
        return told + "Splitting the difference costs one rip and looks as if it had been meant."
    return told + "A first row that is ripped leaves a last row that can be handled."


def _buy(facts: Facts) -> HowToStep:
    packs, keep = facts.source.found.packs, facts.job.buying.spare_boards(facts.plan.board.per_pack)
    taken = packs.taken
    chance = float(taken.chances[1]) * 100.0
    rule = "the same" if packs.by_area == taken.packs else str(packs.by_area)
    text = [
        f"{counted(packs.needed, 'board')} fit in {counted(packs.choices[0].packs, 'pack')}. We "
        f"took {taken.packs}: {keep} boards to keep for repairs, and room for mistakes. If one cut "
        f"in twenty goes wrong the chance of running short is {_percent(chance)}; the "
        f"usual rule of area plus ten percent would have said {rule}.",
        "Buy all of it at once and compare the batch numbers: colors differ from batch to batch, "
        "and the color you have may be gone next month. Then carry the packs into the room and "
        "leave them lying flat, closed, for as long as the leaflet asks, usually two days.",
    ]
    cautions = ("A pack is heavier than it looks: carry half of it, or be two.",)
    return HowToStep("buy", "Buy once, and let the boards rest", tuple(text), cautions)


def _percent(chance: float) -> str:
    return "under 1 %" if chance < 1.0 else f"about {chance:.0f} %"


def _prepare(facts: Facts) -> HowToStep:
    report, slab = facts.job.slab_report, facts.job.slab
    text = [
        "Take the doors off and the trim with them, and number the pieces on the back. Then clean "
        "the slab, and never sweep concrete dust: vacuum it."
    ]
    if slab is not None and slab.layers is not None:
        layers = slab.layers
        jamb = layers.total_mm - layers.leveling_mm + JAMB_PLAY.value
        text.append(
            f"The new floor is {facts.length(layers.total_mm)} high over the slab. Saw the door "
            f"jambs off {facts.need(jamb)} up, so that the boards slip under them; try with a "
            "scrap of board on a scrap of pad before you cut."
        )
    if report is not None and report.flatness.passes is False:
        patch = report.flatness.patch
        if patch is not None:
            text.append(
                f"Then mend the slab. {format_volume(patch.fill_l, facts.job.unit)} of patch in "
                f"the right places were enough here{_whole_pour(facts)}. Fill the deepest place "
                "first, check with the straightedge, let it dry."
            )
    cautions = (
        "Not before asbestos, lead paint and what lies in the slab are settled, as told above.",
        "Grinding or drilling concrete makes silica dust that harms lungs for good: extraction and "
        "a fitted respirator, or do it wet.",
    )
    return HowToStep("prepare", "Clear the room and mend the slab", tuple(text), cautions)


def _whole_pour(facts: Facts) -> str:
    """What a level floor would have taken, where that is much more."""
    report = facts.job.slab_report
    if report is None or report.flatness.patch is None or not report.flatness.pours:
        return ""
    liters = report.flatness.pours[-1].liters
    if liters < 2.0 * report.flatness.patch.fill_l:
        return ""
    return (
        f"; pouring the whole floor level would have taken {format_volume(liters, facts.job.unit)}"
    )


def _layers(facts: Facts) -> HowToStep:
    sheets, buying = facts.source.found.sheets, facts.job.buying
    text = []
    if sheets.film is not None and buying.film is not None:
        strips = len(sheets.film.plan.strips)
        text.append(
            f"The vapor barrier comes first, in {counted(strips, 'strip')}: lapped "
            f"{facts.length(buying.film.lap_mm)}, taped along every seam, and turned "
            f"{facts.length(buying.film.upturn_mm)} up the walls. Cut it off above the floor only "
            "when the trim is on. Around a pipe slit it and tape on a collar; leave drains and "
            "clean-outs open."
        )
    if sheets.pad is not None:
        strips = len(sheets.pad.plan.strips)
        text.append(
            f"The pad goes over it in {counted(strips, 'strip')}, edge to edge, never lapped, "
            "joints taped. One pad only: two make the floor bounce and the locks break."
        )
    if not text:
        text.append(
            "This board has its pad attached, and its leaflet takes no other. Roll out only what "
            "the leaflet names."
        )
    picture = "vapor-barrier" if sheets.film is not None else ""
    return HowToStep("layers", "Roll out what goes underneath", tuple(text), picture=picture)


def _saw(facts: Facts) -> HowToStep:
    text = [
        f"{facts.figures.cut_pieces} of the {facts.figures.pieces} pieces go to the saw, "
        f"{facts.ripped} of them to be ripped along. Every cut board is two things: the piece you "
        "want and an offcut that may be the next piece. Which end you keep decides whether either "
        "of them clicks.",
        "So mark the waste with an X before you leave the room, write the letter on the offcut, "
        "and look at the ends, not at left and right: at the saw, face down, they are swapped. "
        "Measure from the face edge, never from the tip of the tongue.",
    ]
    cautions = [
        "Eyes, ears, a mask. Clamp short pieces, let the blade stop before you reach for the "
        "offcut."
    ]
    if facts.ripped:
        cautions.append(
            "Ripping can throw the board back at you: fence, riving knife, push stick, and stand "
            "beside it."
        )
    picture = "board" if facts.first_starter is not None else ""
    name = "At the saw: know which end you keep"
    return HowToStep("saw", name, tuple(text), tuple(cautions), picture)


def _first_row(facts: Facts) -> HowToStep:
    gap = facts.length(facts.plan.rules.gap_mm)
    ripped = any(cut.piece.row == 1 and cut.side is not None for cut in facts.cuts)
    text = [
        "Everything rests on row 1. Snap a chalk line for it rather than trusting the wall, set "
        f"spacers of {gap} between, and lay the row dry, joint by joint. "
        + (
            "Its boards are ripped, and the sawn side goes to the wall."
            if ripped
            else "Trim off the tongue or lip that would lie in the gap: a gap that is full of "
            "tongue is no gap."
        ),
        "Lay two or three rows, then stop and sight along them. Straight? Joints closed? Now is "
        "the time; in ten rows it will not be.",
    ]
    return HowToStep("first-row", "Lay row 1 as if the floor depended on it", tuple(text))


def _rows(facts: Facts) -> HowToStep:
    stops = facts.source.found.work.stops
    text = [
        f"From here on there is a rhythm: {_way(facts)}, one row at a time, wall to wall. Take "
        "the starter, tilt it into the row before it, close it; then board after board; cut the "
        "end piece to what you measure, not to what the plan says, if the wall is not where it "
        "should be. Put the offcut on the shelf under its letter.",
        "Every few rows measure the distance to the far wall at both ends. If the two drift apart, "
        "a joint is open somewhere: close it before you do anything else.",
    ]
    if stops:
        rows = ", ".join(f"row {row}" for row in stops)
        text.append(
            f"A good place to stop for the night was after {rows}: a whole row, its last piece "
            "laid."
        )
    return HowToStep("rows", "Row by row", tuple(text))


def _odd(facts: Facts) -> Iterator[HowToStep]:
    """Only where something stands in the way."""
    if not facts.shaped:
        return
    around = facts.obstacles or "the corners of the room"
    text = [
        f"{counted(facts.shaped, 'piece')} had to go round {around}"
        + (" or into a doorway" if facts.doorways else "")
        + ". Print the template, check its ruler against a tape, lay it on the board along the "
        "face edge and draw round it. Drill the inner corners round before you saw them: a sharp "
        "inner corner is where a board cracks.",
    ]
    if any(thing.kind == "pipe" for thing in facts.plan.fixed):
        text.append(
            "A pipe gets a hole as wide as the pipe and two gaps. If it falls into the middle of a "
            "board, saw from the hole to the nearest edge, slip the board round the pipe and glue "
            "the little piece back in behind it."
        )
    cautions = ("Clamp the board; saw away from the hand that holds it.",)
    yield HowToStep("odd", "Round whatever stands in the way", tuple(text), cautions, "template")


def _last_row(facts: Facts) -> HowToStep:
    figures = facts.figures
    width = facts.range(figures.last_row_mm) if figures.last_row_mm else "narrower"
    text = [
        f"The last row is {width} wide here. Do not trust that figure, or any: measure from the "
        "row before it to the wall at both ends of every board, take the gap off, and rip board by "
        "board. Tilt each in and pull it up with a pull bar. Then take out every spacer. One that "
        "stays in will lift the floor next summer.",
    ]
    return HowToStep("last-row", "The last row", tuple(text))


def _trim(facts: Facts) -> HowToStep:
    trim, buying = facts.source.found.trim, facts.job.buying.trim
    text = [
        f"Trim covers the gap and holds nothing. {counted(len(trim.pieces), 'piece')} of "
        f"{buying.name} came from {counted(len(trim.cuts.sticks), 'length')}. Fix it to the wall, "
        "never to the floor, a card's thickness above the boards, so that the floor can move "
        "below it.",
        "In doorways fix the track of the transition to the slab, never through the floor. Then "
        "hang the doors and see whether they swing.",
    ]
    cautions = (
        "Pipes and cables run behind baseboards: short brads, none where you do not know what is "
        "there, or adhesive.",
        "Do not trim a fire-rated door or the door of a furnace room.",
    )
    picture = "trim" if trim.cuts.sticks else ""
    return HowToStep("trim", "Trim and transitions", tuple(text), cautions, picture)


def _keep(facts: Facts) -> HowToStep:
    keep = facts.job.buying.spare_boards(facts.plan.board.per_pack)
    text = [
        f"Put {counted(keep, 'board')} away flat, with one pack's label. Keep the moisture "
        "readings, the batch numbers, the receipt and the plan: with them a damaged board can be "
        "changed in ten years, without them you lay a new floor.",
    ]
    picture = "as-laid" if facts.source.day is not None else ""
    return HowToStep("keep", "Keep what the next person will ask for", tuple(text), picture=picture)
