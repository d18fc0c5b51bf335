"""The floor as it lies: what is tinted, ringed and outlined, and both drawings side by side."""

from tests.drawing.sample_plans import small_plan

from plankwright.application.lay_day import day_of, step_done
from plankwright.drawing.as_laid import (
    Progress,
    compose_as_laid,
    compose_planned_beside_laid,
    progress_of,
)
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.scene import Area, Group, Item, Polyline, Scene
from plankwright.drawing.svg import render_svg
from plankwright.guide.events import PieceDamaged


def piece_styles(scene: Scene) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}

    def look(items: tuple[Item, ...]) -> None:
        for item in items:
            if isinstance(item, Group):
                if item.key:
                    found[item.key] = {a.style for a in item.items if isinstance(a, Area)}
                look(item.items)

    look(scene.items)
    return found


def test_laid_pieces_are_tinted_and_the_rest_is_as_planned() -> None:
    plan = small_plan()
    scene = compose_as_laid(plan, Progress(("1.1.1", "1.1.2"), (), "1.1.3"))
    styles = piece_styles(scene)
    assert {name for name, style in styles.items() if style == {"laid"}} == {"1.1.1", "1.1.2"}
    assert len(styles) == 9
    outlined = [s for s in scene.shapes() if isinstance(s, Polyline) and s.style == "next"]
    assert len(outlined) == 1
    texts = [text.text for text in scene.texts()]
    assert "As laid: 2 of 9 pieces, tinted; next 1.1.3, outlined" in texts


def test_damage_is_ringed_and_named() -> None:
    day = day_of(small_plan())
    log = day.log
    for number, what in enumerate((*step_done(day), PieceDamaged("1.1.1"))):
        log = log.write(what, str(number))
    progress = progress_of(log.state, day.cards)
    assert (progress.laid, progress.damaged, progress.next) == (("1.1.1",), ["1.1.1"], "1.1.2")
    scene = compose_as_laid(day.plan, progress)
    assert "damaged" in {text.text for text in scene.texts()}
    assert [s.style for s in scene.shapes() if s.style == "stop"] == ["stop"]


def test_planned_and_laid_side_by_side_are_the_two_drawings() -> None:
    plan = small_plan()
    planned = compose_plan(plan)
    both = compose_planned_beside_laid(plan, plan, Progress(("1.1.1",)))
    assert both.width_mm == 2 * planned.width_mm
    left = [s for s in both.shapes() if isinstance(s, Area) and s.style == "piece"]
    assert max(x for a in left[:9] for x, _ in a.outline) < planned.width_mm
    tinted = [s for s in both.shapes() if isinstance(s, Area) and s.style == "laid"]
    assert min(x for a in tinted for x, _ in a.outline) > planned.width_mm
    assert render_svg(both) == render_svg(both)
