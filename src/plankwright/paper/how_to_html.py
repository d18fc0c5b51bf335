"""The how-to as one HTML page that needs nothing else: drawings inside, schema.org HowTo data."""

import base64
import json
from collections.abc import Iterator, Mapping, Sequence
from html import escape
from importlib import resources
from typing import Any

from plankwright.application.how_to import HowTo, HowToStep
from plankwright.drawing.scene import Scene
from plankwright.drawing.style import PRINT
from plankwright.drawing.svg import render_svg
from plankwright.model.money import told_money
from plankwright.paper.how_to_markdown import own_places
from plankwright.paper.own_words import KEPT, OwnWords
from plankwright.paper.own_words_html import Embed, own_words_html
from plankwright.paper.typography import set_figures

STYLE_FILE = "how_to.css"


def how_to_html(article: HowTo, pictures: Mapping[str, Scene], own: OwnWords, embed: Embed) -> str:
    """The page.

    Parameters
    ----------
    own : the writer's words, from the Markdown of an earlier export.
    embed : a picture of the writer's as a data address, or None where there is none.
    """
    style = resources.files("plankwright").joinpath("data", STYLE_FILE).read_text("utf-8")
    drawn = {key: data_address(render_svg(scene, PRINT)) for key, scene in pictures.items()}
    body = "\n".join(_body(article, pictures, drawn, own, embed))
    return (
        "<!DOCTYPE html>\n"
        '<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_told(article.title)}</title>\n"
        f'<meta name="description" content="{_told(article.lead[0])}">\n'
        f"<style>\n{style}</style>\n"
        f'<script type="application/ld+json">{_json_for_html(how_to_data(article))}</script>\n'
        f"</head>\n<body>\n<main>\n{body}\n</main>\n</body>\n</html>\n"
    )


def how_to_data(article: HowTo) -> dict[str, Any]:
    """The article as schema.org HowTo."""
    data: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": article.title,
        "description": " ".join(article.lead),
        "totalTime": f"PT{article.minutes // 60}H{article.minutes % 60}M",
        "supply": [
            {"@type": "HowToSupply", "name": s.name, "requiredQuantity": s.planned}
            for s in article.supplies
        ],
        "tool": [{"@type": "HowToTool", "name": tool} for tool, _ in article.tools],
        "step": [
            {
                "@type": "HowToStep",
                "position": number,
                "name": step.name,
                "url": f"#{step.key}",
                "text": " ".join((*step.cautions, *step.text)),
            }
            for number, step in enumerate(article.steps, 1)
        ],
    }
    if article.totals is not None:
        data["estimatedCost"] = {
            "@type": "MonetaryAmount",
            "currency": article.currency,
            "value": str(article.totals.total),
        }
    return data


def _told(words: str) -> str:
    """Words as HTML, lengths with true inch and foot marks."""
    return escape(set_figures(words))


def data_address(svg: str) -> str:
    """A drawing as a data address."""
    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()


def _json_for_html(data: dict[str, Any]) -> str:
    """JSON that cannot end the script it stands in."""
    return json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")


def _body(
    article: HowTo,
    pictures: Mapping[str, Scene],
    drawn: Mapping[str, str],
    own: OwnWords,
    embed: Embed,
) -> Iterator[str]:
    yield f"<h1>{_told(article.title)}</h1>"
    yield f'<p class="lead">{_told(article.lead[0])}</p>'
    yield from _paragraphs(article.lead[1:])
    yield from _own(own.at("intro"), embed)
    yield "<h2>At a glance</h2>"
    yield _table(("what", "how much"), article.facts, "The floor at a glance")
    gates = "".join(f"<li>{_told(gate)}</li>" for gate in article.gates)
    yield f'<h2>Settle these first</h2>\n<ul class="careful">{gates}</ul>'
    yield from _needs(article)
    yield "<h2>Step by step</h2>"
    for number, step in enumerate(article.steps, 1):
        yield from _step(step, number, pictures, drawn)
        yield from _own(own.at(step.key), embed)
        yield "</section>"
    yield from _went(article, own, embed)
    items = "".join(
        f"<li><strong>{_told(title)}.</strong> {_told(' '.join(lines))}</li>"
        for title, lines in article.cautions
    )
    yield f"<h2>Stay in one piece</h2>\n<ul>{items}</ul>"
    yield from _own(own.at("end"), embed)
    lost = own.homeless({*own_places(article), KEPT})
    for words in (own.at(KEPT), *lost.values()):
        yield from _own(words, embed)


def _paragraphs(lines: Sequence[str]) -> Iterator[str]:
    yield from (f"<p>{_told(line)}</p>" for line in lines)


def _own(words: str, embed: Embed) -> Iterator[str]:
    if words.strip():
        yield f'<div class="own">{own_words_html(words, embed)}</div>'


def _needs(article: HowTo) -> Iterator[str]:
    yield "<h2>What you need</h2>"
    heads = ("material", "planned", "used") if article.laid else ("material", "how much")
    rows = [(s.name, s.planned, s.used)[: len(heads)] for s in article.supplies]
    yield _table(heads, rows, "Materials")
    if article.totals is not None:
        told = told_money(article.totals.total, article.currency)
        yield f"<p>Together {_told(told)}, tax included.</p>"
    tools = "".join(
        f"<li>{_told(tool)}" + (f": {_told(why)}" if why else "") + "</li>"
        for tool, why in article.tools
    )
    yield f"<h3>Tools</h3>\n<ul>{tools}</ul>"


def _step(
    step: HowToStep, number: int, pictures: Mapping[str, Scene], drawn: Mapping[str, str]
) -> Iterator[str]:
    yield f'<section id="{step.key}">\n<h3>{number}. {_told(step.name)}</h3>'
    for caution in step.cautions:
        yield f'<p class="careful"><strong>Careful.</strong> {_told(caution)}</p>'
    yield from _paragraphs(step.text)
    if step.picture in drawn:
        scene = pictures[step.picture]
        told = _told(scene.description or scene.title)
        yield f'<figure><img src="{drawn[step.picture]}" alt="{told}">'
        yield f"<figcaption>{_told(scene.title)}</figcaption></figure>"


def _went(article: HowTo, own: OwnWords, embed: Embed) -> Iterator[str]:
    if article.laid:
        yield "<h2>What went wrong, and what mended it</h2>"
        items = "".join(
            f"<li>{_told(f'{what} {fix}'.strip())}</li>" for what, fix in article.mishaps
        )
        yield f"<ul>{items}</ul>" if items else "<p>By the log, nothing worth telling.</p>"
        yield from _own(own.at("went-wrong"), embed)
    yield "<h2>How long it takes</h2>"
    heads = ("work", "hours planned", "hours used")[: 3 if article.laid else 2]
    yield _table(heads, [row[: len(heads)] for row in article.hours], "Hours")


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]], caption: str) -> str:
    head = "".join(f'<th scope="col">{_told(word)}</th>' for word in heads)
    lines = [
        f'<tr><th scope="row">{_told(row[0])}</th>'
        + "".join(f"<td>{_told(cell)}</td>" for cell in row[1:])
        + "</tr>"
        for row in rows
    ]
    return (
        f"<table><caption>{_told(caption)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{''.join(lines)}</tbody></table>"
    )
