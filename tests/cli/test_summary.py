"""What a person reads first after planning."""

import io
from dataclasses import replace

from rich.console import Console
from tests.application.test_plan_figures import plan

from plankwright.application.plan_figures import PlanFigures, plan_figures
from plankwright.application.saw_work import SawWork
from plankwright.cli.summary import (
    MOST_FINDINGS,
    _saw_words,
    print_summary,
    summary_json,
    summary_lines,
)
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan


def printed(shown: Plan, figures: PlanFigures, width: int = 100) -> str:
    text = io.StringIO()
    print_summary(shown, figures, Console(file=text, width=width))
    return text.getvalue()


def test_every_figure_in_the_unit_of_the_job() -> None:
    shown = plan()
    lines = dict(summary_lines(shown, plan_figures(shown)))
    assert lines["Boards"] == "4; no plan with these rows needs fewer"
    assert lines["Packs"] == "1 of 8, 4 spare boards"
    assert lines["Floor"] == "0.80 m²"
    assert lines["First row"] == lines["Last row"] == "200 mm wide"
    assert lines["Shortest piece"] == "300 mm (piece 1.1.3)"
    assert lines["Joint offset"] == "300 mm (rows 1 and 2); the least allowed is 300 mm"
    # three sides at the start wall, two at the far one, the two whole ends of row 2
    trims = "tongue or lip to trim off at walls: 7 edges"
    assert lines["To saw"] == f"2 of 5 pieces; {trims}"
    assert _saw_words(plan_figures(shown), SawWork(1, 0, 1)).endswith("at walls: 1 edge")
    assert _saw_words(plan_figures(shown), SawWork(1, 0, 0)) == "2 of 5 pieces"
    inches = replace(shown, unit="in")
    lines = dict(summary_lines(inches, plan_figures(inches)))
    # 0.8 m2 / 0.09290304 = 8.61 sq ft; 200 mm = 7.874 in = 7 14/16
    assert lines["Floor"] == "8.6 sq ft"
    assert lines["First row"] == '7 7/8" wide'


def test_words_for_one_spare_none_and_an_open_bound() -> None:
    shown = plan()
    figures = plan_figures(shown)
    one = dict(summary_lines(shown, replace(figures, spares=1, status="feasible", bound=3)))
    fewest = "no plan with these rows needs fewer packs"
    assert one["Packs"] == f"1 of 8, 1 spare board; {fewest}"
    assert one["Boards"] == "4; at least 3 are needed"
    none = dict(summary_lines(shown, replace(figures, spares=0, joint_offset_mm=None)))
    assert none["Packs"] == "1 of 8, no spare board"
    assert none["Joint offset"] == "no end joints in neighboring rows"


def test_findings_alike_are_told_once_with_their_places() -> None:
    narrow = [Finding("narrow-row", f"2.1.{i}", "row 2 is narrow", "Shift it.") for i in range(9)]
    other = Finding("ring-piece", "1.1.1", "this piece goes all round a post")
    shown = replace(plan(), findings=(*narrow, other))
    text = printed(shown, plan_figures(shown))
    assert "Check this" in text
    assert "2.1.0, 2.1.1, 2.1.2, 2.1.3 and 5 more" in text
    assert text.count("Row 2 is narrow. Shift it.") == 1
    assert "This piece goes all round a post." in text


def test_many_findings_do_not_bury_the_figures() -> None:
    many = tuple(Finding("narrow-row", str(i), f"finding {i}") for i in range(MOST_FINDINGS + 3))
    shown = replace(plan(), findings=many)
    assert "and 3 more, all in the plan file" in printed(shown, plan_figures(shown))
    assert len(summary_json(shown, plan_figures(shown))["findings"]) == MOST_FINDINGS + 3


def test_fits_a_narrow_terminal() -> None:
    shown = plan()
    assert max(map(len, printed(shown, plan_figures(shown), width=48).splitlines())) <= 48
