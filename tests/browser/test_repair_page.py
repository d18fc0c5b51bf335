"""A board that lies must come out: both ways told on the page, written down, planned again."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, expect
from tests.browser.person import LAPTOP, PHONE, Person, new_room, person
from tests.browser.test_access import faults


@contextmanager
def two_rows_laid(browser: Browser, address: str, size: tuple[int, int]) -> Iterator[Person]:
    """Somebody whose first rows lie."""
    with person(browser, address, size, f"repair-{size[0]}") as she:
        if size == PHONE:
            she.page.emulate_media(color_scheme="dark")
        new_room(she, ["80", "60", "80", "60"])
        she.open("plan")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.open("lay")
        she.press("#begin")
        she.press("#docheck")
        she.press("#rowdone")
        expect(she.at("#rowdone")).to_contain_text("row 2")
        she.press("#rowdone")
        expect(she.at(".piece.laid")).to_have_count(4)
        yield she


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_what_comes_up_is_told_and_drawn(
    browser: Browser, address: str, size: tuple[int, int]
) -> None:
    with two_rows_laid(browser, address, size) as she:
        she.at(".piece.laid").first.click(force=True)
        she.press("#comesout")
        told = she.at("#repair")
        expect(told).to_contain_text("To get 1.1.1 out")
        expect(told).to_contain_text("Rows 2 to 1 come up")
        expect(told).to_contain_text("Cut it out where it lies")
        expect(told).to_contain_text("one new board, about 75 min")
        expect(she.at(".piece.must-out")).to_have_count(1)
        expect(she.at(".piece.comes-up")).not_to_have_count(0)
        expect(she.at("#repair-lift-steps")).to_contain_text("lay again, from 1.1.1")
        she.see("asked")
        she.press("#repair-order summary")
        expect(she.at("#repair-order")).to_contain_text("1.1.1 (new)")
        she.press("#repair-cut-steps summary")
        expect(she.at("#repair-cut")).to_contain_text("Wear goggles")
        assert faults(she) == []
        she.press("#leaverepair")
        expect(she.at("#repair")).to_have_count(0)
        expect(she.at(".piece.must-out")).to_have_count(0)
        assert she.troubles == []


def test_lifted_rows_are_laid_again_by_their_cards(browser: Browser, address: str) -> None:
    with two_rows_laid(browser, address, LAPTOP) as she:
        she.at(".piece.laid").last.click(force=True)
        she.press("#comesout")
        expect(she.at("#repair")).to_contain_text("Row 2 comes up")
        she.press("#arelifted")
        expect(she.at(".piece.laid")).to_have_count(2)
        expect(she.at("#repair")).to_have_count(0)
        she.press("#planagain")
        expect(she.at("#again")).to_contain_text("Planned again")
        expect(she.at(".layingcard")).to_contain_text("2.1.1")
        assert she.troubles == []


def test_a_board_cut_out_and_replaced_takes_a_new_board(browser: Browser, address: str) -> None:
    with two_rows_laid(browser, address, LAPTOP) as she:
        she.at(".piece.laid").nth(1).click(force=True)
        she.press("#comesout")
        she.press("#isreplaced")
        expect(she.at("#takeback")).to_contain_text("note")
        expect(she.at(".piece.laid")).to_have_count(4)
        she.open("tell")
        expect(she.at("#step-tell")).to_contain_text("was cut out where it lay")
        assert she.troubles == []
