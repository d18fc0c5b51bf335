"""Two people who lay by hand: the peers a plan is measured against.

*The habit*: each stretch starts with the newest shelved offcut that is legal. *The careful layer*:
keeps offcuts of both kinds, trims them, takes the fewest new boards at each stretch, but does not
look ahead. Both see the same stretches and joint rules as the optimizer (an ``Instance``), in
ticks of 1/10,000 mm, and are written without any of its code.
"""

from dataclasses import dataclass, field

from plankwright.optimize.instance import Instance


@dataclass(frozen=True, slots=True)
class Outcome:
    """Boards used, and whether every rule was kept."""

    boards: int
    legal: bool


@dataclass(slots=True)
class Laying:
    """What is known while laying: joints per stretch, and the shelf."""

    instance: Instance
    joints: dict[int, list[int]] = field(default_factory=dict)
    starters: list[int] = field(default_factory=list)  # offcuts that keep the far end, oldest first
    enders: list[int] = field(default_factory=list)  # offcuts that keep the near end
    boards: int = 0
    legal: bool = True

    def split(self, index: int, starter: int) -> tuple[int, int]:
        """Whole boards and end piece that follow a starter."""
        rest = self.instance.stretches[index].length - starter
        wholes = -(-rest // self.instance.board) - 1
        return wholes, rest - wholes * self.instance.board

    def keeps_rules(self, index: int, starter: int) -> bool:
        """Whether a starter keeps shortest piece, prongs and the offset to the rows before."""
        need, instance = self.instance.stretches[index], self.instance
        if not instance.shortest <= starter <= min(instance.board, need.length - 1):
            return False
        wholes, end = self.split(index, starter)
        if end < instance.shortest:
            return False
        own = [starter + k * instance.board for k in range(wholes + 1)]
        if any(low < joint < high for joint in own for low, high in need.forbidden):
            return False
        own = [joint + need.start for joint in own]
        return not any(
            abs(a - b) < instance.offset
            for contact in instance.contacts
            if index in (contact.wall_side, contact.room_side)
            for other in ((contact.wall_side + contact.room_side - index),)
            for a in own
            if contact.low <= a <= contact.high
            for b in self.joints.get(other, ())
            if contact.low <= b <= contact.high
        )

    def lay(self, index: int, starter: int) -> None:
        """Remember the joints of a stretch."""
        wholes, _ = self.split(index, starter)
        first = self.instance.stretches[index].start + starter
        self.joints[index] = [first + k * self.instance.board for k in range(wholes + 1)]

    def legal_starters(self, index: int) -> list[int]:
        """Every legal starter on a grid of 5 mm, shortest first, then the flush one."""
        board, length = self.instance.board, self.instance.stretches[index].length
        marks = [*range(50_000, board + 1, 50_000), length % board or board]
        return [s for s in marks if self.keeps_rules(index, s)]


def _usual(board: int) -> list[int]:
    """How a new board is cut for a starter: whole, half, a third, two thirds."""
    return [board, board // 2, board // 3, 2 * board // 3]


def habit(instance: Instance) -> Outcome:
    """The habit: newest legal offcut, else a new board whole, 1/2, 1/3, 2/3, else anywhere."""
    laid = Laying(instance)
    board, cut = instance.board, instance.cut
    for index, need in enumerate(instance.stretches):
        if need.length <= board:
            _habit_short(laid, need.length)
            continue
        place = next(
            (k for k in reversed(range(len(laid.starters)))
             if laid.keeps_rules(index, laid.starters[k])),
            None,
        )  # fmt: skip
        if place is not None:
            starter = laid.starters.pop(place)
        else:
            laid.boards += 1
            legal = [s for s in _usual(board) if laid.keeps_rules(index, s)] or laid.legal_starters(
                index
            )
            laid.legal &= bool(legal)
            starter = legal[0] if legal else _least_bad(laid, index)
        wholes, end = laid.split(index, starter)
        laid.lay(index, starter)
        laid.boards += wholes + 1
        if board - end - cut >= instance.shortest:
            laid.starters.append(board - end - cut)
    return Outcome(laid.boards, laid.legal)


def _habit_short(laid: Laying, length: int) -> None:
    """A wall-to-wall piece: the newest offcut that is long enough, else a new board."""
    for k in reversed(range(len(laid.starters))):
        if laid.starters[k] >= length:
            rest = laid.starters.pop(k) - length - laid.instance.cut
            break
    else:
        laid.boards += 1
        rest = laid.instance.board - length - laid.instance.cut
    if rest >= laid.instance.shortest:
        laid.starters.append(rest)


def careful(instance: Instance) -> Outcome:
    """The careful layer: at each stretch the fewest new boards, then the least waste."""
    laid = Laying(instance)
    for index, need in enumerate(instance.stretches):
        if need.length <= instance.board:
            lay_short(laid, need.length)
        else:
            lay_long(laid, index)
    return Outcome(laid.boards, laid.legal)


@dataclass(frozen=True, slots=True)
class _Step:
    """One way to fill a stretch: what comes from the shelf, and what goes back there."""

    starter: int
    from_shelf: int | None
    end_from_shelf: int | None
    fresh: int
    kept: tuple[int, int]  # offcut of a cut starter, offcut of a cut end piece
    waste: int


def lay_long(laid: Laying, index: int) -> None:
    """The careful layer's next stretch that is longer than a board."""
    usual = [s for s in _usual(laid.instance.board) if laid.keeps_rules(index, s)]
    exact = {*laid.starters, *usual, *_filled_by_enders(laid, index)}
    options = {*laid.legal_starters(index), *(s for s in exact if laid.keeps_rules(index, s))}
    laid.legal &= bool(options)
    steps = [_step(laid, index, s) for s in sorted(options) or [_least_bad(laid, index)]]
    steps = [
        step for step in steps if step.from_shelf is not None or step.starter in usual or not usual
    ]
    best = min(steps, key=lambda step: (step.fresh, step.waste, step.starter))
    if best.from_shelf is not None:
        laid.starters.remove(best.from_shelf)
    if best.end_from_shelf is not None:
        laid.enders.remove(best.end_from_shelf)
    laid.boards += best.fresh
    laid.lay(index, best.starter)
    for store, offcut in zip((laid.enders, laid.starters), best.kept, strict=True):
        if offcut >= laid.instance.shortest:
            store.append(offcut)


def _filled_by_enders(laid: Laying, index: int) -> set[int]:
    """Starters after which a shelved end piece fits untrimmed."""
    board, length = laid.instance.board, laid.instance.stretches[index].length
    return {(length - end) % board or board for end in laid.enders}


def _step(laid: Laying, index: int, starter: int) -> _Step:
    room = laid.instance.board - laid.instance.cut
    wholes, end = laid.split(index, starter)
    from_shelf = min((s for s in laid.starters if s >= starter), default=None)
    end_from_shelf = min((e for e in laid.enders if e >= end), default=None)
    kept = (
        room - starter if from_shelf is None else 0,
        room - end if end_from_shelf is None else 0,
    )
    waste = sum(offcut for offcut in kept if offcut < laid.instance.shortest)
    waste += (from_shelf or starter) - starter + (end_from_shelf or end) - end
    fresh = wholes + (from_shelf is None) + (end_from_shelf is None)
    return _Step(starter, from_shelf, end_from_shelf, fresh, kept, waste)


def lay_short(laid: Laying, length: int) -> None:
    """The careful layer's next stretch that one piece fills."""
    shelf = sorted([(s, 0) for s in laid.starters] + [(e, 1) for e in laid.enders])
    for size, kind in shelf:
        if size >= length:
            store = laid.enders if kind else laid.starters
            store.remove(size)
            break
    else:
        laid.boards += 1
        size, store = laid.instance.board, laid.starters
    rest = size - length - laid.instance.cut
    if rest >= laid.instance.shortest:
        store.append(rest)


def _least_bad(laid: Laying, index: int) -> int:
    """No legal starter: the one whose shorter piece is longest."""
    board, length = laid.instance.board, laid.instance.stretches[index].length
    marks = range(50_000, min(board, length - 1) + 1, 50_000)
    return max(marks, key=lambda s: min(s, laid.split(index, s)[1]))
