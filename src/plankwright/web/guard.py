"""The guard at the door: hosts, other sites, sign-ins, sizes, times, and the page's own rules.

Every answer carries a content security policy without inline script. A request that changes
something must come from our own page: its Origin is our Host, and it bears a header that no form
of another site can set. From another address than this computer's own only the pairing page
answers until the device is signed in.
"""

import asyncio
import ipaddress
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from plankwright.web.refusals import Refusal, refused

COOKIE = "plankwright_device"
OWN_HEADER = "x-plankwright"
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
LARGEST_BODY_BYTES = 2_000_000
LARGEST_PHOTO_BYTES = 12_000_000
LARGEST_DRAWING_BYTES = 60_000_000
LONGEST_UPLOAD_S = 30.0
# What the pairing page needs; a name that ends in a slash stands for everything below it.
OPEN_TO_ALL = (
    "/pair",
    "/api/pair",
    "/static/pair.js",
    "/static/strings.js",
    "/static/strings/",
    "/static/lengths.js",
    "/static/dom.js",
    "/static/net.js",
    "/static/look.css",
    "/static/page.css",
    "/static/fonts/",
    "/static/mark.svg",
)
PAIR_FIRST = RedirectResponse("/pair", status_code=303)
POLICY = "; ".join((
    "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data: blob:",
    "font-src 'self'", "connect-src 'self'", "manifest-src 'self'", "worker-src 'self'",
    "frame-src 'self'", "frame-ancestors 'self'", "base-uri 'none'", "form-action 'none'",
))  # fmt: skip
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "x-frame-options": "SAMEORIGIN",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


@dataclass(frozen=True, slots=True)
class Hosts:
    """The names under which the server may be asked: against rebinding of a foreign name."""

    names: frozenset[str]

    @classmethod
    def of(cls, names: Iterable[str]) -> "Hosts":
        """This computer's own names and the given ones."""
        return cls(frozenset({"127.0.0.1", "localhost", "[::1]", *names}))

    def know(self, host: str) -> bool:
        """Whether a Host header names us."""
        name, _, port = host.rpartition(":")
        return (name if name and port.isdigit() else host).lower() in self.names


class Guard:
    """ASGI middleware.

    Parameters
    ----------
    hosts : names under which the server may be asked.
    is_signed_in : whether a device's cookie is good.
    """

    def __init__(self, app: ASGIApp, hosts: Hosts, is_signed_in: Callable[[str], bool]) -> None:
        self.app = app
        self.hosts = hosts
        self.is_signed_in = is_signed_in

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, refuse or pass on."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        marked = _marking(send, scope["path"])
        refusal = self._refusal(scope, headers)
        if refusal is None and scope["method"] not in SAFE:
            body = await _whole_body(receive, _limit(scope["path"]), headers)
            if body is None:
                refusal = 413, Refusal(message="too large or too slow", remedy="Send less at once.")
            else:
                receive = _replay(body, receive)
        if refusal is not None:
            answer = PAIR_FIRST if _wants_page(scope, refusal[0]) else refused(*refusal)
            await answer(scope, receive, marked)
            return
        await self.app(scope, receive, marked)

    def _refusal(self, scope: Scope, headers: Headers) -> tuple[int, Refusal] | None:
        if not self.hosts.know(headers.get("host", "")):
            return 403, Refusal(message="this server has another name", where="Host")
        if scope["method"] not in SAFE and not _is_own(headers):
            return 403, Refusal(
                message="the request came from another site", where="Origin",
                remedy="Use the page itself.",
            )  # fmt: skip
        if _is_open(scope["path"]) or is_local(scope):
            return None
        cookie = cookie_parser(headers.get("cookie", "")).get(COOKIE, "")
        if cookie and self.is_signed_in(cookie):
            return None
        return 401, Refusal(
            message="this device is not signed in",
            remedy="Scan the code that the computer shows.",
        )


def _wants_page(scope: Scope, status: int) -> bool:
    """Whether a device that is not signed in asks for the page: it is shown how to come in."""
    return status == 401 and scope["method"] == "GET" and scope["path"] == "/"


def is_local(scope: Scope) -> bool:
    """Whether a request comes from this computer itself."""
    client = scope.get("client")
    if client is None:
        return False
    try:
        return ipaddress.ip_address(client[0]).is_loopback
    except ValueError:
        return False


def _is_open(path: str) -> bool:
    return any(path == way or (way.endswith("/") and path.startswith(way)) for way in OPEN_TO_ALL)


def _is_own(headers: Headers) -> bool:
    """Whether a request that changes something comes from our own page."""
    if headers.get(OWN_HEADER) != "1":
        return False
    site = headers.get("sec-fetch-site", "same-origin")
    origin = headers.get("origin")
    own = f"://{headers.get('host', '')}"
    return site in ("same-origin", "none") and (origin is None or origin.endswith(own))


def _limit(path: str) -> int:
    if path == "/api/rooms":
        return LARGEST_DRAWING_BYTES
    return LARGEST_PHOTO_BYTES if path.endswith("/photographs") else LARGEST_BODY_BYTES


async def _whole_body(receive: Receive, limit: int, headers: Headers) -> bytes | None:
    """The body, or None when it is larger than the limit or too long in coming."""
    declared = headers.get("content-length", "0")
    if declared.isdigit() and int(declared) > limit:
        return None
    body = bytearray()
    try:
        async with asyncio.timeout(LONGEST_UPLOAD_S):
            while True:
                message = await receive()
                body += message.get("body", b"")
                if len(body) > limit:
                    return None
                if not message.get("more_body", False):
                    return bytes(body)
    except TimeoutError:
        return None


def _replay(body: bytes, receive: Receive) -> Receive:
    sent = False

    async def replay() -> Message:
        nonlocal sent
        if sent:
            return await receive()
        sent = True
        return {"type": "http.request", "body": body, "more_body": False}

    return replay


def _marking(send: Send, path: str) -> Send:
    """Puts the page's rules on every answer; answers of the interface are never kept."""

    async def marked(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store" if "/api/" in path else "no-cache")
        await send(message)

    return marked
