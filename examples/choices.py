"""Several ways of laying one floor, from its job file; the sheet of small drawings beside it."""

from pathlib import Path

import plankwright
from plankwright import Effort

job = plankwright.open_job(Path(__file__).with_name("hobby_room.toml"))
found = plankwright.choices(job, effort=Effort(moves=500, looks=5))
for choice in found.choices:
    print(f"{choice.number}: {choice.plan.boards.used} boards in {choice.plan.packs} packs")
sheet = plankwright.draw_choices(found, job)  # in a notebook the picture itself
print(sheet.startswith("<svg"))
