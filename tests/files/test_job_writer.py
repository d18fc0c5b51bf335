"""Jobs written out and read again: the same job."""

from dataclasses import replace

import pytest
from shapely import box

from plankwright.files.job import read_job
from plankwright.files.job_document import document_text
from plankwright.files.job_writer import job_document
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.limits import Limits
from plankwright.model.room import Break, Doorway, FixedThing, Opening, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.testing.zoo import zoo

BOARD = Board(1285.0, 192.0, 7, 8.5, tongue_end="right", end_lock="angle", either_way=True)


def again(job: Job) -> Job:
    return read_job(document_text(job_document(job)), "job.toml")


NO_JOB = {"vanishing", "narrower than a board"}
TOO_FAR = {"far away"}  # a job file has no lengths beyond a kilometer


@pytest.mark.parametrize("name", sorted({*zoo()} - NO_JOB - TOO_FAR))
def test_every_room_of_the_zoo(name: str) -> None:
    job = Job(replace(zoo()[name], name=name), BOARD, name=name, knows_tongue_end=True)
    assert again(job) == job


def test_everything_a_job_can_say() -> None:
    room = Room(
        box(0.0, 0.0, 9000.25, 4000.125),
        fixed=(
            FixedThing("post", box(1000, 1000, 1100, 1150), 10.0, "post"),
            FixedThing("radiator", box(0, 1000, 120, 2000), None, "heater", clearance_mm=90.0),
        ),
        doorways=(Doorway("A-B", 500.0, 800.0, 90.0, 8.0, 12.0, 6.0, "hall", 11.0, "T-molding"),),
        edge_gaps=(("B-C", 12.0),),
        name="both",
        openings=(Opening((4500, 0), (4500, 4000), 120.0, "left", is_door=False, name="arch"),),
        breaks=(Break((3000, 0), (3000, 4000), 9.0, 7.0, "own"),),
    )
    wishes = Wishes(start_wall="A-B", first_row_mm=100.5, prefer="looks", way_out="hall")
    job = Job(
        room,
        BOARD,
        Rules(gap_mm=9.0, least_gap_mm=5.0),
        wishes,
        unit="in",
        name="both rooms",
        knows_tongue_end=True,
        limits=Limits(8000.0, None, in_necks=True, stem_mm=9.0),
    )
    assert again(job) == job
    assert again(replace(job, wishes=Wishes(row_angle_deg=33.3))).wishes.row_angle_deg == 33.3
