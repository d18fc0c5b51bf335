"""Plan files spoiled at random: never a traceback, and hardly a number that nobody guards."""

import copy
import json
import random
from typing import Any

import pytest
from tests.checker.plan_maker import l_room, post_room, proven_room

from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.files.plan_file import dump_plan, load_plan

GOOD = [json.loads(dump_plan(make())) for make in (proven_room, l_room, post_room)]


def numbers_in(entry: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Path of every number in a document."""
    if isinstance(entry, dict):
        return [p for key, value in entry.items() for p in numbers_in(value, (*path, key))]
    if isinstance(entry, list):
        return [p for key, value in enumerate(entry) for p in numbers_in(value, (*path, key))]
    return [path] if isinstance(entry, int | float) and not isinstance(entry, bool) else []


def spoil(document: dict[str, Any], path: tuple[Any, ...], change: Any) -> str:
    spoiled = copy.deepcopy(document)
    place: Any = spoiled
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = change(place[path[-1]])
    return json.dumps(spoiled)


@pytest.mark.parametrize("seed", range(60))
def test_any_number_of_a_plan_file_may_be_wrong(seed: int) -> None:
    rng = random.Random(seed)
    document = rng.choice(GOOD)
    path = rng.choice(numbers_in(document))
    wild = [0, -1, 1e9, -1e9, 1e300, 0.5, 7, 1234567]
    change = rng.choice(
        [lambda _: rng.choice(wild), lambda x: -x, lambda x: x + 1, lambda x: x * 2]
    )
    text = spoil(document, path, change)
    try:
        plan = load_plan(text)
    except InputError:
        return  # told with its place: see test_plan_file.py
    assert all(fault.place and fault.message for fault in check_plan(plan).faults)


PIECE_NUMBERS = (
    "row", "stretch", "seat", "board", "length", "width", "from_near", "from_wall_side",
)  # fmt: skip


@pytest.mark.parametrize("field", PIECE_NUMBERS)
@pytest.mark.parametrize("index", [0, 17, 30])
def test_every_number_of_a_piece_is_guarded(field: str, index: int) -> None:
    for document in GOOD:
        # A board number changed to one that another piece uses, everything else by 1.
        other = document["pieces"][index + 1]["board"]
        change = (lambda _, other=other: other) if field == "board" else _one_more
        plan = load_plan(spoil(document, ("pieces", index, field), change))
        assert not check_plan(plan).ok


@pytest.mark.parametrize("index", [0, 17, 30])
@pytest.mark.parametrize("corner", [0, 1, 2])
def test_every_corner_of_a_piece_is_guarded(index: int, corner: int) -> None:
    for document in GOOD:
        for axis in (0, 1):
            path = ("pieces", index, "outline", "coordinates", 0, corner, axis)
            spoiled = json.loads(spoil(document, path, _one_more))
            ring = spoiled["pieces"][index]["outline"]["coordinates"][0]
            ring[-1] = ring[0]
            assert not check_plan(load_plan(json.dumps(spoiled))).ok


def _one_more(number: float) -> float:
    return number + 1
