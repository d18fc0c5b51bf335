"""The choices on the page: how far each count is proven, and what the checker refused."""

import json
from typing import Any

from playwright.sync_api import Browser, Route, expect
from tests.browser.person import new_room, person
from tests.browser.test_access import faults

FAULT = "pieces 3.1 and 3.2 overlap"


def as_if_refused(route: Route) -> None:
    """The true answer, but one plan was refused and the counts of the others are less proven."""
    answer = route.fetch()
    found: dict[str, Any] = answer.json()
    if "choices" in found:
        found["refused"] = [FAULT]
        for choice, less in zip(found["choices"], (0, 2, 1), strict=False):
            choice["bound"] = choice["boards"] - less
            choice["status"] = "optimal" if less == 0 else "feasible"
        found["choices"][2]["laying"]["prefer"] = "looks"
    route.fulfill(response=answer, body=json.dumps(found))


def test_what_is_proven_and_what_was_refused_is_told(browser: Browser, address: str) -> None:
    with person(browser, address, name="choices") as she:
        she.page.route("**/api/work/*/result", as_if_refused)
        new_room(she, ["80", "70", "80", "70"])
        she.open("plan")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.press("#showchoices")
        told = she.at("#choices li")
        expect(told.nth(0)).to_contain_text("No plan with these rows needs fewer boards.")
        expect(told.nth(1)).to_contain_text("are the fewest is not proven yet")
        expect(told.nth(2)).to_contain_text("the others are spent on looks")
        expect(she.at("#refusedplans")).to_contain_text("one plan was left out")
        she.press("#refusedplans summary")
        expect(she.at("#refusedplans li")).to_have_text(FAULT)
        she.see("refused")
        assert faults(she) == []
        assert she.troubles == []


def test_nothing_is_said_of_refusals_where_there_are_none(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        new_room(she, ["80", "70", "80", "70"])
        she.open("plan")
        she.press("#showchoices")
        expect(she.at("#choices li")).not_to_have_count(0)
        expect(she.at("#refusedplans")).to_have_count(0)
