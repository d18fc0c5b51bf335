"""The shopping list: every line with its reason, nothing twice, rules of the leaflet kept."""

import math
from dataclasses import replace
from decimal import Decimal
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from shapely import Point, box

from plankwright.application.buy_job import BuyJob
from plankwright.application.plan_room import plan_room
from plankwright.application.shopping_list import ShoppingList, shopping_list
from plankwright.application.slab_advice import SlabJob
from plankwright.errors import InputError
from plankwright.files.buy_file import open_shopping
from plankwright.files.job_buy import BuyTable, make_buying
from plankwright.model.board import Board
from plankwright.model.build_up import Layers, Meeting
from plankwright.model.buying import Buying
from plankwright.model.plan import Plan
from plankwright.model.room import Doorway, FixedThing, Room
from plankwright.model.slab import Film, Slab
from plankwright.model.toolbox import Toolbox
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort


def buying(**table: Any) -> Buying:
    return make_buying(BuyTable.model_validate(table, context={"unit": "mm"}), "mm")


@pytest.fixture(scope="module")
def plan() -> Plan:
    """4.00 x 3.00 m with a hearth, a pipe and a post; 8 boards in a pack."""
    room = Room(
        box(0, 0, 4000, 3000),
        fixed=(
            FixedThing("hearth", box(1400, 2600, 2600, 3100), name="hearth"),
            FixedThing("pipe", Point(3700, 300).buffer(11), name="heating pipe"),
            FixedThing("post", box(2000, 1200, 2120, 1320), name="post"),
        ),
    )
    return plan_room(room, Board(1285.0, 192.0), effort=Effort(moves=0))


DOORS = (Doorway("D-A", 300.0, 800.0, name="door to the hall", undercut_mm=20.0),)


def listed(plan: Plan, wishes: Buying | None = None, **more: Any) -> ShoppingList:
    return shopping_list(BuyJob(plan, wishes or buying(), "mm", DOORS, **more))


def test_every_line_has_its_reason_and_stands_there_once(plan: Plan) -> None:
    found = listed(plan)
    items = [(line.item, line.unit) for line in found.lines]
    assert len(items) == len(set(items))
    assert all(line.why for line in found.lines)
    assert {line.section for line in found.lines} <= {part.title for part in found.parts}


def test_packs_hold_the_boards_and_the_spares(plan: Plan) -> None:
    packs = listed(plan, buying(spares=5)).packs
    assert packs.taken.packs * 8 >= plan.boards.used + 5
    assert packs.taken.chances[1] <= 0.10
    assert packs.choices[0].packs == math.ceil(plan.boards.used / 8)
    # by area plus 10 %: packs of 8 x 1.285 x 0.192 m2
    area = plan.floor.area / 1e6 * 1.1
    assert packs.by_area == math.ceil(area / (8 * 1.285 * 0.192))


def test_what_meets_the_floor_is_covered(plan: Plan) -> None:
    found = listed(plan)
    names = [line.name for line in found.lines]
    assert "rosette" in names  # round the pipe
    assert sum(run.where == "post" for run in found.trim.runs) == 4
    assert not any(run.where == "hearth" for run in found.trim.runs)
    kinds = {t.where: (t.kind, t.length_mm) for t in found.transitions}
    # the hearth is 1200 wide and stands 400 into the room
    assert kinds["hearth"][0] == "end cap"
    assert abs(kinds["hearth"][1] - 2000.0) < 1.0
    assert kinds["door to the hall"][1] == 800.0
    walls = sum(run.length_mm for run in found.trim.runs if "-" in run.where)
    assert walls == pytest.approx(14_000.0 - 1200.0 - 800.0)


def test_heights_decide_the_transition(plan: Plan) -> None:
    slab = SlabJob(
        Slab(12.0), layers=Layers(8.0, 2.0), meetings=(Meeting("door to the hall", beyond_mm=6.0),)
    )
    found = listed(plan, slab=slab)
    # 8 + 2 + 0.15 = 10.15 over the slab, 4.15 higher than the floor beyond
    assert found.transitions[0].kind == "reducer"
    assert not any(f.code == "transition-unknown" for f in found.findings)
    assert any(f.code == "transition-unknown" for f in listed(plan).findings)


