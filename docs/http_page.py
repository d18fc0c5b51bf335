"""The reference page of the HTTP interface, made from what the server publishes of itself."""

import inspect
import tempfile
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from pathlib import Path
from typing import Any

from docs.reference_pages import MADE, as_json, kind_of

from plankwright.guide.events import KINDS, Rest
from plankwright.web.app import make_app
from plankwright.web.guard import (
    COOKIE,
    LARGEST_BODY_BYTES,
    LARGEST_DRAWING_BYTES,
    LARGEST_PHOTO_BYTES,
    LONGEST_UPLOAD_S,
    OWN_HEADER,
)
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import INVITATION_S, MOST_TRIES, SIGN_IN_S, Pairing
from plankwright.web.refusals import EVERYWHERE, WORDS
from plankwright.web.routes.share import DANGER

Schema = dict[str, Any]

TITLES = {
    "jobs": "Jobs",
    "measure": "Measuring",
    "slab": "The slab",
    "plan": "Planning",
    "buy": "Buying",
    "lay": "Laying",
    "keep": "Sheets, record and how-to",
    "work": "Long work",
    "share": "Phones",
}
SHAPES = ("JobBody", "JobLine", "Standing", "Refusal", "MovedWall")  # that answers and bodies name
SCRIPT = """\
import json
import time
import urllib.request

SERVER = "http://127.0.0.1:8377"


def ask(method, path, body=None):
    request = urllib.request.Request(
        SERVER + path,
        method=method,
        data=None if body is None else json.dumps(body).encode(),
        headers={"Content-Type": "application/json", "X-Plankwright": "1"},
    )
    with urllib.request.urlopen(request) as answer:
        return json.load(answer)


room = {"outline": [["0", "0"], ["4 m", "0"], ["4 m", "3 m"], ["0", "3 m"]]}
work = ask("POST", "/api/plan", {"document": {"room": room}})
while work["state"] in ("waiting", "working"):
    time.sleep(0.2)
    work = ask("GET", f"/api/work/{work['id']}")
figures = ask("GET", f"/api/work/{work['id']}/result")["figures"]
print(figures["boards"], "boards,", figures["status"])
"""
PAIRING = f"""\
curl -H '{OWN_HEADER.title()}: 1' --json '{{"secret": "SECRET", "name": "Workshop"}}' -c device.txt http://SERVER/api/pair
curl -b device.txt http://SERVER/api/jobs        # sends the cookie {COOKIE}
"""

HEAD = f"""# The HTTP interface

{MADE}
`plankwright serve` answers at `http://127.0.0.1:8377/`. The page does everything through the ways
below, and so can a script. They take and answer JSON (UTF-8) unless they say otherwise; the
same description for programs (OpenAPI) is at `/api/openapi.json`.

## How to come in

**On the computer that serves** no sign-in is needed. A request that changes something, which is
every one but `GET`, must bear the header `{OWN_HEADER.title()}: 1`: no form of another site can
set it. A script like this one is all it takes:

```python
{SCRIPT}```

**From another device** the server must be shared: `plankwright serve --share`. It shows a code to
scan and so does the page (`POST /api/share/invitation`). The code is the link
`http://SERVER/pair#SECRET`; the secret is good once, for {INVITATION_S / 60:.0f} minutes, and
void after {MOST_TRIES} wrong tries. Giving it in signs the device in for
{SIGN_IN_S / 86400:.0f} days, by a cookie that every later request bears; one that changes
something bears the header as well:

```sh
{PAIRING}```

{textwrap.fill(DANGER, 100)}

The server answers only under its own names: `127.0.0.1`, `localhost`, `[::1]`, and the address it
is shared at.

## How much it takes

A body holds at most {LARGEST_BODY_BYTES / 1e6:g} MB, a photograph {LARGEST_PHOTO_BYTES / 1e6:g} MB,
a drawing {LARGEST_DRAWING_BYTES / 1e6:g} MB, and it comes within {LONGEST_UPLOAD_S:g} seconds.
Planning, printing and reading drawings are *long work*: the request answers at once with an `id`,
and what comes out is fetched under `/api/work/`, as the script above does.

## A document

`document` is a [job file](job-file.md) as JSON: the same tables, keys and values, lengths as text
just as a person types them. Most ways take the document itself, so that nothing needs to be kept
before it can be planned; those under `/api/jobs/` work with what is kept.

## When it refuses

Every refusal has one body, `{{"error": {{…}}}}`, with the four keys of a [refusal](#refusal). Each
way lists the statuses it may refuse with; {" and ".join(map(str, EVERYWHERE))} may come from any.
"""

EVENTS_HEAD = """## Events

What happened on the floor, written down once. Every event has `id` (made by whoever saw it, at
most 80 characters; the same one given twice does nothing), `order` (`next_order` as the server
last told it, then one more for each), `device`, `at` (when, as text), `kind`, and the values of its
kind. Lengths are millimeters.

| kind | what happened | values |
| --- | --- | --- |
"""


