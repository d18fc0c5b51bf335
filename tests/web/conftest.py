"""One server for each worker."""

from collections.abc import Iterator

import httpx
import pytest
from tests.web.server import caller, running

from plankwright.web.app import make_app
from plankwright.web.pairing import Pairing
from plankwright.web.shelf import Shelf


@pytest.fixture(scope="package")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    shelf = Shelf(tmp_path_factory.mktemp("shelf") / "jobs.plankwright")
    with running(make_app(shelf, Pairing(lambda: 0.0))) as address:
        yield address


@pytest.fixture(scope="package")
def client(address: str) -> Iterator[httpx.Client]:
    with caller(address) as client:
        yield client
