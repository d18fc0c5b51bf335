"""A real server for the tests, on a free port of this computer."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import httpx
import uvicorn
from fastapi import FastAPI

OWN = {"x-plankwright": "1"}


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def running(app: FastAPI, port: int = 0) -> Iterator[str]:
    """The address of a server that runs while the block does."""
    port = port or free_port()
    config = uvicorn.Config(
        app, host="127.0.0.1", port=port, log_level="critical", access_log=False,
        timeout_graceful_shutdown=1,
    )  # fmt: skip
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    end = time.monotonic() + 20.0
    while not server.started:
        assert time.monotonic() < end, "the server did not start"
        time.sleep(0.02)
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join(10.0)


def caller(address: str, **options: object) -> httpx.Client:
    """A client that bears our own page's header."""
    return httpx.Client(base_url=address, headers=OWN, timeout=30.0, **options)  # type: ignore[arg-type]
