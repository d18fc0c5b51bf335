"""Whether a slab is dry enough, and why: the advice in plain words."""

from pathlib import Path

import plankwright

report = plankwright.slab(Path(__file__).with_name("hobby_room.toml"))
print("ready" if report.ready else "not ready")
print(report.advice[0])
print(f"{len(report.steps)} steps before row 1")
