"""What the person prefers, in plain words, as the search's aim.

The fewest boards come first, and so the fewest packs. What is left below the pack boundary are
spares; the person may keep them for repairs, or have them spent on looks or on fewer cuts.
"""

from dataclasses import dataclass

from plankwright.model.wishes import Wishes
from plankwright.optimize.looks import CUTS_FIRST, LOOKS_FIRST
from plankwright.optimize.solve import Aim


@dataclass(frozen=True, slots=True)
class UpToThePack:
    """As many boards more as the last pack has."""

    per_pack: int

    def __call__(self, boards: int) -> int:
        """What is left of the last pack."""
        return -boards % self.per_pack


@dataclass(frozen=True, slots=True)
class Wished:
    """As many boards more as the person wished."""

    boards: int

    def __call__(self, _: int) -> int:
        """The same whatever the number of boards."""
        return self.boards


def aim_of(wishes: Wishes, per_pack: int) -> Aim:
    """The search's aim for a person's wishes."""
    if wishes.prefer == "spares":
        return Aim()
    taste = LOOKS_FIRST if wishes.prefer == "looks" else CUTS_FIRST
    wished = wishes.spend_boards
    return Aim(taste, UpToThePack(per_pack) if wished is None else Wished(wished))
