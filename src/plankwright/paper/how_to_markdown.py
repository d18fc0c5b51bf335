"""The how-to as Markdown (CommonMark with tables), drawings beside it, places for own words."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from plankwright.application.how_to import HowTo, HowToStep
from plankwright.drawing.scene import Scene
from plankwright.model.money import told_money
from plankwright.paper.own_words import KEPT, OwnWords, place, sealed

PICTURES = "pictures"
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|])")


def how_to_markdown(article: HowTo, pictures: Mapping[str, Scene], own: OwnWords) -> str:
    """The article; ``own`` are the words of an earlier export."""
    return sealed("\n\n".join(_blocks(article, pictures, own)) + "\n\n")


def own_places(article: HowTo) -> list[str]:
    """The keys of every place for own words, in order."""
    steps = [step.key for step in article.steps]
    return ["intro", *steps, *(["went-wrong"] if article.laid else []), "end"]


def escaped(words: str) -> str:
    """Words that Markdown must not read as markup."""
    return _SPECIAL.sub(r"\\\1", " ".join(words.split()))


def _blocks(article: HowTo, pictures: Mapping[str, Scene], own: OwnWords) -> Iterator[str]:
    yield f"# {escaped(article.title)}"
    yield from (escaped(line) for line in article.lead)
    yield place("intro", own.at("intro"))
    yield "## At a glance"
    yield _table(("what", "how much"), article.facts)
    yield "## Settle these first"
    yield "\n".join(f"- {escaped(gate)}" for gate in article.gates)
    yield "## What you need"
    heads = ("material", "planned", "used") if article.laid else ("material", "how much")
    rows = [
        (s.name, s.planned, s.used) if article.laid else (s.name, s.planned)
        for s in article.supplies
    ]
    yield _table(heads, rows)
    yield from _money(article)
    yield "And these tools:"
    yield "\n".join(
        f"- {escaped(tool)}" + (f": {escaped(why)}" if why else "") for tool, why in article.tools
    )
    yield "## Step by step"
    for number, step in enumerate(article.steps, 1):
        yield from _step(step, number, pictures, own)
    yield from _went(article, own)
    yield "## Stay in one piece"
    yield "\n".join(
        f"- **{escaped(title)}.** {escaped(' '.join(lines))}" for title, lines in article.cautions
    )
    yield place("end", own.at("end"))
    yield from _homeless(article, own)


def _money(article: HowTo) -> Iterator[str]:
    if article.totals is not None:
        yield f"Together {told_money(article.totals.total, article.currency)}, tax included."


def _step(
    step: HowToStep, number: int, pictures: Mapping[str, Scene], own: OwnWords
) -> Iterator[str]:
    yield f"### {number}. {escaped(step.name)}"
    for caution in step.cautions:
        yield f"> **Careful.** {escaped(caution)}"
    yield from (escaped(line) for line in step.text)
    scene = pictures.get(step.picture)
    if scene is not None:
        words = escaped(scene.description or scene.title)
        yield f"![{words}]({PICTURES}/{step.picture}.svg)"
    yield place(step.key, own.at(step.key))


def _went(article: HowTo, own: OwnWords) -> Iterator[str]:
    if article.laid:
        yield "## What went wrong, and what mended it"
        lines = [
            f"- {escaped(what)}" + (f" {escaped(fix)}" if fix else "")
            for what, fix in article.mishaps
        ]
        yield "\n".join(lines) or "By the log, nothing worth telling."
        yield place("went-wrong", own.at("went-wrong"))
    yield "## How long it takes"
    heads = ("work", "hours planned", "hours used")
    rows = [row if article.laid else row[:2] for row in article.hours]
    yield _table(heads if article.laid else heads[:2], rows)


def _homeless(article: HowTo, own: OwnWords) -> Iterator[str]:
    """Words of places that this export does not have are kept at the end."""
    lost = own.homeless({*own_places(article), KEPT})
    words = "\n\n".join([own.at(KEPT), *lost.values()]).strip("\n")
    if words:
        yield "## Kept from before"
        yield place(KEPT, words)


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    cells = [heads, ["---" for _ in heads], *([escaped(cell) for cell in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in cells)
