"""The job: a lock that nobody described is taken to fit the wish, and that is said."""

from shapely import box

from plankwright.model.board import Board
from plankwright.model.job import ASSUMED_LOCK, Job
from plankwright.model.room import Room
from plankwright.model.wishes import Wishes

ROOM = Room(box(0.0, 0.0, 4000.0, 3000.0))
RIGHT_TO_LEFT = Wishes(laid="right-to-left")


def test_an_undescribed_lock_fits_the_wish_and_is_told() -> None:
    job = Job(ROOM, wishes=RIGHT_TO_LEFT).with_lock_for_wish()
    assert job.board.near_end("right-to-left") == "tongue"
    assert job.findings == (ASSUMED_LOCK,)
    assert job.with_lock_for_wish() == job  # told once


def test_a_described_lock_is_left_alone() -> None:
    job = Job(ROOM, wishes=RIGHT_TO_LEFT, knows_tongue_end=True)
    assert job.with_lock_for_wish() is job


def test_without_a_wish_or_a_lock_nothing_is_assumed() -> None:
    plain = Job(ROOM)
    loose = Job(ROOM, board=Board(1285.0, 192.0, reversible=True), wishes=RIGHT_TO_LEFT)
    assert plain.with_lock_for_wish() is plain
    assert loose.with_lock_for_wish() is loose
