"""What the person prefers, in plain words, as the search's aim.

The fewest boards come first, and so the fewest packs. What is left below the pack boundary are
spares; the person may keep them for repairs, or have them spent on looks or on fewer cuts.
"""

from plankwright.model.wishes import Wishes
from plankwright.optimize.looks import CUTS_FIRST, LOOKS_FIRST
from plankwright.optimize.solve import Aim


def aim_of(wishes: Wishes, per_pack: int) -> Aim:
    """The search's aim for a person's wishes."""
    if wishes.prefer == "spares":
        return Aim()
    taste = LOOKS_FIRST if wishes.prefer == "looks" else CUTS_FIRST
    wished = wishes.spend_boards
    return Aim(taste, lambda boards: -boards % per_pack if wished is None else wished)
