"""One browser and one server for each worker."""

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright
from tests.web.server import running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing

FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update", "--disable-extensions",
    "--disable-default-apps", "--no-default-browser-check",
]  # fmt: skip


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium")
    assert chromium, "chromium is missing: make test installs it, or says how"
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="package")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    store = JobStore(tmp_path_factory.mktemp("browser") / "jobs.plankwright")
    with running(make_app(store, Pairing(lambda: 0.0))) as address:
        yield address
