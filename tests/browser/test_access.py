"""Everybody can use it: axe finds nothing serious anywhere, and the keyboard reaches everything."""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, expect
from tests.browser.person import LAPTOP, PHONE, Person, demo_job, new_room, person

OPEN_ALL = "step => document.querySelectorAll(`#step-${step} details`).forEach(d => d.open = true)"
STEPS = ["measure", "slab", "board", "plan", "buy", "lay", "trim", "tell"]


def faults(somebody: Person) -> list[str]:
    """What axe calls serious or critical, with its place."""
    found: dict[str, Any] = Axe().run(somebody.page).response
    return [
        f"{fault['id']}: {node['html'][:160]}"
        for fault in found["violations"]
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]


def states(somebody: Person) -> Iterator[str]:
    """Every page and state, one after the other."""
    yield "jobs"
    somebody.press("#share summary")
    yield "sharing"
    somebody.press("#newjob")
    yield "nothing measured"
    somebody.write("#wall-0", "12 furlongs")
    expect(somebody.at("#wall-0")).to_have_attribute("aria-invalid", "true")
    yield "a wall that cannot be read"
    somebody.page.get_by_role("button", name="Draw the room instead").click()
    expect(somebody.at("[data-grip=corner-2]")).to_be_visible()
    yield "a room that is drawn"
    somebody.page.goto(somebody.page.url.split("#")[0])
    if somebody.name == "laptop":
        demo_job(somebody)
    else:
        new_room(somebody, ["70", "50", "70", "50"])
    for step in STEPS:
        somebody.open(step)
        somebody.page.evaluate(OPEN_ALL, step)
        yield step
    somebody.press("text=Jobs")
    new_room(somebody, ["70", "50", "70", "50"])
    somebody.open("plan")
    expect(somebody.at("#proof")).to_contain_text("needs fewer")
    somebody.at(".piece").nth(3).click(force=True)
    somebody.press("#layaside")
    somebody.press("#showchoices")
    expect(somebody.at("#choices li")).not_to_have_count(0)
    yield "choices, a piece, two plans"
    somebody.open("lay")
    somebody.press("#begin")
    yield "a check"
    somebody.press("#docheck")
    somebody.press("#lay-mishaps summary")
    yield "a card"


@pytest.mark.parametrize(
    ("size", "colors"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop-light", "phone-dark"]
)
def test_axe_finds_nothing_serious(
    browser: Browser, address: str, size: tuple[int, int], colors: Any
) -> None:
    with person(browser, address, size, "laptop" if size == LAPTOP else "phone") as she:
        she.page.emulate_media(color_scheme=colors, reduced_motion="reduce")
        found = {state: faults(she) for state in states(she)}
        assert {state: told for state, told in found.items() if told} == {}
        assert she.troubles == []


def test_the_keyboard_alone_measures_plans_and_lays(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        keys = she.page.keyboard

        def reach(selector: str) -> None:
            """Press Tab until something has the focus."""
            for _ in range(120):
                if she.at(selector).first.evaluate("one => one === document.activeElement"):
                    return
                keys.press("Tab")
            pytest.fail(f"the keyboard does not reach {selector}")

        reach("#newjob")
        keys.press("Enter")
        expect(she.at("#wall-0")).to_be_visible()
        reach("#wall-0")
        for wall in ("120", "100", "120", "100"):
            keys.type(wall)
            keys.press("Enter")
        expect(she.at(".hint")).to_contain_text("83 ft²")
        reach("#addthing")
        keys.press("Enter")
        reach("[data-grip=fixed-0]")
        before = she.at("#f-room-fixed-0-at-0").input_value()
        keys.press("ArrowRight")
        expect(she.at("#f-room-fixed-0-at-0")).not_to_have_value(before)
        reach("#open-plan")
        keys.press("Enter")
        expect(she.at("#proof")).to_contain_text("boards")
        reach("[role=slider].grip")
        wide = she.at("[role=slider].grip").get_attribute("aria-valuetext")
        keys.press("ArrowUp")
        expect(she.at("[role=slider].grip")).not_to_have_attribute("aria-valuetext", wide or "")
        reach("#open-lay")
        keys.press("Enter")
        reach("#begin")
        keys.press("Enter")
        expect(she.at("#docheck")).to_be_visible()
        reach("#docheck")
        keys.press("Enter")
        expect(she.at("#docard")).to_be_focused()
        keys.press("Enter")
        expect(she.at("#takeback")).to_contain_text("1.1.1")
        assert she.troubles == []


def test_every_length_and_name_comes_out_as_text(browser: Browser, address: str) -> None:
    markup = "<img src=x onerror=alert(1)>'; DROP TABLE job;-- ../../etc/passwd" + "x" * 1000
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"], "Den")
        she.at("#jobname").fill(markup)
        she.wait_saved()
        expect(she.at(".hint")).to_contain_text(markup[:40])
        she.press("text=Jobs")
        expect(she.at(".joblist a.open").first).to_have_text(markup)
        assert she.at("img[src=x]").count() == 0
        assert she.troubles == []
