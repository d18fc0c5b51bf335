"""Answers that are no JSON, by their kind."""

from starlette.responses import JSONResponse, Response


class Svg(Response):
    """A drawing for screens."""

    media_type = "image/svg+xml"


class Dxf(Response):
    """A drawing for drawing programs."""

    media_type = "image/vnd.dxf"


class Csv(Response):
    """A table."""

    media_type = "text/csv"


class Pdf(Response):
    """A sheet of paper."""

    media_type = "application/pdf"


class Zip(Response):
    """Several files in one."""

    media_type = "application/zip"


class Html(Response):
    """A page that needs nothing else."""

    media_type = "text/html"


class Toml(Response):
    """A job file."""

    media_type = "application/toml"


class Calendar(Response):
    """Reminders (RFC 5545)."""

    media_type = "text/calendar"


class EventStream(Response):
    """Server-sent events."""

    media_type = "text/event-stream"


class Picture(Response):
    """A photograph."""

    media_type = "image/*"


class Json(JSONResponse):
    """JSON that is already text."""

    def render(self, content: str | bytes) -> bytes:
        """The text as it is."""
        return content.encode() if isinstance(content, str) else content
