"""``plankwright serve``: the whole job in a browser."""

from typing import Annotated

import typer


def serve(
    port: Annotated[
        int, typer.Option(min=0, max=65535, metavar="NUMBER", help="Port; 0 takes a free one.")
    ] = 8377,
) -> None:
    """Open the whole job in a browser, on this computer only."""
    import time

    import uvicorn

    from plankwright.web.app import make_app
    from plankwright.web.pairing import Pairing
    from plankwright.web.shelf import MemoryShelf

    app = make_app(MemoryShelf(), Pairing(time.time))
    uvicorn.run(app, host="127.0.0.1", port=port, log_level="warning", access_log=False)
