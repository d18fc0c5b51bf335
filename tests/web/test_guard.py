"""The guard: other sites, other names, other addresses, what is too large."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

import httpx
import pytest
from starlette.applications import Starlette
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from tests.web.server import OWN, caller

from plankwright.web import guard
from plankwright.web.guard import COOKIE, POLICY, Guard, Hosts

T = TypeVar("T")


def run_apart(work: Coroutine[Any, Any, T]) -> T:
    """A coroutine's answer, from a thread of its own: a browser may hold this one's loop."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result()


def test_the_page_allows_no_script_in_line(client: httpx.Client) -> None:
    page = client.get("/")
    policy = page.headers["content-security-policy"]
    assert policy == POLICY
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    assert "<script>" not in page.text
    assert "style=" not in page.text


@pytest.mark.parametrize(
    "headers",
    [
        {},  # a form of another site cannot set our header
        {**OWN, "origin": "http://evil.example"},
        {**OWN, "sec-fetch-site": "cross-site"},
        {**OWN, "origin": "null"},
    ],
)
def test_requests_of_other_sites_are_refused(address: str, headers: dict[str, str]) -> None:
    answer = httpx.post(f"{address}/api/jobs", json={}, headers=headers)
    assert answer.status_code == 403
    assert answer.json()["error"]["where"] == "Origin"


def test_our_own_page_is_not_refused(address: str) -> None:
    headers = {**OWN, "origin": address, "sec-fetch-site": "same-origin"}
    assert httpx.post(f"{address}/api/jobs", json={}, headers=headers).status_code == 201


def test_another_name_for_this_address_is_refused(address: str) -> None:
    answer = httpx.get(f"{address}/api/jobs", headers={"host": "rebound.example"})
    assert answer.status_code == 403


def test_what_is_too_large_is_refused(client: httpx.Client) -> None:
    text = "x" * 2_100_000
    assert client.post("/api/jobs/import", json={"text": text, "name": "a"}).status_code == 413


def make_guarded(client_host: str) -> httpx.Client:
    async def hello(_: object) -> PlainTextResponse:
        return PlainTextResponse("hello")

    app = Starlette(routes=[Route("/{path:path}", hello, methods=["GET", "POST"])])
    guarded = Guard(app, Hosts.of(["192.168.7.2"]), lambda key: key == "good")
    transport = httpx.ASGITransport(app=guarded, client=(client_host, 5000))
    return httpx.AsyncClient(transport=transport, base_url="http://192.168.7.2:8377")  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("host", "path", "cookie", "status"),
    [
        ("192.168.7.9", "/", "", 303),
        ("192.168.7.9", "/api/jobs", "", 401),
        ("192.168.7.9", "/static/main.js", "", 401),
        ("192.168.7.9", "/api/openapi.json", "", 401),
        ("192.168.7.9", "/pairing/../api/jobs", "", 401),
        ("192.168.7.9", "/pair", "", 200),
        ("192.168.7.9", "/static/fonts/inter-bold.woff", "", 200),
        ("192.168.7.9", "/api/jobs", "bad", 401),
        ("192.168.7.9", "/api/jobs", "good", 200),
        ("127.0.0.1", "/api/jobs", "", 200),
        ("::1", "/api/jobs", "", 200),
    ],
)
def test_from_another_address_only_the_pairing_page_answers(
    host: str, path: str, cookie: str, status: int
) -> None:
    async def ask() -> int:
        async with make_guarded(host) as asker:  # type: ignore[attr-defined]
            headers = {"cookie": f"{COOKIE}={cookie}"} if cookie else {}
            answer = await asker.get(path, headers=headers)
            return int(answer.status_code)

    assert run_apart(ask()) == status


def test_errors_have_one_shape(address: str) -> None:
    with caller(address) as asker:
        answers = [
            asker.get("/api/jobs/none"),
            asker.get("/nowhere"),
            asker.post("/api/jobs/import", json={"name": 1}),
            asker.post("/api/plan-now", json={"document": {"room": 3}}),
            asker.request("PATCH", "/api/jobs"),
        ]
    assert [answer.status_code for answer in answers] == [404, 404, 422, 400, 405]
    for answer in answers:
        assert set(answer.json()["error"]) == {"message", "where", "value", "remedy"}


def test_what_is_too_slow_in_coming_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "LONGEST_UPLOAD_S", 0.2)
    asked: list[int] = []

    async def never_asked(*_: object) -> None:
        asked.append(1)

    async def drop_by_drop() -> dict[str, object]:
        await asyncio.sleep(0.05)
        return {"type": "http.request", "body": b"x", "more_body": True}

    async def ask() -> list[dict[str, object]]:
        said: list[dict[str, object]] = []

        async def send(message: object) -> None:
            said.append(message)  # type: ignore[arg-type]

        scope = {
            "type": "http",
            "method": "POST",
            "path": "/api/jobs",
            "client": ("127.0.0.1", 1),
            "headers": [(b"host", b"localhost"), (b"x-plankwright", b"1")],
        }
        guarded = Guard(never_asked, Hosts.of([]), lambda _: False)
        await guarded(scope, drop_by_drop, send)
        return said

    assert run_apart(ask())[0]["status"] == 413
    assert asked == []
