"""What sheets are made from: the plan and what is known beside it, each worked out once."""

from dataclasses import dataclass
from functools import cached_property

from plankwright.application.buy_job import BuyJob
from plankwright.application.shopping_list import ShoppingList, shopping_list
from plankwright.application.slab_advice import SlabReport
from plankwright.drawing.sheet import Paper
from plankwright.guide.cards import Card, cards_of
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.toolbox import Toolbox
from plankwright.plan.saw_cuts import SawCut, piece_figure, saw_cuts
from plankwright.plan.saw_view import Saw, SawView, view_at
from plankwright.units import Unit, format_length


@dataclass(frozen=True)
class Material:
    """A plan with everything that sheets tell of it.

    Parameters
    ----------
    job : the plan with doorways, prices and slab, as far as they are known.
    paper : size of the sheets.
    """

    job: BuyJob
    paper: Paper

    @property
    def plan(self) -> Plan:
        """What is to be laid."""
        return self.job.plan

    @property
    def unit(self) -> Unit:
        """Unit of every length that is printed."""
        return self.job.unit

    @cached_property
    def room(self) -> Room:
        """The room with its doorways, as far as they are known."""
        return Room(self.plan.room, doorways=self.job.doorways or (), name=self.plan.name)

    @cached_property
    def cards(self) -> tuple[Card, ...]:
        """Every piece from the stack to its place, in laying order."""
        return cards_of(self.plan)

    @cached_property
    def cuts(self) -> tuple[SawCut, ...]:
        """Every cut in saw order."""
        return saw_cuts(self.plan)

    def view(self, cut: SawCut) -> SawView:
        """How a board lies at the saw that this person would take for a cut."""
        return view_at(saw_for(cut, self.job.buying.toolbox))

    @cached_property
    def shopping(self) -> ShoppingList:
        """What to buy."""
        return shopping_list(self.job)

    @property
    def slab(self) -> SlabReport | None:
        """The advice on the slab; None where nothing is known of it."""
        return self.job.slab_report

    def piece(self, mm: float) -> str:
        """A size of a piece, rounded down to the tape's marks."""
        return piece_figure(mm, self.unit)

    def figure(self, mm: float) -> str:
        """A length to the nearest mark, without its unit."""
        return format_length(mm, self.unit, with_unit=False)

    def length(self, mm: float) -> str:
        """A length to the nearest mark."""
        return format_length(mm, self.unit)

    def need(self, mm: float) -> str:
        """A need, rounded up."""
        return format_length(mm, self.unit, rounding="up")


def saw_for(cut: SawCut, toolbox: Toolbox) -> Saw:
    """The saw a cut is made with: what is at hand, else the usual one.

    Notches are cut with a jigsaw, rips with a table saw (borrowed, if need be), ends with a miter
    saw.
    """
    if cut.shaped:
        return "jigsaw"
    rips: tuple[Saw, ...] = ("table saw", "circular saw")
    crosscuts: tuple[Saw, ...] = ("miter saw", "hand saw", "circular saw", "jigsaw")
    wanted = rips if cut.side is not None else crosscuts
    return next((saw for saw in wanted if saw in toolbox.owned), wanted[0])
