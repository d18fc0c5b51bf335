"""The drawings of the how-to, by the keys that its steps name."""

from collections.abc import Callable

from plankwright.application.how_to import HowToSource, plain_plan
from plankwright.application.how_to_facts import Facts
from plankwright.drawing.as_laid import compose_as_laid, progress_of
from plankwright.drawing.board_picture import compose_board
from plankwright.drawing.contour_map import contour_map
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.scene import Scene
from plankwright.drawing.sheet import Paper
from plankwright.drawing.strips_drawing import compose_strips
from plankwright.drawing.template_drawing import compose_template
from plankwright.drawing.trim_drawing import compose_trim
from plankwright.guide.cards import cards_of
from plankwright.guide.templates import templates_of
from plankwright.model.room import Room

PAPER: Paper = "A4"


def pictures_of(source: HowToSource) -> dict[str, Scene]:
    """Every drawing that the source has something for."""
    makers: dict[str, Callable[[HowToSource], Scene | None]] = {
        "plan": _plan,
        "contour": _contour,
        "vapor-barrier": _film,
        "board": _board,
        "template": _template,
        "trim": _trim,
        "as-laid": _as_laid,
    }
    found = {key: make(source) for key, make in makers.items()}
    return {key: scene for key, scene in found.items() if scene is not None}


def _room(source: HowToSource) -> Room:
    return Room(source.plan.room, doorways=source.job.doorways or ())


def _plan(source: HowToSource) -> Scene:
    return compose_plan(source.plan, room=_room(source), paper=PAPER)


def _contour(source: HowToSource) -> Scene | None:
    report, slab = source.job.slab_report, source.job.slab
    if report is None or slab is None or report.flatness.surface is None:
        return None
    return contour_map(
        report.flatness, source.job.unit, name=source.plan.name, room=source.plan.room,
        bag_kg=slab.compound.bag_kg, paper=PAPER,
    )  # fmt: skip


def _film(source: HowToSource) -> Scene | None:
    rolls, sheeting = source.found.sheets.film, source.job.buying.film
    if rolls is None or sheeting is None:
        return None
    return compose_strips(
        rolls, sheeting, source.plan, source.job.unit, "Vapor barrier", PAPER
    )  # fmt: skip


def _board(source: HowToSource) -> Scene | None:
    plan, cut = source.plan, Facts(source).first_starter
    if cut is None:
        return None
    return compose_board(plan.board, plan.laying.laid, cut, source.job.unit)


def _template(source: HowToSource) -> Scene | None:
    plan = source.plan
    found = [t for t in templates_of(plan, cards_of(plan)) if not t.name.startswith("slant")]
    return compose_template(found[0], source.job.unit, PAPER)[0] if found else None


def _trim(source: HowToSource) -> Scene | None:
    work = source.found.trim
    if not work.cuts.sticks:
        return None
    return compose_trim(work, source.job.buying.trim, source.plan, source.job.unit, PAPER)


def _as_laid(source: HowToSource) -> Scene | None:
    if source.day is None:
        return None
    day = source.day
    plan = day.plan if source.wanted.name else plain_plan(day.plan)
    return compose_as_laid(plan, progress_of(day.state, day.cards), room=_room(source), paper=PAPER)
