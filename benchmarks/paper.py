"""Every sheet of a job: pages, bytes and seconds, for the demo room, a cellar and a large floor.

``python -m benchmarks.paper``. The plan is made first and not counted; what the sheets ask for,
such as the judgement of the slab, is.
"""

import time
from collections.abc import Iterator
from pathlib import Path

from shapely import Polygon, box

import plankwright
from plankwright import Board, Effort, Room, Rules
from plankwright.application.buy_job import BuyJob
from plankwright.drawing.sheet import Paper
from plankwright.files.buy_file import open_shopping, usual_buying
from plankwright.model.room import FixedThing
from plankwright.paper.all_sheets import print_sheets
from plankwright.paper.material import Material

PACKAGE = Path(plankwright.__file__).parent
DEMO = PACKAGE / "data" / "demo_room.toml"
CELLAR = PACKAGE.parents[1] / "docs" / "examples" / "damp_cellar.toml"


def jobs() -> Iterator[tuple[str, BuyJob]]:
    """The jobs that are printed, each planned."""
    yield "demo room", open_shopping(DEMO)
    yield "damp cellar", open_shopping(CELLAR)
    yield "200 m2", large_floor()


def large_floor() -> BuyJob:
    """An invented hall of 200 m2, out of square, with two posts."""
    walls = [(0, 0), (21000, 0), (21300, 7600), (14600, 7550), (14600, 10500), (0, 10400)]
    posts = tuple(FixedThing("post", box(x, 5000, x + 200, 5200)) for x in (5000, 12000))
    room = Room(Polygon(walls), posts, name="hall")
    plan = plankwright.plan_room(room, Board(1285.0, 192.0), Rules(), effort=Effort(moves=0))
    return BuyJob(plan, usual_buying("mm"), "mm", ())


def main() -> None:
    """Print the table."""
    papers: tuple[Paper, ...] = ("A4", "Letter")
    for name, job in jobs():
        for paper in papers:
            print(f"\n{name}, {job.plan.floor.area / 1e6:.1f} m2, on {paper}")
            print(f"{'sheet':16} {'pages':>5} {'kB':>6} {'s wall':>7} {'s cpu':>7}")
            _table(Material(job, paper))


def _table(material: Material) -> None:
    wall, cpu = time.perf_counter(), time.process_time()
    start, pages = (wall, cpu), 0
    for sheet in print_sheets(material):
        count = sheet.pdf.count(b"/Type/Page/") + sheet.pdf.count(b"/Type/Page\n")
        now = time.perf_counter(), time.process_time()
        spent = now[0] - wall, now[1] - cpu
        size = len(sheet.pdf) / 1000
        print(f"{sheet.name:16} {count:5} {size:6.0f} {spent[0]:7.2f} {spent[1]:7.2f}")
        (wall, cpu), pages = now, pages + count
    print(f"{'together':16} {pages:5} {'':6} {wall - start[0]:7.2f} {cpu - start[1]:7.2f}")


if __name__ == "__main__":
    main()
