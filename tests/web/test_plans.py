"""Plans over HTTP: at once, proven with progress, stopped, refused."""

import json
import time

import httpx
from tests.web.test_jobs import ROOM

from plankwright.web.routes.jobs import demo_document


def test_a_plan_at_once_covers_the_floor(client: httpx.Client) -> None:
    picture = client.post("/api/plan-now", json={"document": ROOM}).json()
    assert picture["figures"]["boards"] >= picture["figures"]["bound"]
    assert picture["figures"]["first_row_mm"] <= 192.0

    def area(ring: list[int]) -> float:
        xs, ys = ring[::2], ring[1::2]
        turned = zip(xs, ys, xs[1:] + xs[:1], ys[1:] + ys[:1], strict=True)
        return abs(sum(x0 * y1 - x1 * y0 for x0, y0, x1, y1 in turned)) / 2 / 100  # tenths

    # 4000 x 3000 mm less a gap of 8 mm all round
    covered = sum(area(piece[1][0]) for piece in picture["pieces"])
    assert abs(covered - 3984.0 * 2984.0) < 100.0


def test_the_start_line_follows_the_wish(client: httpx.Client) -> None:
    wished = {**ROOM, "laying": {"first_row": "100 mm"}}
    picture = client.post("/api/plan-now", json={"document": wished}).json()
    assert picture["figures"]["first_row_mm"] == 100.0


def test_a_spline_and_where_laying_begins_are_told(client: httpx.Client) -> None:
    board = {"start_side": "groove", "spline_allowed": True}
    laying = {"start_wall": "A-B", "first_row": "192 mm", "begin_row": 5}
    document = {**ROOM, "board": board, "laying": laying}
    told = client.post("/api/plan-now", json={"document": document}).json()["laying"]
    # four rows of 192 mm beyond a gap of 8 mm: on the row line at 776, from gap to gap
    assert len(told["splines"]) == 1
    x0, y0, x1, y1 = told["splines"][0]
    assert (sorted([x0, x1]), y0, y1) == ([8.0, 3992.0], 776.0, 776.0)
    assert told["order"].startswith("Laying begins with row 5; last come rows 4 to 1")
    plain = client.post("/api/plan-now", json={"document": ROOM}).json()["laying"]
    assert (plain["splines"], plain["order"]) == ([], "")


def test_a_moving_plan_is_the_same_floor_drawn_row_by_row(client: httpx.Client) -> None:
    wished = {**ROOM, "laying": {"first_row": "100 mm"}}
    moving = client.post("/api/plan-moving", json={"document": wished}).json()
    assert moving["figures"]["first_row_mm"] == 100.0
    # (2984 - 100) / 192 = 15.02: 16 more rows, each of a starter and an end piece at least
    assert len(moving["rows"]) >= 17
    drawn = [
        [float(number) for number in ring.replace("M", "").split()]
        for _, path in moving["rows"]
        for ring in path.split("Z")[:-1]
    ]
    assert len(drawn) == moving["figures"]["pieces"]
    xs = [x for ring in drawn for x in ring[::2]]
    ys = [y for ring in drawn for y in ring[1::2]]
    assert (min(xs), max(xs), min(ys), max(ys)) == (8.0, 3992.0, -2992.0, -8.0)  # less the gap
    again = client.post("/api/plan-moving", json={"document": wished})
    assert again.json() == moving


def test_the_best_plan_is_followed_until_it_is_proven(client: httpx.Client) -> None:
    work = client.post("/api/plan", json={"document": ROOM}).json()
    with client.stream("GET", f"/api/work/{work['id']}/progress") as told:
        assert told.headers["content-type"].startswith("text/event-stream")
        lines = [line for line in told.iter_lines() if line.startswith("data: ")]
    states = [json.loads(line[6:])["state"] for line in lines]
    assert states[-1] == "done"
    picture = client.get(f"/api/work/{work['id']}/result").json()
    assert picture["figures"]["status"] == "optimal"
    assert picture["figures"]["boards"] == 51


def test_work_that_is_ended_gives_the_best_so_far(client: httpx.Client) -> None:
    large = {**ROOM, "room": {"outline": [[0, 0], [19000, 0], [19400, 15000], [0, 15300]]}}
    work = client.post("/api/plan", json={"document": large}).json()
    assert client.get(f"/api/work/{work['id']}/result").status_code == 404
    assert client.delete(f"/api/work/{work['id']}").status_code == 202
    end = time.monotonic() + 20.0
    while client.get(f"/api/work/{work['id']}").json()["state"] in ("waiting", "working"):
        assert time.monotonic() < end
        time.sleep(0.05)
    shown = client.get(f"/api/work/{work['id']}").json()
    assert shown["state"] in ("done", "stopped")


def test_a_room_that_cannot_be_is_told_with_its_field(client: httpx.Client) -> None:
    broken = {**ROOM, "board": {"length": "12 furlongs", "width": "190"}}
    error = client.post("/api/plan-now", json={"document": broken}).json()["error"]
    assert error["where"] == "board.length"
    assert error["value"] == "'12 furlongs'"
    measured = client.post("/api/measure", json={"document": broken}).json()
    assert "refusal" in measured["lengths"]["board.length"]
    assert measured["room"] is None


def test_every_typed_length_is_told_as_it_was_understood(client: httpx.Client) -> None:
    measured = client.post("/api/measure", json={"document": demo_document()}).json()
    wall = measured["lengths"]["room.walls.A-B"]
    assert wall == {"mm": 5175.25, "told": '203 3/4" (5175.2 mm)'}
    assert measured["survey"]["sure"]
    assert [corner["name"] for corner in measured["survey"]["corners"]] == [*"ABCD", "post"]
    assert len(measured["room"]["walls"]) == 4


def test_what_would_keep_the_server_busy_for_minutes_is_refused(client: httpx.Client) -> None:
    huge = {**ROOM, "room": {"outline": [[0, 0], [90_000, 0], [90_000, 90_000], [0, 90_000]]}}
    error = client.post("/api/plan-now", json={"document": huge}).json()["error"]
    assert "about 32831 boards" in error["message"]  # 8100 m2 over 1285 x 192 mm
    rows = [["1"] * 40] * 40
    many = {**ROOM, "slab": {"heights": {"rows": rows, "step": ["100", "75"]}}}
    error = client.post("/api/slab/map", json={"document": many}).json()["error"]
    assert error["where"] == "slab.heights"


def test_every_way_of_asking_is_described(client: httpx.Client) -> None:
    page = client.get("/api/openapi.json").json()
    ways = [way for path in page["paths"].values() for way in path.values()]
    assert len(ways) > 40
    assert all(way.get("description") for way in ways)
