"""Where the work can hurt someone: gates first, then cautions in the order of the work.

They are common practice and replace neither the leaflet nor local code nor licensed trades.
"""

from dataclasses import dataclass

from plankwright.application.gates import cleared_words, open_gates
from plankwright.model.house import House
from plankwright.plan.saw_cuts import SawCut

DEFER = (
    "Local codes, the leaflets of your products and licensed trades go before anything the program "
    "says."
)


@dataclass(frozen=True, slots=True)
class Caution:
    """A danger, where it waits, and what keeps you safe.

    Parameters
    ----------
    title : the danger or the work, in a few words.
    lines : what to do, sentence by sentence.
    stop : a gate: it is settled before any step that it guards.
    """

    title: str
    lines: tuple[str, ...]
    stop: bool = False


_SAW_ALWAYS = (
    "Eye and hearing protection, and a mask; let the guard work; hands a hand's width and more off "
    "the blade; unplug before you change it.",
    "Clamp short pieces or cut them off a longer one; wait until the blade stands still before you "
    "reach for the offcut.",
    "Mineral and laminate cores cut dry make fine dust: cut outdoors or with extraction, and "
    "vacuum rather than sweep.",
)
_RIPS = (
    "Ripping: a fence, a riving knife and a push stick; stand beside the board, never behind it, "
    "since it can be thrown back; never rip freehand on a table saw."
)
_NOTCHES = (
    "Notches: drill the inner corners round first, clamp the board, and saw with a jigsaw away "
    "from your hand."
)

_WORK: tuple[Caution, ...] = (
    Caution(
        "Concrete dust (silica)",
        (
            "Grinding, drilling or chipping concrete makes dust that scars lungs for good: use a "
            "shroud with a HEPA vacuum or work wet, wear a fitted respirator, keep others out.",
            "Never sweep it dry.",
        ),
    ),
    Caution(
        "In the slab: heating, pipes, cables, tendons",
        (
            "Do not drill, grind deep or nail into a slab before you know what lies in it. A cut "
            "post-tension tendon can kill; a cut pipe floods the room.",
        ),
    ),
    Caution(
        "Water and electricity",
        (
            "No cords on a wet slab; outlets with ground-fault protection; standing water or a "
            "failed sump comes before any floor.",
            "Sump lid, floor drain and clean-out stay open to reach.",
        ),
    ),
    Caution(
        "Primers and adhesives",
        (
            "No solvent primer or adhesive near a pilot flame, a furnace or a water heater: its "
            "vapor is heavier than air and gathers at the floor. Use solvent-free ones and air "
            "the room.",
        ),
    ),
    Caution(
        "Lifting",
        (
            "A pack weighs more than it looks. Carry half of it, bend the knees, or be two; on "
            "stairs one hand stays free for the rail.",
        ),
    ),
    Caution(
        "Knives and knees",
        (
            "Cut film and pad away from yourself, with gloves; change blades often. Wear knee pads "
            "and stand up every row.",
        ),
    ),
    Caution(
        "Nails in the wall",
        (
            "Pipes and cables run behind baseboards and in the bottom plate. Use brads no longer "
            "than the list says, none where you do not know; adhesive to the wall is the safe way.",
        ),
    ),
    Caution(
        "Doors and stairs",
        (
            "Do not trim a fire-rated door, a furnace-room door or an outside door: ask a licensed "
            "fitter or your building department. A furnace room needs its air.",
            "A bottom riser that differs from the others makes people fall: ask before you lay.",
        ),
    ),
)  # fmt: skip


def cautions_of(house: House | None, cuts: tuple[SawCut, ...]) -> tuple[Caution, ...]:
    """Gates that are still shut, then what to mind at each kind of work.

    Parameters
    ----------
    house : what is known of it; nothing where None, and then every gate is shut.
    cuts : of the plan: rips and notches have cautions of their own.
    """
    known = house or House()
    gates = [
        Caution(gate.words.capitalize(), (gate.step.text,), True) for gate in open_gates(known)
    ]
    cleared = cleared_words(known)
    if cleared:
        gates.append(Caution("Settled already", tuple(cleared)))
    return (*gates, _saw(cuts), *_WORK)


def _saw(cuts: tuple[SawCut, ...]) -> Caution:
    lines = list(_SAW_ALWAYS)
    if any(cut.side is not None or cut.tapered for cut in cuts):
        lines.append(_RIPS)
    if any(cut.shaped for cut in cuts):
        lines.append(_NOTCHES)
    return Caution("At the saw", tuple(lines))
