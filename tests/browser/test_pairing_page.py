"""The phone comes in by a scanned code, once, and is sent out again; seen from another address."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from starlette.types import Receive, Scope, Send
from tests.browser.person import PHONE, person
from tests.web.server import free_port, running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing

ELSEWHERE = ("192.168.7.9", 5000)


class FromElsewhere:
    """The server as a phone on the network meets it."""

    def __init__(self, file: Path, port: int) -> None:
        self.pairing = Pairing(lambda: 0.0)
        self.app = make_app(JobStore(file), self.pairing, f"http://127.0.0.1:{port}")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            scope = {**scope, "client": ELSEWHERE}
        await self.app(scope, receive, send)


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[tuple[str, Pairing]]:
    port = free_port()
    server = FromElsewhere(tmp_path / "jobs", port)
    with running(server, port) as address:  # type: ignore[arg-type]
        yield address, server.pairing


def test_a_phone_pairs_once_and_can_be_sent_out(
    browser: Browser, elsewhere: tuple[str, Pairing]
) -> None:
    address, pairing = elsewhere
    with person(browser, address, PHONE, "pairing") as she:
        expect(she.at("main")).to_contain_text("This device is not signed in")
        asked: list[str] = []
        she.page.on("request", lambda request: asked.append(request.url))
        secret = pairing.invite()
        she.page.goto(f"{address}/pair#{secret}")
        she.see("pair")
        she.at("#name").fill("My phone")
        she.press("#pair")
        expect(she.at("#newjob")).to_be_visible()
        assert not any(secret in url for url in asked)
        assert secret not in she.page.url
        she.press("#share summary")
        expect(she.at("#share")).to_contain_text("plain http")
        she.press("#invite")
        expect(she.at(".qr")).to_be_visible()
        she.see("share")
        with person(browser, f"{address}/pair#{secret}", PHONE) as another:
            another.press("#pair")
            expect(another.at("[role=alert]")).to_contain_text("used already")
        she.page.get_by_role("button", name="Take the sign-in of My phone back").click()
        expect(she.at("main")).to_contain_text("not signed in")
