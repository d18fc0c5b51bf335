"""What the page asks for beside the plan: slab, shopping, sheets, record, files of every kind."""

import io
import json
import zipfile
from typing import Any

import httpx
import pytest
from tests.web.test_jobs import ROOM, new
from tests.web.test_laying import as_said, begun

from plankwright import check_plan
from plankwright.application.shopping_list import shopping_list
from plankwright.files.job_document import Document
from plankwright.files.plan_file import load_plan
from plankwright.web.planning import Planning
from plankwright.web.routes.buy import buy_job

SMALL: Document = {
    **ROOM,
    "room": {"outline": [[0, 0], [2000, 0], [2000, 1500], [0, 1500]]},
    "buy": {"currency": "USD", "pack": "40.00", "tax": 5},
}


def result_of(client: httpx.Client, path: str, body: Any) -> httpx.Response:
    """What came out of long work."""
    work = client.post(path, json=body).json()
    with client.stream("GET", f"/api/work/{work['id']}/progress") as told:
        last = [line for line in told.iter_lines() if line.startswith("data: ")][-1]
    assert json.loads(last[6:])["state"] == "done", last
    return client.get(f"/api/work/{work['id']}/result")


def test_standing_water_stops_everything(client: httpx.Client) -> None:
    wet = {**SMALL, "slab": {"history": {"standing_water": True}}}
    report = result_of(client, "/api/slab", {"document": wet}).json()
    assert report["verdict"] == "stop"
    assert not report["ready"]
    assert report["steps"]


def test_heights_give_a_map(client: httpx.Client) -> None:
    rows = [["0", "2"], ["0", "9"]]
    uneven = {**SMALL, "slab": {"heights": {"rows": rows, "step": ["900", "700"]}}}
    drawing = client.post("/api/slab/map", json={"document": uneven})
    assert drawing.headers["content-type"] == "image/svg+xml"
    assert "<svg" in drawing.text
    assert client.post("/api/slab/map", json={"document": SMALL}).status_code == 404


def test_the_map_tells_the_bag_of_the_document(client: httpx.Client) -> None:
    rows = [["0", "0", "0"], ["0", "-9", "0"], ["0", "0", "0"]]
    heights = {"rows": rows, "step": ["900", "700"]}
    dented = {**SMALL, "slab": {"heights": heights, "compound": {"bag": "50 lb"}}}
    drawing = client.post("/api/slab/map", json={"document": dented})
    assert "of 22.7 kg" in drawing.text  # 50 × 0.45359237 kg


def test_what_takes_seconds_is_told_while_it_goes_on() -> None:
    rows = [["0", "2"], ["0", "9"]]
    uneven = {**SMALL, "slab": {"heights": {"rows": rows, "step": ["900", "700"]}}}
    planning, told = Planning(), list[str]()
    assert not planning.advice(SMALL, told.append).flatness.surface
    assert told == []
    assert planning.advice(uneven, told.append).flatness.surface
    assert told == ["Laying a straightedge over 4 heights, in every direction …"]
    planning.advice(uneven, told.append)  # remembered: nothing to wait for
    assert len(told) == 1


def test_the_shopping_list_is_the_use_case_s(client: httpx.Client) -> None:
    found = result_of(client, "/api/buy", {"document": SMALL}).json()
    asked = shopping_list(buy_job(Planning(), SMALL))
    lines = [line for part in found["parts"] for line in part["lines"]]
    assert [line["item"] for line in lines] == [line.item for line in asked.lines]
    assert found["sums"]["total"].split()[0] == f"{asked.totals.total:.2f}"
    assert all(line["why"] for line in lines)
    assert len(found["trim"]["sticks"]) == len(asked.trim.cuts.sticks)


@pytest.mark.parametrize("what", ["vapor-barrier", "underlayment", "trim"])
def test_strips_and_trim_are_drawn(client: httpx.Client, what: str) -> None:
    drawing = client.post(f"/api/buy/drawing/{what}", json={"document": SMALL})
    assert "<svg" in drawing.text
    assert client.post("/api/buy/drawing/other", json={"document": SMALL}).status_code == 404


def test_the_plan_file_given_out_passes_the_checker(client: httpx.Client) -> None:
    text = client.post("/api/plan-file", json={"document": SMALL}).text
    assert check_plan(load_plan(text, "given out")).ok


@pytest.mark.parametrize(
    ("path", "beginning"),
    [("plan-drawing", "<svg"), ("plan-dxf", "  0\nSECTION"), ("buy/list", "section,")],
)
def test_files_for_other_programs(client: httpx.Client, path: str, beginning: str) -> None:
    text = client.post(f"/api/{path}", json={"document": SMALL}).text
    assert text.lower().startswith(beginning.lower())


