"""The page of the HTTP interface: no way in without words, and the script on it runs."""

import contextlib
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from docs.build import REFERENCE
from docs.http_page import TITLES, published
from tests.web.server import running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing

PAGE = (REFERENCE / "http.md").read_text(encoding="utf-8")
SCHEMA = published()


def ways() -> Iterator[tuple[str, dict[str, Any]]]:
    """Every method and path with what is published of it."""
    for path, methods in SCHEMA["paths"].items():
        for method, way in methods.items():
            yield f"{method.upper()} {path}", way


WAYS = dict(ways())


def routes(router: Any) -> Iterator[Any]:
    """Every route, those of the routers within among them."""
    for route in router.routes:
        within = getattr(route, "original_router", None)
        yield from [route] if within is None else routes(within)


def test_every_route_of_the_server_is_published_or_a_page(tmp_path: Path) -> None:
    app = make_app(JobStore(tmp_path / "jobs.plankwright"), Pairing(lambda: 0.0))
    served = {
        f"{method} {route.path}"
        for route in routes(app)
        for method in getattr(route, "methods", None) or ("MOUNTED",)
    }
    ways = {name for name in served if " /api/" in name}
    assert ways - {f"{method} /api/openapi.json" for method in ("GET", "HEAD")} == {*WAYS}
    assert {name.split()[0] for name in served - ways} <= {"GET", "HEAD", "MOUNTED"}
    assert len(WAYS) >= 48


@pytest.mark.parametrize("name", WAYS)
def test_every_way_is_documented(name: str) -> None:
    way = WAYS[name]
    sections = PAGE.split("\n### ")
    [section] = [text for text in sections if text.startswith(f"`{name}`\n")]
    said = way["description"]
    assert said.partition("\n\n")[0].endswith((".", ")."))
    assert len(said.split()) > 2
    assert said in section
    assert way["tags"][0] in TITLES
    for one in way.get("parameters", []):
        assert one["description"].endswith("."), one["name"]
        assert f"| `{one['name']}` | {one['in']} |" in section
    for status in way["responses"]:
        assert status in section or status in ("401", "403")


def test_a_way_that_answers_plain_values_says_which() -> None:
    for name, way in WAYS.items():
        [answer] = [a for status, a in way["responses"].items() if status < "300"]
        schema = answer.get("content", {}).get("application/json", {}).get("schema", {"type": "-"})
        if "$ref" not in schema and schema.get("type", "object") == "object":
            assert re.search(r"\banswers?\b", way["description"], re.I), name
        if schema.get("$ref", "").endswith("Standing") and name.startswith("POST"):
            assert "Its result" in way["description"], name


def test_every_field_of_every_body_and_answer_is_documented() -> None:
    for title, shape in SCHEMA["components"]["schemas"].items():
        for name, field in shape["properties"].items():
            assert field.get("description", "").endswith("."), (title, name)
            assert f"| `{name}` |" in PAGE or title == "RefusalBody", (title, name)


def test_the_script_on_the_page_runs(tmp_path: Any) -> None:
    """4.00 x 3.00 m with the usual board and rules: proven to be the fewest."""
    [script] = re.findall(r"```python\n(.*?)```", PAGE, re.S)
    app = make_app(JobStore(tmp_path / "jobs.plankwright"), Pairing(lambda: 0.0))
    with running(app) as address, contextlib.redirect_stdout(io.StringIO()) as printed:
        exec(script.replace("http://127.0.0.1:8377", address), {})
    assert re.fullmatch(r"\d+ boards, optimal\n", printed.getvalue())