@pytest.mark.parametrize(
    ("attached", "second", "film", "pad"),
    [
        (False, "forbidden", True, True),
        (True, "allowed", True, True),
        (True, "not said", True, False),
        (True, "forbidden", False, False),
    ],
)
def test_a_second_layer_only_where_the_leaflet_takes_it(
    plan: Plan, attached: bool, second: Any, film: bool, pad: bool
) -> None:
    slab = SlabJob(Slab(12.0, film=Film(attached=attached, second=second)))
    found = listed(plan, slab=slab)
    assert (found.sheets.film is not None) is film
    assert (found.sheets.pad is not None) is pad
    told = any(finding.code == "second-barrier" for finding in found.findings)
    assert told is (not (film and pad))


def test_thin_trim_is_told_wall_by_wall(plan: Plan) -> None:
    # gap 8 and 5 for taper, rip error and caulk: 13; quarter round of 12 does not do
    thin = listed(plan, buying(trim={"thickness": 12}))
    codes = [finding.where for finding in thin.findings if finding.code == "gap-uncovered"]
    assert set(codes) == {run.where for run in thin.trim.runs}
    assert not any(f.code == "gap-uncovered" for f in listed(plan).findings)


def test_masonry_takes_adhesive_and_no_brads(plan: Plan) -> None:
    names = {line.name for line in listed(plan, buying(trim={"wall": "masonry"})).lines}
    assert "construction adhesive" in names
    assert "brads" not in names


def test_missing_saws_are_told(plan: Plan) -> None:
    box_ = Toolbox(("miter saw",), rips=False, reach_mm=100.0)
    found = listed(plan, replace(buying(), toolbox=box_))
    assert sum(finding.code == "buy-saw" for finding in found.findings) == 2


def test_sums_are_those_of_the_lines(plan: Plan) -> None:
    wishes = buying(
        pack="41.99", tax="8.875", prices={"pull bar": "11.80", "unicorn": "1.00"},
        film={"price": "19.80"}, trim={"stock": [{"length": 2400, "price": "5.85"}]},
    )  # fmt: skip
    found = listed(plan, wishes)
    by_hand = sum(
        (line.count * line.price for line in found.lines if line.price is not None), Decimal(0)
    )
    assert found.totals.subtotal == by_hand
    assert found.totals.total == found.totals.subtotal + found.totals.tax
    unused = [f.message for f in found.findings if f.code == "price-unused"]
    assert unused == ["1 price not used: unicorn"]
    assert found.trim.cuts.measure == "cost"


def test_the_demo_room_has_nothing_to_look_up() -> None:
    """Read aloud as in a store: every line has a count, a size where it is sold by size."""
    path = Path(str(resources.files("plankwright").joinpath("data", "demo_room.toml")))
    found = shopping_list(open_shopping(path))
    for line in found.lines:
        sized = any(sign in line.item for sign in ('"', " ft", "lb", "kg"))
        by_size = line.section in ("Boards", "Vapor barrier and underlayment", "Trim")
        assert sized or not by_size, line.item
    assert len({line.item for line in found.lines}) == len(found.lines)
    assert found.trim.cuts.proven
    assert found.totals.unpriced == sum(line.price is None for line in found.lines)


def test_a_plan_without_pieces_is_refused(plan: Plan) -> None:
    with pytest.raises(InputError, match="lays no board"):
        listed(replace(plan, pieces=()))


def test_the_spline_is_bought_by_its_length() -> None:
    """3000 mm between the walls (A-B is the short one) less two gaps of 8: 2984 mm, once."""
    board = Board(1285.0, 192.0, start_side="groove", spline=True)
    room = Room(box(0, 0, 4000, 3000))
    effort = Effort(moves=0, prove=False)

    def splines(wishes: Wishes) -> list[tuple[int, str, str]]:
        made = plan_room(room, board, wishes=wishes, effort=effort)
        lines = shopping_list(BuyJob(made, buying(), "mm", ())).lines
        return [(x.count, x.unit, x.item) for x in lines if "spline" in x.item + x.why]

    assert splines(Wishes(start_wall="A-B", begin_row=5)) == [(1, "length", "spline, 2.984 m")]
    assert splines(Wishes(start_wall="A-B", begin_row=1)) == []
    assert splines(Wishes(start_wall="A-B")) == []
