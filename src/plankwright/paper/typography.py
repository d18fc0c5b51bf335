"""Marks as a typesetter sets them: inch and foot marks, and no break inside a mixed number."""

import re
from typing import Any

_MIXED = re.compile(r"(?<=\d) (?=\d+/(?:2|4|8|16|32|64)\b)")
_FEET = re.compile(r"(?<=\d)'(?=[ -]?\d|\W|$)")
NARROW = "\u202f"  # a narrow space that does not break


def set_figures(text: str) -> str:
    """Lengths with true inch and foot marks; quotation marks stay as they are.

    >>> set_figures("12' 3 5/8\\" from the wall")
    '12′ 3\u202f5/8″ from the wall'
    >>> set_figures('the room "Den 2"')
    'the room "Den 2"'
    """
    text = _MIXED.sub(NARROW, text)
    if all(i and text[i - 1].isdigit() for i, mark in enumerate(text) if mark == '"'):
        text = text.replace('"', "″")
    return _FEET.sub("′", text)


def set_all(value: Any) -> Any:
    """Every text in plain values set so; drawings (``svg``) are left alone."""
    match value:
        case str():
            return set_figures(value)
        case dict():
            return {key: one if key == "svg" else set_all(one) for key, one in value.items()}
        case list() | tuple():
            return [set_all(one) for one in value]
        case _:
            return value
