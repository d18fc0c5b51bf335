"""One server for each worker."""

from collections.abc import Iterator

import httpx
import pytest
from tests.web.server import caller, running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing


@pytest.fixture(scope="package")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    store = JobStore(tmp_path_factory.mktemp("store") / "jobs.plankwright")
    with running(make_app(store, Pairing(lambda: 0.0))) as address:
        yield address


@pytest.fixture(scope="package")
def client(address: str) -> Iterator[httpx.Client]:
    with caller(address) as client:
        yield client
