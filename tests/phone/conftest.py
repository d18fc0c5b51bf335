"""A browser, and the page of a small job in a file."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, sync_playwright
from tests.drawing.sample_plans import small_plan

from plankwright.application.lay_day import Day, day_of
from plankwright.application.plan_room import plan_room
from plankwright.model.board import Board
from plankwright.optimize.solve import Effort
from plankwright.phone.page import phone_html
from plankwright.testing.zoo import with_post

JOB = "job-1"
OpenPage = Callable[..., Page]
Scheme = Literal["light", "dark"]


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    with sync_playwright() as tool:
        chromium = tool.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        yield chromium
        chromium.close()


@pytest.fixture(scope="package")
def room_day() -> Day:
    """A room with a post, some 60 pieces."""
    plan = plan_room(with_post(), Board(1285.0, 192.0), effort=Effort(moves=200))
    return day_of(replace(plan, name='Den <&> "hall"'))


@pytest.fixture(scope="package")
def room_file(room_day: Day, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("phone") / "den.html"
    path.write_text(phone_html(room_day, JOB), encoding="utf-8")
    return path


@pytest.fixture(scope="package")
def small_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("phone") / "small.html"
    path.write_text(phone_html(day_of(small_plan()), "small"), encoding="utf-8")
    return path


@pytest.fixture
def open_page(browser: Browser) -> Iterator[OpenPage]:
    """Open a file on a phone of its own, without any network; the page's troubles fail the test."""
    contexts, troubles, asked = list[BrowserContext](), list[str](), list[str]()

    def listen(said: ConsoleMessage) -> None:
        if said.type == "error":
            troubles.append(said.text)

    def on_phone(path: Path, scheme: Scheme = "light") -> Page:
        context = browser.new_context(
            viewport={"width": 360, "height": 740},
            is_mobile=True,
            has_touch=True,
            offline=True,
            color_scheme=scheme,
            timezone_id="Asia/Kolkata",  # not UTC
        )
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.on("console", listen)
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path.as_uri())
        page.wait_for_selector("html[data-ready]")
        return page

    yield on_phone
    for context in contexts:
        context.close()
    assert troubles == []
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
