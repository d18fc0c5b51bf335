"""The table of sheets: every name that can be asked for, in the order in which a job needs them."""

from collections.abc import Callable, Iterator, Sequence

from plankwright.errors import InputError
from plankwright.paper.blocks import Sheet
from plankwright.paper.cards import cards_sheet
from plankwright.paper.cautions import cautions_sheet
from plankwright.paper.cut_list import cut_list_sheet
from plankwright.paper.floor_plan import floor_plan_sheet
from plankwright.paper.heights import heights_sheet
from plankwright.paper.layers import underlayment_sheet, vapor_barrier_sheet
from plankwright.paper.laying_order import laying_order_sheet
from plankwright.paper.material import Material
from plankwright.paper.offcut_labels import labels_sheet
from plankwright.paper.press import Printed, press
from plankwright.paper.rip_table import rip_table_sheet
from plankwright.paper.shopping import shopping_sheet
from plankwright.paper.slab import slab_sheet
from plankwright.paper.templates import templates_sheet
from plankwright.paper.trim import trim_sheet

Maker = Callable[[Material], Sheet | None]

# A maker returns None where the job gives its sheet nothing to tell.
SHEETS: dict[str, Maker] = {
    "cautions": cautions_sheet,
    "slab": slab_sheet,
    "heights": heights_sheet,
    "shopping-list": shopping_sheet,
    "vapor-barrier": vapor_barrier_sheet,
    "underlayment": underlayment_sheet,
    "floor-plan": floor_plan_sheet,
    "laying-order": laying_order_sheet,
    "cards": cards_sheet,
    "cut-list": cut_list_sheet,
    "rip-table": rip_table_sheet,
    "offcut-labels": labels_sheet,
    "templates": templates_sheet,
    "trim": trim_sheet,
}


def print_sheets(material: Material, names: Sequence[str] = ()) -> Iterator[Printed]:
    """Each sheet asked for, or all that the job has something for.

    Raises
    ------
    InputError
        for a name that no sheet has, or one that the job has nothing for.
    """
    for name in names:
        if name not in SHEETS:
            raise InputError(
                "there is no such sheet", where="--sheet", value=name,
                remedy=f"Use one of: {', '.join(SHEETS)}.",
            )  # fmt: skip
    for name in names or SHEETS:
        sheet = SHEETS[name](material)
        if sheet is not None:
            yield press(sheet, material.paper, material.plan.name)
        elif names:
            raise InputError(
                "the job has nothing for this sheet", where="--sheet", value=name,
                remedy="Give the job file that has it with --job.",
            )  # fmt: skip
