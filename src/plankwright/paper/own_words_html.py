"""The writer's own words from Markdown to HTML: paragraphs, lists, emphasis, links, pictures.

A small part of Markdown, on purpose: everything else, HTML too, comes out as the text it is.
"""

import re
from collections.abc import Callable, Iterator
from html import escape

Embed = Callable[[str], str | None]  # from a picture's path to its data address, or None

_IMAGE = re.compile(r"!\[(?P<alt>[^\]]*)\]\((?P<path>[^)\s]+)\)")
_LINK = re.compile(r"\[(?P<words>[^\]]+)\]\((?P<url>https?://[^)\s\"']+)\)")
_STRONG = re.compile(r"\*\*(?=\S)(.+?)(?<=\S)\*\*")
_EM = re.compile(r"(?<![*\w])[*_](?=\S)(.+?)(?<=\S)[*_](?![*\w])")


def own_words_html(words: str, embed: Embed) -> str:
    """The words as HTML."""
    blocks = re.split(r"\n\s*\n", words.strip())
    return "\n".join(_block(block, embed) for block in blocks if block.strip())


def _block(block: str, embed: Embed) -> str:
    lines = block.strip().splitlines()
    if all(re.match(r"[-*] ", line) for line in lines):
        items = "".join(f"<li>{_inline(line[2:], embed)}</li>" for line in lines)
        return f"<ul>{items}</ul>"
    return f"<p>{_inline(' '.join(line.strip() for line in lines), embed)}</p>"


def _inline(text: str, embed: Embed) -> str:
    return "".join(_parts(text, embed))


def _parts(text: str, embed: Embed) -> Iterator[str]:
    place = 0
    for image in _IMAGE.finditer(text):
        yield _words(text[place : image.start()])
        data = embed(image["path"])
        if data is None:
            yield f"<em>(no such picture: {escape(image['path'])})</em>"
        else:
            yield f'<img src="{data}" alt="{escape(image["alt"])}">'
        place = image.end()
    yield _words(text[place:])


def _words(text: str) -> str:
    told = escape(text)
    told = _LINK.sub(lambda m: f'<a href="{m["url"]}">{m["words"]}</a>', told)
    return _EM.sub(r"<em>\1</em>", _STRONG.sub(r"<strong>\1</strong>", told))