def test_sheets_are_printed_one_by_one_and_together(client: httpx.Client) -> None:
    one = result_of(client, "/api/sheets/cards", {"document": SMALL, "paper": "Letter"})
    assert one.content.startswith(b"%PDF")
    everything = result_of(client, "/api/sheets", {"document": SMALL})
    with zipfile.ZipFile(io.BytesIO(everything.content)) as bundle:
        assert {"floor-plan.pdf", "cards.pdf", "cut-list.pdf"} <= set(bundle.namelist())
        assert all(bundle.read(name).startswith(b"%PDF") for name in bundle.namelist())


def test_the_record_and_the_how_to_tell_what_happened(client: httpx.Client) -> None:
    path, laying = begun(client)
    events = as_said(laying, 3)
    note = {
        "id": "n",
        "order": 99,
        "device": "",
        "at": "",
        "kind": "noted",
        "text": "<b>Hollow</b>",
    }
    client.post(f"{path}/events", json={"events": [*events, note]})
    record = client.get(f"{path}/record").json()
    assert record["used"]["pieces_laid"] == 3
    assert [one["text"] for one in record["happened"]] == ["<b>Hollow</b>"]
    plain = result_of(client, f"{path}/how-to", {})
    assert "sandbox" in plain.headers["content-security-policy"]
    assert "Hollow" not in plain.text
    noted = result_of(client, f"{path}/how-to", {"notes": True})
    assert "&lt;b&gt;Hollow&lt;/b&gt;" in noted.text
    folder = result_of(client, f"{path}/how-to/folder", {})
    with zipfile.ZipFile(io.BytesIO(folder.content)) as bundle:
        assert {"how-to.md", "how-to.html"} <= set(bundle.namelist())


def test_the_phone_file_needs_nothing_else(client: httpx.Client) -> None:
    path, _ = begun(client)
    phone = client.get(f"{path}/laying/phone")
    assert phone.headers["content-disposition"] == 'attachment; filename="den.phone.html"'
    assert "http://" not in phone.text.replace("http://www.w3.org/", "")


def test_planning_again_after_a_spoiled_cut_keeps_what_lies(client: httpx.Client) -> None:
    path, laying = begun(client)
    cut = next(card for card in laying["cards"] if card["cut_event"])
    before = as_said(laying, cut["number"] - 1)
    order = laying["next_order"] + len(before)
    spoiled = [
        {"id": "cut", "order": order, "device": "", "at": "", **cut["cut_event"]},
        {"id": "spoiled", "order": order + 1, "device": "", "at": "",
         "kind": "piece-spoiled", "piece": cut["piece"]},
    ]  # fmt: skip
    client.post(f"{path}/events", json={"events": [*before, *spoiled]})
    answer = result_of(client, f"{path}/plan-again", {"walls": []}).json()
    assert answer["new_boards"] > 0
    after = client.get(f"{path}/laying").json()
    assert after["state"]["revision"] == 2
    lie = set(after["state"]["laid"])
    assert lie == {event["piece"] for event in before if event["kind"] == "piece-laid"}
    assert lie <= {card["piece"] for card in after["cards"]}


def test_choices_say_how_to_get_them_again(client: httpx.Client) -> None:
    found = result_of(client, "/api/choices", {"document": SMALL}).json()
    assert found["choices"]
    assert found["refused"] == []
    assert all(choice["bound"] <= choice["boards"] for choice in found["choices"])
    for choice in found["choices"]:
        wished = {**SMALL, "laying": choice["laying"]}
        picture = client.post("/api/plan-now", json={"document": wished}).json()
        assert picture["laying"]["row_angle_deg"] == choice["picture"]["laying"]["row_angle_deg"]
        start = choice["picture"]["laying"]["start_line_mm"]
        assert abs(picture["laying"]["start_line_mm"] - start) < 0.01
    assert {"first_row_mm", "boards", "narrowest_row"} <= set(found["chart"][0])


def test_work_that_fails_says_why(client: httpx.Client) -> None:
    assert new(client)["id"]
    work = client.post("/api/sheets/none", json={"document": SMALL}).json()
    with client.stream("GET", f"/api/work/{work['id']}/progress") as told:
        last = [line for line in told.iter_lines() if line.startswith("data: ")][-1]
    shown = json.loads(last[6:])
    assert shown["state"] == "failed"
    assert shown["error"]["message"] == "there is no such sheet"
