"""``plankwright serve``: the whole job in a browser."""

import os
import socket
import sys
from pathlib import Path
from typing import Annotated

import typer

FILE_NAME = "jobs.plankwright"
LAST_WORDS_S = 2  # how long answers may take to end when the server stops
RUBBISH = 100_000, 50, 100  # objects made, and rounds, until old ones are looked through
OPEN_AFTER_S = 1.0
NOWHERE = "192.0.2.1"  # RFC 5737: nobody's address; nothing is sent there


def serve(
    port: Annotated[
        int, typer.Option(min=0, max=65535, metavar="NUMBER", help="Port; 0 takes a free one.")
    ] = 8377,
    data: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="The file in which the jobs lie; made when missing."),
    ] = None,
    share: Annotated[
        bool,
        typer.Option("--share", help="Let phones on the home network in, after a code is scanned."),
    ] = False,
    open_page: Annotated[bool, typer.Option("--open", help="Open the page at once.")] = False,
) -> None:
    """Open the whole job in a browser: on this computer, with --share on your phone too."""
    import gc
    import time

    import uvicorn

    from plankwright.web.app import make_app
    from plankwright.web.job_store import JobStore
    from plankwright.web.pairing import Pairing

    path = data or usual_place()
    path.parent.mkdir(parents=True, exist_ok=True)
    listening = [_listen("127.0.0.1", port)]
    port = listening[0].getsockname()[1]
    shared_at = ""
    if share:
        listening.append(_listen(own_address(), port))
        shared_at = f"http://{own_address()}:{port}"
    pairing = Pairing(time.time, path.with_name(path.name + ".devices"))
    app = make_app(JobStore(path), pairing, shared_at)
    _tell(f"http://127.0.0.1:{port}/", path, shared_at and f"{shared_at}/pair#{pairing.invite()}")
    if open_page:
        _open_soon(f"http://127.0.0.1:{port}/")
    # What is there by now stays; looking for rubbish in it took up to 30 ms of an answer.
    gc.freeze()
    gc.set_threshold(*RUBBISH)
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, timeout_graceful_shutdown=LAST_WORDS_S
    )
    uvicorn.Server(config).run(sockets=listening)


def _listen(host: str, port: int) -> socket.socket:
    from plankwright.errors import InputError

    # Named as TCP, or asyncio leaves answers waiting 40 ms for more to send (no TCP_NODELAY).
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
    except OSError as error:
        listener.close()
        raise InputError(
            f"cannot listen at {host}: {error.strerror}", where="--port", value=port,
            remedy="Perhaps it runs already; else name another port.",
        ) from None  # fmt: skip
    return listener


def _open_soon(address: str) -> None:
    """Open the page in the browser as soon as the server answers."""
    import threading
    import webbrowser

    timer = threading.Timer(OPEN_AFTER_S, webbrowser.open, [address])
    timer.daemon = True
    timer.start()


def _tell(address: str, path: Path, invitation: str) -> None:
    """Where the page is and where the data lies; the code for the phone and the danger."""
    from plankwright.cli.terminal import say

    say(f"The page:  {address}")
    say(f"Your jobs: {path}")
    if invitation:
        import segno

        from plankwright.web.routes.share import DANGER

        say()
        segno.make(invitation, error="m").terminal(out=sys.stderr, compact=True, border=2)
        say("Scan it with your phone: it is good once and for ten minutes; the page shows another.")
        say(DANGER)
    say("Stop with Ctrl-C.")


def own_address() -> str:
    """This computer's address on the home network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((NOWHERE, 9))
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])


def usual_place() -> Path:
    """Where programs of this system keep what a person made."""
    home = Path.home()
    if sys.platform == "win32":
        folder = Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local")
    elif sys.platform == "darwin":
        folder = home / "Library" / "Application Support"
    else:
        folder = Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share")
    return folder / "plankwright" / FILE_NAME
