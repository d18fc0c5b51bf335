"""The HiGHS solver for leveling: silent, on one core, the same answer every time."""

import highspy


class QuietSolver(highspy.Highs):
    """HiGHS that prints nothing, not even its banner when callbacks are set up."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        self.setOptionValue("threads", 1)
        self.setOptionValue("random_seed", 0)

    def enableCallbacks(self) -> None:  # noqa: N802 - HiGHS's own name
        """Set callbacks up as HiGHS does, but silently."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]
