"""What the parts of a floor take over from the job file of the whole: two rooms, by hand."""

from decimal import Decimal
from pathlib import Path

from tests.application.test_part_jobs import TWO_ROOMS

from plankwright.application.part_jobs import part_jobs
from plankwright.application.shopping_list import shopping_list
from plankwright.files.buy_file import open_shopping
from plankwright.files.job import read_job
from plankwright.files.job_document import document_text
from plankwright.files.part_documents import part_documents, whole_document
from plankwright.files.slab_file import open_slab
from plankwright.model.slab_heights import HeightGrid

WHOLE = (
    TWO_ROOMS.format(necks="true")
    + """
[[room.door]]
wall = "A-B"
from_corner = 500
width = 800
name = "hall"
[[room.door]]
wall = "E-F"
from_corner = 500
width = 800
name = "den"
[slab]
area = 24
[[slab.reading]]
kind = "humidity probe"
place = "middle"
on = 2026-03-01
value = 70
[[slab.door]]
name = "hall"
[[slab.door]]
name = "den"
[[slab.door]]
name = "bottom step"
kind = "step"
[slab.heights]
step = [2000, 1500]
rows = [[0, 0, 0, 0, 0], [0, 1, 0, 0, 0], [0, 0, 0, 0, 0]]
[air]
temperature = 20
humidity = 50
[buy]
spares = 6
pack = 31.5
[buy.tools]
own = ["tape measure"]
"""
)


def written(folder: Path) -> list[Path]:
    """The job files of the two parts."""
    source = folder / "whole.toml"
    source.write_text(WHOLE, encoding="utf-8")
    jobs = part_jobs(read_job(WHOLE, "whole.toml"))
    paths = []
    for number, document in enumerate(part_documents(jobs, whole_document(source)), start=1):
        path = folder / f"part-{number}.toml"
        path.write_text(document_text(document), encoding="utf-8")
        paths.append(path)
    return paths


def test_slab_and_air_go_with_each_part(tmp_path: Path) -> None:
    # each part is 4000 x 3000 and 50 x 900 of the neck: 12.045 m2, not the 24 of the whole; the
    # hall's wall is in the left room, the den's in the right one, the step may be in either
    first, second = (open_slab(path).slab for path in written(tmp_path))
    for slab in (first, second):
        assert slab.slab.area_m2 == 12.045
        assert [reading.value for reading in slab.slab.readings] == [70.0]
        assert slab.air.now is not None
        assert slab.air.now.humidity_pct == 50.0
    doors = [[meeting.name for meeting in slab.meetings] for slab in (first, second)]
    assert sorted(doors) == [["den", "bottom step"], ["hall", "bottom step"]]


def test_what_is_bought_once_is_on_the_first_list(tmp_path: Path) -> None:
    first, second = (open_shopping(path) for path in written(tmp_path))
    assert (first.buying.spares, second.buying.spares) == (6, 0)
    assert second.buying.prices.pack == Decimal("31.5")
    parts = {part.title: part for part in shopping_list(second).parts}
    assert any(part.lines for part in parts.values())
    own = set(second.buying.toolbox.owned)
    assert not [line for part in parts.values() for line in part.lines if line.item in own]


def test_heights_go_with_the_part_they_are_on(tmp_path: Path) -> None:
    # read at x = 0, 2000, 4000, 6000 and 8000; the left part ends at 4050, the right one begins
    # there: half a step of 1000 beyond, 5050 and 3050
    parts = [open_slab(path).slab.heights for path in written(tmp_path)]
    known = [
        {i for row in heights.rows for i, height in enumerate(row) if height is not None}
        for heights in parts
        if isinstance(heights, HeightGrid)
    ]
    assert sorted(map(sorted, known)) == [[0, 1, 2], [2, 3, 4]]


def test_a_drawing_has_nothing_to_take_over(tmp_path: Path) -> None:
    assert whole_document(None) == whole_document(tmp_path / "room.dxf") == {}
