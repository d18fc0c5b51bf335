"""The plan on the page: the start line dragged, rows turned, undone; a room drawn by hand."""

import re

from playwright.sync_api import Browser, expect
from tests.browser.person import demo_job, new_room, person

WIDTH = re.compile(r"Row 1: (.*) wide")


def test_dragging_the_start_line_plans_again_and_can_be_undone(
    browser: Browser, address: str
) -> None:
    with person(browser, address) as she:
        demo_job(she)
        grip = she.at("[role=slider].grip")
        before = grip.get_attribute("aria-valuetext") or ""
        shape = she.at(".piece").first.get_attribute("d")
        she.drag("[role=slider].grip", 0, 14)
        expect(grip).not_to_have_attribute("aria-valuetext", before)
        expect(she.at(".piece").first).not_to_have_attribute("d", shape or "")
        moved = WIDTH.match(grip.get_attribute("aria-valuetext") or "")
        assert moved is not None
        expect(she.at("#step-plan")).to_contain_text(f"first {moved[1]}")
        she.wait_saved()
        she.press("#undo")
        expect(grip).to_have_attribute("aria-valuetext", before)
        she.press("#redo")
        expect(grip).to_have_attribute("aria-valuetext", moved[0])
        assert she.troubles == []


def test_rows_move_with_the_hand_and_pieces_come_back_where_it_rests(
    browser: Browser, address: str
) -> None:
    with person(browser, address) as she:
        demo_job(she)
        grip, pieces, rows = she.at("[role=slider].grip"), she.at(".pieces"), she.at(".moving path")
        before = grip.get_attribute("aria-valuetext") or ""
        count = pieces.locator(".piece").count()
        box = grip.bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        she.page.mouse.move(x, y)
        she.page.mouse.down()
        she.page.mouse.move(x, y + 14, steps=4)
        expect(pieces).to_be_hidden()
        expect(rows.first).to_have_attribute("d", re.compile("^M.*Z$"))
        assert rows.count() < count
        she.page.mouse.move(x, y, steps=4)  # back to where it was: nothing is changed
        expect(grip).to_have_attribute("aria-valuetext", before)
        she.page.mouse.up()
        expect(pieces).to_be_visible()
        expect(rows).to_have_count(0)
        assert pieces.locator(".piece").count() == count
        expect(she.at("#proof")).to_contain_text("needs fewer")
        assert she.troubles == []


def test_only_pieces_that_changed_are_touched(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"])
        she.open("plan")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.page.evaluate(
            """() => {
                window.touched = new Set();
                new MutationObserver((all) => all.forEach((one) => window.touched.add(one.target)))
                    .observe(document.querySelector('.pieces'), {
                        subtree: true, attributes: true, childList: true });
            }"""
        )
        she.press(".piece")
        expect(she.at("#picked")).to_be_visible()
        she.page.wait_for_timeout(200)
        touched = she.page.evaluate("() => window.touched.size")
        assert 1 <= touched <= 5  # the picked piece, those of its board, their parent
        assert she.at(".piece").count() > 20


def test_turning_the_rows_goes_on_planning(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"])
        she.open("plan")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.at("#turn").fill("90")
        expect(she.at("label[for=turn]")).to_contain_text("90°")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.page.get_by_role("button", name="Let the program choose again").click()
        expect(she.at("label[for=turn]")).to_contain_text("0°")
        assert she.troubles == []


def test_a_room_is_drawn_and_its_corners_dragged(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        she.press("#newjob")
        she.page.get_by_role("button", name="Draw the room instead").click()
        length = she.at("#drawn-0")
        expect(length).to_have_value('168"')
        she.drag("[data-grip=middle-1]", 60, 3)  # the whole wall, square to itself
        expect(length).not_to_have_value('168"')
        she.write("#drawn-0", "12ft 6in", enter=True)
        expect(length).to_have_value('150"')
        she.press("[data-grip=middle-0]")  # a corner in the middle of a wall
        expect(she.at("[data-grip^=corner]")).to_have_count(5)
        she.press("#undo")
        expect(she.at("[data-grip^=corner]")).to_have_count(4)
        she.wait_saved()
        she.page.reload()
        expect(she.at("#drawn-0")).to_have_value('150"')
        assert she.troubles == []


def test_a_corner_snaps_in_line_with_the_others(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        she.press("#newjob")
        she.page.get_by_role("button", name="Draw the room instead").click()
        expect(she.at("#drawn-1")).to_have_value('132"')
        she.drag("[data-grip=corner-2]", -90, 5)  # 5 pixels off the line of corner D
        expect(she.at("#drawn-2")).not_to_have_value('168"')
        outline = she.page.evaluate(
            """() => JSON.parse(localStorage.getItem(
                'job:' + location.hash.split('/')[2])).document.room.outline"""
        )
        assert outline[2][1] == outline[3][1]
