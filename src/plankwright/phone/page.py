"""The file for the phone: one HTML page with cards, drawing and log that needs no network at all.

Everything is in the page: script, style, font, pictures. Its security policy lets nothing in from
outside and nothing run but the one script and the one style whose digests it names.
"""

import base64
import hashlib
import json
import re
from dataclasses import asdict
from html import escape
from importlib import resources
from typing import Any

from plankwright.application.lay_day import Day
from plankwright.errors import InputError
from plankwright.guide.card_events import cut_of, lay_of, wrong_end_of
from plankwright.guide.card_words import CardWords, words_of
from plankwright.guide.cards import Card
from plankwright.guide.checks import EVERY_ROWS, Check, checks_of, field_at
from plankwright.guide.events import Event, What, event_entry
from plankwright.phone.pictures import (
    board_scenes,
    board_svg,
    floor_scene,
    floor_svg,
    picture_rules,
)
from plankwright.plan.saw_view import SawView
from plankwright.units import parse_unit

# In the order in which they stand in the page; each uses only names of those before it and of
# functions that are called once all stand there.
MODULES = (
    "fold", "drift", "lengths", "typed", "words", "day", "keep", "give", "view", "mishaps", "main",
)  # fmt: skip
FONTS = (("inter-regular", 400), ("inter-bold", 700))
HEAD = ("id", "order", "device", "at")


def phone_html(day: Day, job_id: str, view: SawView | None = None) -> str:
    """The page of a day.

    Parameters
    ----------
    job_id : stands in the file that the page gives back.
    view : how the board lies at the saw in use; face up with the start side away where None.
    """
    view = view or SawView()
    floor, boards = floor_scene(day), board_scenes(day, view)
    script = bundle()
    style = page_style() + picture_rules([floor, *boards.values()])
    pictures = {piece: board_svg(scene) for piece, scene in boards.items()}
    values = {
        "policy": _policy(script, style),
        "title": escape(f"{day.plan.name}: laying day"),
        "name": escape(day.plan.name),
        "style": style,
        "floor": floor_svg(floor),
        "job": _data(job_entry(day, job_id, view, pictures)),
        "script": script,
    }
    return re.sub(r"\{(\w+)\}", lambda match: values[match[1]], _text("page.html"))


def job_entry(day: Day, job_id: str, view: SawView, pictures: dict[str, str]) -> dict[str, Any]:
    """What the page knows of the job."""
    plan = day.plan
    return {
        "id": job_id,
        "name": plan.name,
        "unit": parse_unit(plan.unit),
        "board_mm": list(day.log.board_mm),
        "per_pack": plan.board.per_pack,
        "every_rows": EVERY_ROWS,
        "revision": day.state.revision,
        "cards": [
            _card_entry(card, words_of(card, plan, view), pictures.get(card.piece, ""))
            for card in day.cards
        ],
        "checks": [_check_entry(check) for check in checks_of(plan)],
        "fields": {
            row: {"rows": list(found[1]), **_rounded(asdict(found[0]))}
            for row in sorted({piece.row for piece in plan.pieces})
            if (found := field_at(plan, row)) is not None
        },
        "events": [event_entry(event) for event in day.log.events],
    }


def bundle() -> str:
    """All modules as one script: what they import stands before them in the same script."""
    return "\n".join(_standing_alone(_text(f"{name}.js")) for name in MODULES)


def page_style() -> str:
    """The page's own style with its font."""
    faces = "".join(_font_face(name, weight) for name, weight in FONTS)
    return faces + _text("page.css")


# --- entries ---------------------------------------------------------------------------------


def _card_entry(card: Card, words: CardWords, picture: str) -> dict[str, Any]:
    return {
        "piece": card.piece,
        "row": card.row,
        "place": words.place,
        "take": words.take,
        "figure": words.cut,
        "keep": words.keep,
        "lines": [line for line in words.lines() if line not in (words.take, words.cut)],
        "lay_lines": [line for line in (words.trim, words.lay) if line],
        "cut": None if card.is_new_and_whole else _what(cut_of(card)),
        "lay": _what(lay_of(card)),
        "wrong_end": _wrong_end(card),
        "picture": picture,
    }


def _wrong_end(card: Card) -> list[dict[str, Any]] | None:
    try:
        return [_what(what) for what in wrong_end_of(card)]
    except InputError:
        return None


def _what(what: What) -> dict[str, Any]:
    """An event's kind and values, without its head."""
    entry = event_entry(Event("-", 1, "", "", what))
    return {key: value for key, value in entry.items() if key not in HEAD}


def _check_entry(check: Check) -> dict[str, Any]:
    return {
        "name": check.name,
        "title": check.title,
        "items": list(check.items),
        "row": check.measure_row,
    }


def _rounded(entry: dict[str, Any]) -> dict[str, Any]:
    return {
        key: [round(mm, 3) for mm in value] if isinstance(value, tuple) else round(value, 3)
        for key, value in entry.items()
    }


# --- the page --------------------------------------------------------------------------------


def _data(value: dict[str, Any]) -> str:
    """JSON that can stand in a script element: no tag can begin in it."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")


def _policy(script: str, style: str) -> str:
    """The security policy (W3C Content Security Policy Level 3): one script, one style."""
    return (
        f"default-src 'none'; script-src '{_digest(script)}'; style-src '{_digest(style)}'; "
        "font-src data:; img-src data: blob:; base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _standing_alone(module: str) -> str:
    """A module's text without its imports and exports."""
    without = re.sub(r"^import [^;]+;\n", "", module, flags=re.MULTILINE)
    return re.sub(r"^export ", "", without, flags=re.MULTILINE)


def _font_face(name: str, weight: int) -> str:
    data = base64.b64encode((_WEB / "fonts" / f"{name}.woff").read_bytes()).decode()
    return (
        f'@font-face{{font-family:"Plank Inter";font-weight:{weight};'
        f'src:url(data:font/woff;base64,{data}) format("woff")}}'
    )


def _text(name: str) -> str:
    """A file of the page; one that it shares with the page in the browser lies there."""
    own = _STATIC / name
    return (own if own.is_file() else _WEB / name).read_text(encoding="utf-8")


_STATIC = resources.files("plankwright") / "phone" / "static"
_WEB = resources.files("plankwright") / "web" / "static"
