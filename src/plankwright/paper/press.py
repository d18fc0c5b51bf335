"""The press: a sheet comes in as blocks and goes out as a PDF."""

import json
from dataclasses import dataclass
from importlib import resources
from typing import Any

from plankwright.drawing.scene import Scene, points_to_mm
from plankwright.drawing.sheet import PAPERS, Paper
from plankwright.drawing.style import (
    CARD_MM,
    LENGTH_MM,
    PRINT,
    TEXT_MM,
    TITLE_MM,
    style_named,
)
from plankwright.drawing.svg import render_svg
from plankwright.errors import PlankwrightError
from plankwright.paper.blocks import (
    Block,
    Break,
    CardPiece,
    Cell,
    Drawing,
    Heading,
    Labels,
    LayingCard,
    Picture,
    Points,
    Sheet,
    Steps,
    Table,
    Words,
)
from plankwright.paper.fonts import font_folder, lacking, printable
from plankwright.paper.typography import set_all

TEMPLATE = "sheets.typ"
POINT_MM = points_to_mm(1.0)
# Sizes [pt] and weights [mm] of the one style sheet, for the template.
LOOK = {
    "body": round(TEXT_MM / POINT_MM, 3),
    "title": round(TITLE_MM / POINT_MM, 3),
    "card": round(CARD_MM / POINT_MM, 3),
    "length": round(LENGTH_MM / POINT_MM, 3),
    "line": style_named("row").width_mm,
    "hair": style_named("frame").width_mm,
    **{color: PRINT[color] for color in ("ink", "pencil", "crayon")},
}

Plain = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Printed:
    """A sheet as it comes from the press.

    Parameters
    ----------
    name : of its file, without ending.
    pdf : the file.
    lacking : characters of its words that the font lacks; a box is printed for each.
    """

    name: str
    pdf: bytes
    lacking: str = ""


def press(sheet: Sheet, paper: Paper, job: str, foot: str = "Print at 100 %") -> Printed:
    """A sheet as PDF; the same sheet gives the same bytes.

    Parameters
    ----------
    paper : sheet size of its pages of words; drawings bring their own.
    job : name of the job, at the head of every page.
    foot : at the foot of every page.

    Raises
    ------
    FileError
        when the fonts are missing.
    """
    import typst

    short, long = PAPERS[paper]
    told = {
        "look": LOOK,
        "paper": [long, short] if sheet.sideways else [short, long],
        "title": sheet.title,
        "job": _one_line(job),
        "foot": foot,
        "blocks": [set_all(_plain(block)) for block in sheet.blocks],
    }
    data = json.dumps(told, ensure_ascii=False)
    try:
        pdf = _compiled({"sheet": printable(data)})
    except typst.TypstError as error:
        words = f"the sheet {sheet.name} cannot be set: {error.diagnostic}"
        raise PlankwrightError(words) from error
    return Printed(sheet.name, pdf, lacking(data))


def _compiled(inputs: dict[str, str]) -> bytes:
    """The template with its data as PDF, in our fonts and no others."""
    import typst

    template = resources.files("plankwright").joinpath("data", TEMPLATE).read_bytes()
    folders: Any = [str(font_folder())]
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=folders
    )
    compiler: Any = typst.Compiler
    return bytes(compiler(template, font_paths=fonts).compile(format="pdf", sys_inputs=inputs))


def _plain(block: Block) -> Plain:
    match block:
        case Heading():
            return {"kind": "heading", "text": block.text}
        case Words():
            return {
                "kind": "words", "text": block.text, "look": block.look, "sticky": block.sticky,
            }  # fmt: skip
        case Points():
            return {"kind": "points", "items": block.items, "box": block.box}
        case Steps():
            return {"kind": "steps", "items": block.items}
        case Table():
            return _table(block)
        case Picture():
            return {"kind": "picture", **_picture(block.scene, block.width_mm)}
        case Drawing():
            scene = block.scene
            return {
                "kind": "drawing", "page": [scene.width_mm, scene.height_mm], **_svg(scene),
            }  # fmt: skip
        case LayingCard():
            pieces = [_piece(piece) for piece in block.pieces]
            return {"kind": "card", "title": block.title, "lines": block.lines, "pieces": pieces}
        case Labels():
            items = [{"letter": one.letter, "lines": one.lines} for one in block.items]
            return {"kind": "labels", "items": items}
        case Break():
            return {"kind": "newpage"}


def _piece(piece: CardPiece) -> Plain:
    drawing = None if piece.scene is None else _picture(piece.scene, piece.scene.width_mm)
    return {
        "head": piece.head,
        "length": piece.length,
        "lines": piece.lines,
        "boxes": piece.boxes,
        "drawing": drawing,
    }


def _picture(scene: Scene, width_mm: float) -> Plain:
    return {"width": width_mm, **_svg(scene)}


def _table(table: Table) -> Plain:
    return {
        "kind": "table",
        "heads": table.heads,
        "rows": [[_cell(cell) for cell in row] for row in table.rows],
        "columns": ["auto" if share is None else share for share in table.columns],
        "aligns": table.aligns or ["left"] * len(table.heads),
        "size": table.size_pt,
    }


def _cell(cell: str | Cell) -> Plain:
    told = Cell(cell) if isinstance(cell, str) else cell
    return {"text": told.text, "note": told.note, "strong": told.strong}


def _svg(scene: Scene) -> Plain:
    return {"svg": render_svg(scene, PRINT), "alt": scene.description or scene.title}


LONGEST_NAME = 70


def _one_line(name: str) -> str:
    """A job's name as it stands at the head of a page: one line, cut where it is too long."""
    plain = " ".join(name.split())
    return plain if len(plain) <= LONGEST_NAME else plain[: LONGEST_NAME - 1].rstrip() + "…"
