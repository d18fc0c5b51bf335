"""``plankwright serve``: the whole job in a browser."""

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

FILE_NAME = "jobs.plankwright"


def serve(
    port: Annotated[
        int, typer.Option(min=0, max=65535, metavar="NUMBER", help="Port; 0 takes a free one.")
    ] = 8377,
    data: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="The file in which the jobs lie; made when missing."),
    ] = None,
) -> None:
    """Open the whole job in a browser, on this computer only."""
    import time

    import uvicorn

    from plankwright.web.app import make_app
    from plankwright.web.pairing import Pairing
    from plankwright.web.shelf import Shelf

    path = data or usual_place()
    path.parent.mkdir(parents=True, exist_ok=True)
    app = make_app(Shelf(path), Pairing(time.time))
    uvicorn.run(app, host="127.0.0.1", port=port, log_level="warning", access_log=False)


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
