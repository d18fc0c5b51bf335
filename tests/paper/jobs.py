"""The jobs that sheets are shown on: the demo room, the damp cellar, a whole dwelling."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

from tests.data import data_file

import plankwright
from plankwright.application.buy_job import BuyJob
from plankwright.drawing.sheet import Paper
from plankwright.files.buy_file import open_buy, usual_buying
from plankwright.paper.material import Material

ROOT = Path(plankwright.__file__).parents[2]
DEMO = Path(plankwright.__file__).parent / "data" / "demo_room.toml"
CELLAR = ROOT / "docs" / "examples" / "damp_cellar.toml"
DWELLING = "arch-dw-7489-7"  # 60 m2


QUICK = plankwright.Effort(moves=20)


@cache
def bought(path: Path) -> BuyJob:
    opened = open_buy(path)
    plan = plankwright.plan_job(opened.job, effort=plankwright.Effort() if path == DEMO else QUICK)
    doorways = opened.job.room.doorways
    return BuyJob(plan, opened.buying, opened.job.unit, doorways, opened.slab)


@cache
def dwelling() -> BuyJob:
    job = plankwright.open_job(data_file("dwellings_agpl.geojson"), feature=DWELLING)
    plan = plankwright.plan_job(job, effort=QUICK)
    return BuyJob(plan, usual_buying("mm"), "mm", job.room.doorways)


JOBS: dict[str, Callable[[], BuyJob]] = {
    "demo": lambda: bought(DEMO),
    "cellar": lambda: bought(CELLAR),
    "dwelling": dwelling,
}


@cache
def material(name: str, paper: Paper = "A4") -> Material:
    return Material(JOBS[name](), paper)
