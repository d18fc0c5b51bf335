"""Parts of a floor with rows of their own: two rooms and a neck between them, by hand."""

import pytest

from plankwright.application.buy_job import BuyJob
from plankwright.application.part_jobs import part_jobs, plan_parts
from plankwright.application.shopping_list import shopping_list
from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.files.job import read_job
from plankwright.files.job_buy import BuyTable, make_buying
from plankwright.files.job_document import document_text
from plankwright.files.job_writer import job_document
from plankwright.model.job import Job
from plankwright.optimize.solve import WHILE_DRAGGING

TWO_ROOMS = """
[job]
name = "Two rooms"
unit = "mm"
[room]
outline = [[0, 0], [4000, 0], [4000, 1400], [4100, 1400], [4100, 0], [8100, 0], [8100, 3000],
           [4100, 3000], [4100, 2300], [4000, 2300], [4000, 3000], [0, 3000]]
[board]
length = 1285
width = 192
[breaks]
in_necks = {necks}
stem = 8
"""


def two_rooms(necks: bool) -> Job:
    """Two rooms joined by a neck 900 wide, with or without a break in it."""
    return read_job(TWO_ROOMS.format(necks=str(necks).lower()), "two_rooms.toml")


def test_each_part_is_a_room_up_to_the_middle_of_the_neck() -> None:
    # The neck is 100 deep and 900 wide; the T-molding lies in its middle, at 4050. So each part is
    # 4000 x 3000 and 50 x 900 of neck, and keeps half a stem of 8 and the gap of 8 from there.
    parts = part_jobs(two_rooms(necks=True))
    assert [job.room.outline.area for job in parts] == [4000 * 3000 + 50 * 900] * 2
    for job in parts:
        ((_, gap),) = job.room.edge_gaps
        assert gap == 8.0 / 2.0 + 8.0


def test_the_molding_between_two_parts_is_on_one_list() -> None:
    # cut of the neck at 4050: 900 wide, one T-molding of 900 for both parts
    found = plan_parts(two_rooms(necks=True), effort=WHILE_DRAGGING)
    buying = make_buying(BuyTable(), "mm")
    first, second = (
        shopping_list(BuyJob(plan, buying, "mm", job.room.doorways))
        for job, plan in zip(found.jobs, found.plans, strict=True)
    )
    one, other = (
        [(line.count, line.item) for line in listed.lines if line.item.startswith("T-molding")]
        for listed in (first, second)
    )
    assert one == [(1, "T-molding, length 900 mm, with track")]
    assert other == []
    notes = [note for part in second.parts for note in part.notes]
    assert (
        "break in the neck: its transition is on the list of the other part of the floor." in notes
    )


def test_packs_are_counted_over_all_parts_and_every_plan_is_checked() -> None:
    found = plan_parts(two_rooms(necks=True), effort=WHILE_DRAGGING)
    assert all(check_plan(plan).ok for plan in found.plans)
    assert found.boards == sum(plan.boards.used for plan in found.plans)
    assert found.packs == -(-found.boards // 8)
    assert found.packs <= sum(plan.packs for plan in found.plans)


def test_a_part_s_job_file_gives_the_same_job_back() -> None:
    for job in part_jobs(two_rooms(necks=True)):
        again = read_job(document_text(job_document(job)), "job.toml")
        assert again.room == job.room
        assert again.rules == job.rules


def test_a_floor_that_nothing_parts_is_told_what_to_write() -> None:
    with pytest.raises(InputError, match="no expansion break parts this floor") as caught:
        part_jobs(two_rooms(necks=False))
    assert "[breaks]" in str(caught.value.remedy)
