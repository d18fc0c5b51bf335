"""Answers that are no JSON, by their kind."""

from starlette.responses import JSONResponse, Response


def _answer(media_type: str) -> type[Response]:
    """Answers of one kind."""
    return type("Answer", (Response,), {"media_type": media_type})


Svg = _answer("image/svg+xml")  # a drawing for screens
Dxf = _answer("image/vnd.dxf")  # a drawing for drawing programs
Csv = _answer("text/csv")
Pdf = _answer("application/pdf")
Zip = _answer("application/zip")
Html = _answer("text/html")  # a page that needs nothing else
Toml = _answer("application/toml")  # a job file
Calendar = _answer("text/calendar")  # reminders (RFC 5545)
EventStream = _answer("text/event-stream")
Picture = _answer("image/*")  # a photograph


class Json(JSONResponse):
    """JSON that is already text."""

    def render(self, content: str | bytes) -> bytes:
        """The text as it is."""
        return content.encode() if isinstance(content, str) else content
