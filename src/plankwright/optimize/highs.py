"""The HiGHS solver as this program uses it: silent, on one core, the same answer every time."""

from collections.abc import Callable
from itertools import count
from typing import Any

import highspy

ASK_EVERY = 32  # steps of the simplex method


class QuietHighs(highspy.Highs):
    """HiGHS that prints nothing, not even its banner when callbacks are set up.

    Its time limit is not to be relied on: it was seen to overshoot several times over.
    """

    def __init__(self, **options: bool | float | str) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        fixed: dict[str, bool | float | str] = {"threads": 1, "random_seed": 0}
        for option, value in (fixed | options).items():
            self.setOptionValue(option, value)

    def enableCallbacks(self) -> None:  # noqa: N802 - HiGHS's own name
        """Set callbacks up as HiGHS does, but silently."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]

    def stop_when(self, stop: Callable[[], bool]) -> None:
        """Give up as soon as ``stop`` says True; the model's status is then *interrupt*."""

        asked = count(1)

        def ask(event: Any) -> None:
            if next(asked) % ASK_EVERY == 0 and stop():
                event.interrupt()

        self.cbSimplexInterrupt.subscribe(ask)
