"""The page itself and what belongs to it: files as they lie, squeezed on their way."""

from collections.abc import Awaitable, Callable
from importlib import resources
from pathlib import Path

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import FileResponse, HTMLResponse, Response
from starlette.staticfiles import StaticFiles

PHONE = Path(str(resources.files("plankwright.phone").joinpath("static")))
STATIC = Path(str(resources.files("plankwright.web").joinpath("static")))
SHARED = ("fold.js", "give.js")  # the phone file's own: one set of rules for both
ALONE = ("sw.js", "pair.js", "main.js")
PAGES = {
    "/pair": "pair.html",
    "/sw.js": "sw.js",
    "/manifest.webmanifest": "manifest.webmanifest",
}
LEAST_BYTES = 600  # less is not worth squeezing


def add_pages(app: FastAPI) -> None:
    """The page, its modules, styles and fonts."""
    page = index_page()

    async def index() -> HTMLResponse:
        return HTMLResponse(page)

    app.add_api_route("/", index, methods=["GET"], include_in_schema=False)
    for path, name in PAGES.items():
        app.add_api_route(path, _file(STATIC / name), methods=["GET"], include_in_schema=False)
    for name in SHARED:
        path = f"/static/{name}"
        app.add_api_route(path, _file(PHONE / name), methods=["GET"], include_in_schema=False)
    files = GZipMiddleware(StaticFiles(directory=STATIC), minimum_size=LEAST_BYTES)
    app.mount("/static", files, name="static")


def index_page() -> str:
    """The page's HTML; its modules are named in it, so that they come all at once."""
    modules = sorted(path for path in STATIC.rglob("*.js") if path.name not in ALONE)
    names = [*(path.relative_to(STATIC).as_posix() for path in modules), *SHARED]
    links = "\n".join(f'<link rel="modulepreload" href="/static/{name}">' for name in names)
    text = (STATIC / "index.html").read_text(encoding="utf-8")
    return text.replace("</head>", f"{links}\n</head>")


def _file(path: Path) -> Callable[[], Awaitable[Response]]:
    async def file() -> Response:
        return FileResponse(path)

    return file
