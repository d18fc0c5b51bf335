"""One server for each worker."""

from collections.abc import Iterator

import httpx
import pytest
from tests.web.server import caller, running

from plankwright.web.app import make_app
from plankwright.web.pairing import Pairing
from plankwright.web.shelf import MemoryShelf


@pytest.fixture(scope="package")
def address() -> Iterator[str]:
    with running(make_app(MemoryShelf(), Pairing(lambda: 0.0))) as address:
        yield address


@pytest.fixture(scope="package")
def client(address: str) -> Iterator[httpx.Client]:
    with caller(address) as client:
        yield client
