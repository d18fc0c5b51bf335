"""What is remembered while a start line is dragged gives the plans that are found without it."""

from plankwright.files.plan_file import dump_plan
from plankwright.web.planning import Planning


def document(first_row: str) -> dict[str, object]:
    outline = [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]
    return {
        "job": {"name": "Dragged", "unit": "mm"},
        "room": {"outline": outline},
        "laying": {"first_row": first_row},
    }


def test_a_remembered_solution_is_the_one_that_would_be_found() -> None:
    # 3000 - 16 = 2984 = 15 x 192 + 104: first rows of 60 and 70 mm ask for the same stretches,
    # one of 150 mm for others
    dragged = Planning()
    for first_row in ("60", "70", "150", "60"):
        alone = Planning().now(document(first_row))
        assert dump_plan(dragged.now(document(first_row))) == dump_plan(alone)
