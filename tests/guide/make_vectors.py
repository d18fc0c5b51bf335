"""Makes ``vectors.json``: random days with the state they fold to, for Python and the phone.

Run ``python -m tests.guide.make_vectors`` after a change of meaning, and look at what differs.
"""

import json
from pathlib import Path

from tests.guide.happenings import BOARD_MM, day

from plankwright.guide.events import event_entry
from plankwright.guide.laying_state import fold, state_entry

VECTORS = Path(__file__).with_name("vectors.json")


def vectors_text() -> str:
    """Twelve days of two phones, an event a line."""
    cases = []
    for seed in range(12):
        events = day(seed, 60)
        lines = ",\n".join(json.dumps(event_entry(event)) for event in events)
        state = json.dumps(state_entry(fold(events, BOARD_MM)))
        cases.append(
            f'{{"board_mm": {json.dumps(BOARD_MM)},\n"events": [\n{lines}\n],\n"state": {state}}}'
        )
    return "[\n" + ",\n".join(cases) + "\n]\n"


if __name__ == "__main__":
    VECTORS.write_text(vectors_text(), encoding="utf-8")
