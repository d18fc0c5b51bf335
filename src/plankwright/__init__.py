"""Plankwright plans, checks and explains a floating click-together floor.

The names here are those of :mod:`plankwright.api`, loaded when they are first asked for, so that
``plankwright --help`` need not wait for them.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from plankwright.api import (
        Board,
        Effort,
        Fault,
        Finding,
        InputError,
        Job,
        Plan,
        PlanFaultError,
        PlanFigures,
        PlankwrightError,
        RangeError,
        Room,
        RuleCost,
        Rules,
        Verdict,
        Wishes,
        batch,
        buy,
        check_file,
        check_plan,
        choices,
        cut_list,
        draw,
        draw_choices,
        draw_dxf,
        draw_laid,
        find_rooms,
        found_job,
        how_to,
        import_laying,
        is_drawing,
        load_plan,
        measure,
        open_buy,
        open_job,
        open_laying,
        phone_page,
        plan_figures,
        plan_job,
        plan_laying_again,
        plan_room,
        plan_texts,
        read_given_back,
        rule_costs,
        save_choices,
        save_how_to,
        save_plan,
        save_rooms,
        save_sheets,
        save_shopping,
        sheets,
        slab,
        start_laying,
        stop_after,
        take_plan,
    )

__version__ = "0.1.0"

__all__ = [
    "Board",
    "Effort",
    "Fault",
    "Finding",
    "InputError",
    "Job",
    "Plan",
    "PlanFaultError",
    "PlanFigures",
    "PlankwrightError",
    "RangeError",
    "Room",
    "RuleCost",
    "Rules",
    "Verdict",
    "Wishes",
    "batch",
    "buy",
    "check_file",
    "check_plan",
    "choices",
    "cut_list",
    "draw",
    "draw_choices",
    "draw_dxf",
    "draw_laid",
    "find_rooms",
    "found_job",
    "how_to",
    "import_laying",
    "is_drawing",
    "load_plan",
    "measure",
    "open_buy",
    "open_job",
    "open_laying",
    "phone_page",
    "plan_figures",
    "plan_job",
    "plan_laying_again",
    "plan_room",
    "plan_texts",
    "read_given_back",
    "rule_costs",
    "save_choices",
    "save_how_to",
    "save_plan",
    "save_rooms",
    "save_sheets",
    "save_shopping",
    "sheets",
    "slab",
    "start_laying",
    "stop_after",
    "take_plan",
]


def __getattr__(name: str) -> object:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("plankwright.api"), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
