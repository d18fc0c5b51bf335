"""The laying day over HTTP: begun, written down once and in order, also from many at once."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.web.server import caller, free_port, running
from tests.web.test_jobs import ROOM, new

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing

PNG = bytes.fromhex(  # one pixel, written by hand after ISO/IEC 15948
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c63600000000200015e3fd5c80000000049454e44ae426082"
)


def begun(client: httpx.Client) -> tuple[str, dict[str, Any]]:
    job_id = str(new(client)["id"])
    laying: dict[str, Any] = client.post(f"/api/jobs/{job_id}/laying").json()
    return f"/api/jobs/{job_id}", laying


def as_said(laying: dict[str, Any], cards: int) -> list[dict[str, Any]]:
    """The events of doing the first cards as they say."""
    happened = [
        what
        for card in laying["cards"][:cards]
        for what in (card["cut_event"], card["lay_event"])
        if what is not None
    ]
    return [
        {"id": f"e{n}", "order": n, "device": "test", "at": "", **what}
        for n, what in enumerate(happened, start=laying["next_order"])
    ]


def test_doing_every_card_as_it_says_lays_the_floor(client: httpx.Client) -> None:
    path, laying = begun(client)
    events = as_said(laying, len(laying["cards"]))
    stand = client.post(f"{path}/events", json={"events": events}).json()
    assert stand["state"]["set_aside"] == {}
    assert set(stand["state"]["laid"]) == {card["piece"] for card in laying["cards"]}
    used = laying["picture"]["figures"]["boards"]
    assert sum(pack["taken"] for pack in stand["state"]["packs"].values()) == used


def test_events_are_written_down_once_however_often_they_are_given(client: httpx.Client) -> None:
    path, laying = begun(client)
    events = as_said(laying, 6)
    first = client.post(f"{path}/events", json={"events": events}).json()
    again = client.post(f"{path}/events", json={"events": [*events[2:], *events]}).json()
    assert (first["new"], again["new"]) == (len(events), 0)
    assert again["state"] == first["state"]
    assert [event["id"] for event in again["last"]] == [event["id"] for event in events]


def test_a_changed_event_of_a_known_id_is_refused(client: httpx.Client) -> None:
    path, laying = begun(client)
    events = as_said(laying, 1)
    client.post(f"{path}/events", json={"events": events})
    changed = [{**events[0], "piece": "9.9.9"}]
    assert client.post(f"{path}/events", json={"events": changed}).status_code == 400


def test_the_picture_of_every_cut_is_there(client: httpx.Client) -> None:
    path, laying = begun(client)
    pictures = client.get(f"{path}/laying/pictures").json()
    assert set(pictures) == {c["piece"] for c in laying["cards"] if c["cut_event"]}
    assert all(picture.startswith("<svg") for picture in pictures.values())


def test_no_cards_before_laying_is_begun(client: httpx.Client) -> None:
    path = f"/api/jobs/{new(client)['id']}"
    assert client.get(f"{path}/laying").json() is None
    assert client.get(f"{path}/events").status_code == 404


def test_a_photograph_is_kept_and_nothing_else_is(client: httpx.Client) -> None:
    path, _ = begun(client)
    photo = client.post(f"{path}/photographs", content=PNG).json()["photo"]
    shown = client.get(f"{path}/photographs/{photo}")
    assert (shown.content, shown.headers["content-type"]) == (PNG, "image/png")
    assert client.post(f"{path}/photographs", content=b"<svg onload=1>").status_code == 400
    assert client.post(f"{path}/photographs", content=PNG * 300_000).status_code == 413


def at_once(address: str, ask: Callable[[httpx.Client, int], httpx.Response]) -> list[int]:
    """The statuses of 200 requests, 50 of them on their way at any time."""
    limits = httpx.Limits(max_connections=50)
    with caller(address, limits=limits) as crowd, ThreadPoolExecutor(50) as hands:
        return list(hands.map(lambda n: ask(crowd, n).status_code, range(200)))


def test_two_hundred_at_once_lose_no_write(client: httpx.Client, address: str) -> None:
    path, _ = begun(client)

    def note(crowd: httpx.Client, n: int) -> httpx.Response:
        entry = {"id": f"n{n}", "order": n + 1, "device": "d", "at": "", "kind": "noted",
                 "text": str(n)}  # fmt: skip
        return crowd.post(f"{path}/events", json={"events": [entry]})

    assert set(at_once(address, note)) == {200}
    notes = client.get(f"{path}/events").json()["state"]["notes"]
    assert {text for _, text in notes.values()} == {str(n) for n in range(200)}


def test_two_hundred_saves_at_once_keep_one_order(client: httpx.Client, address: str) -> None:
    path = f"/api/jobs/{new(client)['id']}"

    def save(crowd: httpx.Client, n: int) -> httpx.Response:
        body = {"revision": 1, "document": {**ROOM, "job": {"name": f"Den {n}"}}}
        return crowd.put(path, json=body)

    statuses = at_once(address, save)
    assert sorted(set(statuses)) == [200, 409]
    assert statuses.count(200) == 1
    assert client.get(path).json()["revision"] == 2


@pytest.mark.parametrize("times", [2])
def test_what_was_written_is_there_after_the_server_restarts(tmp_path: Path, times: int) -> None:
    file, port = tmp_path / "jobs.plankwright", free_port()
    path, events = "", []
    for turn in range(times + 1):
        app = make_app(JobStore(file), Pairing(lambda: 0.0))
        with running(app, port) as address, caller(address) as asker:
            if turn == 0:
                path, laying = begun(asker)
                events = as_said(laying, 10)
            half = events[: len(events) // 2 * turn]
            asker.post(f"{path}/events", json={"events": half})
            known = asker.get(f"{path}/events").json()["last"]
        assert [event["id"] for event in known] == [event["id"] for event in half]


def test_a_repair_is_told_for_what_lies(client: httpx.Client) -> None:
    path, laying = begun(client)
    events = as_said(laying, 6)
    client.post(f"{path}/events", json={"events": events})
    piece = laying["cards"][0]["piece"]
    found = client.get(f"{path}/repair", params={"piece": piece}).json()
    assert found["pieces"] == [piece]
    assert sorted(found["lifted"]) == sorted(found["relaid"])
    assert found["advice"] in found["steps"]
    refused = client.get(f"{path}/repair", params={"piece": "99.1.1"})
    assert refused.status_code == 400
    assert client.get(f"{path}/repair").status_code == 400  # nothing was told as damaged
