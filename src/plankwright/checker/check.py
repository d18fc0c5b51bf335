"""The independent checker: every rule of a plan, judged from its outlines.

It shares no code with the planner, the search or the geometry that made the plan: it imports
only the nouns. What it needs, it finds anew.
"""

from plankwright.checker.counts import NOT_RECHECKED, bound_faults, count_faults
from plankwright.checker.cover import cover_faults, inner_cut_faults
from plankwright.checker.cuts import cut_faults
from plankwright.checker.edges import find_meetings
from plankwright.checker.excuse import judge
from plankwright.checker.factory import factory_faults
from plankwright.checker.floor import floor_faults
from plankwright.checker.laid import batch_faults, laid_faults
from plankwright.checker.numbering import numbering_faults, outline_faults
from plankwright.checker.offsets import offset_faults
from plankwright.checker.order import order_faults
from plankwright.checker.placing import place_pieces
from plankwright.checker.sizes import size_faults
from plankwright.checker.verdict import Fault, Verdict
from plankwright.checker.view import look_at
from plankwright.model.plan import Plan


def check_plan(plan: Plan) -> Verdict:
    """Judge a plan: every fault with its place, what was excused, what was not re-checked.

    A plan with an outline that is no polygon gets only those faults, since nothing else can be
    said about it.
    """
    faults = list(outline_faults(plan))
    if not faults:
        faults = _all_faults(plan)
    rests_on_search = plan.boards.evidence.kind == "search"
    return judge(faults, plan.findings, (NOT_RECHECKED,) if rests_on_search else ())


def _all_faults(plan: Plan) -> list[Fault]:
    view = look_at(plan)
    faults = [*floor_faults(plan), *cover_faults(view)]
    meetings = find_meetings(view)
    placings = place_pieces(view)
    faults += inner_cut_faults(view, meetings)
    faults += numbering_faults(view, meetings)
    faults += factory_faults(view, meetings, placings)
    faults += cut_faults(view, placings)
    faults += offset_faults(view, meetings)
    faults += size_faults(view)
    faults += order_faults(view, meetings)
    faults += [*laid_faults(view), *batch_faults(view)]
    faults += count_faults(view)
    faults += bound_faults(view, meetings)
    return faults
