"""A newcomer's path from the tape to the how-to, at a laptop and on a phone."""

import pytest
from playwright.sync_api import Browser, expect
from tests.browser.person import LAPTOP, PHONE, new_room, person

# A small L-shaped den, made up; its two diagonals fit to a sixteenth of an inch.
WALLS = ["99", "41", "40", "43", "59", "84"]
DIAGONALS = {"A-C": "107 1/8", "A-D": "71 7/8"}


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_a_newcomer_goes_all_the_way(browser: Browser, address: str, size: tuple[int, int]) -> None:
    with person(browser, address, size, "laptop" if size == LAPTOP else "phone") as she:
        expect(she.at("h1")).to_have_text("Plankwright")
        she.see("jobs")

        # measure: six walls, two diagonals, a post, a door
        new_room(she, WALLS[:3])
        expect(she.at(".wall.open")).to_be_visible()
        she.see("walls-grow")
        for number, wall in enumerate(WALLS[3:], start=3):
            she.write(f"#wall-{number}", wall, enter=True)
        expect(she.at(".hint")).to_contain_text("46 ft²")
        for pair, length in DIAGONALS.items():
            she.at("#newpair").select_option(pair)
            she.write("#newdiagonal", length, enter=pair == "A-C")
            if pair != "A-C":
                she.press("#adddiagonal")
            expect(she.at(f"#f-room-diagonals-{pair}")).to_have_value(length)
        she.see("measured")
        she.at("#newthing").select_option("post")
        she.press("#addthing")
        before = she.at("#f-room-fixed-0-at-0").input_value()
        she.drag("[data-grip=fixed-0]", -30, 15)
        expect(she.at("#f-room-fixed-0-at-0")).not_to_have_value(before)
        she.press("#adddoor")
        expect(she.at(".doorline")).to_have_count(1)
        she.see("post-and-door")
        she.wait_saved()

        # the slab is looked at, a board entered
        she.open("slab")
        expect(she.at(".verdict")).to_be_visible()
        she.see("slab")
        she.open("board")
        she.write("#f-board-length", "50 5/8")
        she.write("#f-board-width", "7 9/16")
        expect(she.at("#f-board-width-told")).to_contain_text("192.1 mm")
        she.see("board")

        # choices, one is taken; a piece is looked at
        she.open("plan")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.see("plan")
        she.press("#showchoices")
        expect(she.at("#choices li")).not_to_have_count(0)
        she.see("choices")
        she.press("#choices button")
        expect(she.at("#choices li.taken")).to_have_count(1)
        expect(she.at("#proof")).to_contain_text("boards")
        she.at(".piece").nth(4).click(force=True)
        expect(she.at("#picked")).to_be_visible()
        she.see("piece")

        # the shopping list
        she.open("buy")
        expect(she.at(".shopping li").first).to_contain_text("4 packs")  # 3 and boards to keep
        she.see("buy")

        # three rows with one mishap, planned again
        she.open("lay")
        expect(she.at("#open-buy .brief")).to_have_text("4 packs")
        she.see("before-laying")
        she.press("#begin")
        she.press("#docheck")
        she.see("first-card")
        she.press("#rowdone")
        expect(she.at("#rowdone")).to_have_text("All of row 2 is laid")
        she.press("#rowdone")
        she.press("#docheck")
        expect(she.at("#docard")).to_have_text("It is cut")
        she.see("row-3")
        she.press("#lay-mishaps summary")
        she.press("#spoiled")
        she.press("#planagain")
        expect(she.at("#again")).to_contain_text("Planned again")
        she.see("planned-again")
        she.press("#rowdone")
        expect(she.at(".piece.laid")).not_to_have_count(0)
        she.see("three-rows")

        # trim, the how-to, and on paper
        she.open("trim")
        expect(she.at("table").first).to_be_visible()
        she.see("trim")
        she.open("tell")
        she.press("#writehowto")
        expect(she.at("#preview")).to_be_visible()
        she.see("how-to")
        with she.page.expect_download() as saved:
            she.press("#savehowto")
        assert "application/ld+json" in saved.value.path().read_text(encoding="utf-8")
        with she.page.expect_download(timeout=60_000) as sheet:
            she.press("[aria-label='Laying cards as PDF']")
        assert sheet.value.path().read_bytes().startswith(b"%PDF")
        she.page.emulate_media(media="print")
        expect(she.at(".step:not(.open)").first).to_be_hidden()
        she.see("printed")
        assert she.troubles == []