def http_page() -> str:
    """Every way in, by what it is for; then the shapes and the events that are spoken of."""
    schema = published()
    shapes = schema["components"]["schemas"]
    sections = [HEAD, _status_table()]
    for tag, title in TITLES.items():
        sections += [f"## {title}\n", *_ways(schema, tag, shapes)]
    sections.append("## Shapes\n")
    for name in SHAPES:
        sections.append(f"### {told(name)}\n\n{shapes[name]['description']}\n")
        sections.append(_shape_table(shapes[name]))
    return "\n".join(sections) + "\n" + EVENTS_HEAD + "\n".join(_event_lines()) + "\n"


def published() -> Schema:
    """What the server publishes of itself (OpenAPI)."""
    with tempfile.TemporaryDirectory() as folder:
        store = JobStore(Path(folder) / "jobs.plankwright")
        try:
            return make_app(store, Pairing(lambda: 0.0)).openapi()
        finally:
            store.close()


def told(name: str) -> str:
    """The name of a shape on the page: ``JobLine`` is job line, ``JobBody`` is job."""
    words = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name)
    return words.strip().removesuffix(" body")


def _status_table() -> str:
    lines = ["| status | meaning |", "| --- | --- |"]
    return "\n".join(lines + [f"| {status} | {words} |" for status, words in WORDS.items()]) + "\n"


def _ways(schema: Schema, tag: str, shapes: Schema) -> Iterator[str]:
    for path, methods in schema["paths"].items():
        for method, way in methods.items():
            if way["tags"] == [tag]:
                yield f"### `{method.upper()} {path}`\n\n{way['description']}\n"
                rows = [*_parameter_rows(way), *_body_rows(way, shapes)]
                if rows:
                    head = ["| takes | in | kind | meaning | default |", "| --- |" + " --- |" * 4]
                    yield "\n".join([*head, *rows]) + "\n"
                yield f"{_answer(way)}{_refusals(way)}\n"


def _parameter_rows(way: Schema) -> Iterator[str]:
    for one in way.get("parameters", []):
        given = "must be given" if one["required"] else _default(one["schema"])
        kind = _kind(one["schema"])
        yield f"| `{one['name']}` | {one['in']} | {kind} | {one['description']} | {given} |"


def _body_rows(way: Schema, shapes: Schema) -> Iterator[str]:
    if "requestBody" not in way:
        return
    ((kind, content),) = way["requestBody"]["content"].items()
    if kind != "application/json":
        yield f"| | body | `{kind}` | {way['requestBody']['description']} | must be given |"
        return
    body = shapes[content["schema"]["$ref"].rpartition("/")[2]]
    required = body.get("required", [])
    for name, field in body["properties"].items():
        given = "must be given" if name in required else _default(field)
        yield f"| `{name}` | body | {_kind(field)} | {field['description']} | {given} |"


def _answer(way: Schema) -> str:
    ((status, answer),) = ((s, a) for s, a in way["responses"].items() if s < "300")
    content = answer.get("content")
    if content is None:
        return f"**{status}**, without a body."
    ((kind, body),) = content.items()
    if kind != "application/json":
        return f"**{status}**, `{kind}`."
    schema = body["schema"]
    if not ("$ref" in schema or schema.get("type") == "array"):
        return f"**{status}**, JSON."
    return f"**{status}**, JSON: {_kind(schema)}."


def _refusals(way: Schema) -> str:
    own = sorted(s for s in way["responses"] if s >= "400" and int(s) not in EVERYWHERE)
    return f" May refuse with {', '.join(own)}." if own else ""


def _shape_table(shape: Schema) -> str:
    lines = ["| key | kind | meaning |", "| --- | --- | --- |"]
    for key, field in shape["properties"].items():
        lines.append(f"| `{key}` | {_kind(field)} | {field['description']} |")
    return "\n".join(lines) + "\n"


def _kind(schema: Schema) -> str:
    return kind_of(schema, told).replace("|", "\\|")


def _default(schema: Mapping[str, Any]) -> str:
    value = schema.get("default")
    return "–" if value in (None, [], {}) else f"`{as_json(value)}`"


def _event_lines() -> Iterator[str]:
    for kind, what in (*KINDS.items(), ("*an offcut in* `rests`", Rest)):
        values = [
            f"`{field.name}`" + ("" if field.default is MISSING else f" (else `{_plain(field)}`)")
            for field in fields(what)
        ]
        shown = f"`{kind}`" if kind in KINDS else kind
        meaning = " ".join(inspect.cleandoc(what.__doc__ or "").partition("\n\n")[0].split())
        yield f"| {shown} | {meaning.replace('``', '`')} | {', '.join(values)} |"


def _plain(field: Any) -> str:
    value = field.default
    return as_json(list(value) if isinstance(value, tuple) else value)
