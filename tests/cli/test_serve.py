"""``plankwright serve``: where it listens, where the data lies, what it tells."""

import asyncio
import signal
import socket
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest

from plankwright.cli import serve
from plankwright.errors import InputError


@pytest.mark.parametrize(
    ("system", "variable", "folder"),
    [
        ("linux", "XDG_DATA_HOME", "kept/plankwright"),
        ("win32", "LOCALAPPDATA", "kept/plankwright"),
    ],
)
def test_the_data_lies_where_the_system_keeps_it(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, system: str, variable: str, folder: str
) -> None:
    monkeypatch.setattr(sys, "platform", system)
    monkeypatch.setenv(variable, str(tmp_path / "kept"))
    assert serve.usual_place() == tmp_path / folder / "jobs.plankwright"


def test_without_a_setting_it_lies_below_the_home_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    assert serve.usual_place().is_relative_to(tmp_path)
    monkeypatch.setattr(sys, "platform", "darwin")
    assert "Application Support" in serve.usual_place().parts


def test_a_port_that_is_taken_is_told() -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        with pytest.raises(InputError, match="Address already in use"):
            serve._listen("127.0.0.1", other.getsockname()[1])


def test_answers_leave_at_once() -> None:
    # asyncio sets TCP_NODELAY itself, but only on sockets that say that they are TCP
    told: list[int] = []

    async def answer(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        connection = writer.get_extra_info("socket")
        told.append(connection.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
        writer.close()

    async def talk() -> None:
        listener = serve._listen("127.0.0.1", 0)
        async with await asyncio.start_server(answer, sock=listener):
            reader, writer = await asyncio.open_connection(*listener.getsockname())
            await reader.read()
            writer.close()

    with ThreadPoolExecutor(1) as apart:  # the browser tests leave a loop running in theirs
        apart.submit(lambda: asyncio.run(talk())).result()
    assert told == [1]


def test_it_serves_tells_where_and_stops(tmp_path: Path) -> None:
    data = tmp_path / "new folder" / "jobs.plankwright"
    command = [sys.executable, "-m", "plankwright", "serve", "--port", "0", "--data", str(data)]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as server:
        assert server.stderr is not None
        address = server.stderr.readline().split()[-1]
        assert str(data) in server.stderr.readline()
        place = httpx.get(f"{address}api/place", timeout=30).json()["place"]
        assert place == str(data)
        # no address that is asked for is written down: neither one that is there nor another
        for asked in ("api/place?secret=abc123", "pair/abc123"):
            httpx.get(f"{address}{asked}", timeout=30)
        server.send_signal(signal.SIGINT)
        assert "abc123" not in server.stderr.read()
        server.wait(30)
    assert data.exists()
    assert not data.with_name(data.name + "-wal").exists()
