"""The jobs that sheets are shown on: the demo room, the damp cellar, a whole dwelling."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

from tests.data import data_file

import plankwright
from plankwright.application.buy_job import BuyJob
from plankwright.drawing.sheet import Paper
from plankwright.files.buy_file import open_shopping, usual_buying
from plankwright.paper.material import Material

ROOT = Path(plankwright.__file__).parents[2]
DEMO = Path(plankwright.__file__).parent / "data" / "demo_room.toml"
CELLAR = ROOT / "docs" / "examples" / "damp_cellar.toml"
DWELLING = "arch-dw-7490-22"  # 72 m2


@cache
def bought(path: Path) -> BuyJob:
    return open_shopping(path)


@cache
def dwelling() -> BuyJob:
    job = plankwright.open_job(data_file("dwellings_agpl.geojson"), feature=DWELLING)
    plan = plankwright.plan_job(job, effort=plankwright.Effort(moves=20))
    return BuyJob(plan, usual_buying("mm"), "mm", job.room.doorways)


JOBS: dict[str, Callable[[], BuyJob]] = {
    "demo": lambda: bought(DEMO),
    "cellar": lambda: bought(CELLAR),
    "dwelling": dwelling,
}


@cache
def material(name: str, paper: Paper = "A4") -> Material:
    return Material(JOBS[name](), paper)
