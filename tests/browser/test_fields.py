"""Fields for what a leaflet says and a house has: openings, breaks, permissions, gaps."""

from typing import Any

import httpx
from playwright.sync_api import Browser, expect
from tests.browser.person import Person, new_room, person
from tests.browser.test_access import OPEN_ALL, faults


def document_of(somebody: Person, address: str) -> dict[str, Any]:
    """The job as the server keeps it."""
    somebody.wait_saved()
    job_id = somebody.page.url.split("/")[-2]
    return dict(httpx.get(f"{address}/api/jobs/{job_id}").json()["document"])


def test_openings_breaks_and_gaps_of_single_walls(browser: Browser, address: str) -> None:
    with person(browser, address, name="meeting") as she:
        new_room(she, ["200", "100", "200", "100"])
        expect(she.at(".hint")).to_contain_text("139 ft²")
        she.press("#meeting > summary")
        she.press("#more-room-opening")
        she.write("#f-room-opening-0-name", "to the hall")
        expect(she.at("line.meets")).to_have_count(1)
        she.at("#f-room-opening-0-door").check()
        she.press("#more-room-break")
        expect(she.at("line.breakline")).to_have_count(1)
        before = she.at("#f-room-break-0-from-0").input_value()
        she.drag("[data-grip=break-0-from]", 60, 0)
        expect(she.at("#f-room-break-0-from-0")).not_to_have_value(before)
        she.press("#wallgaps > summary")
        she.write("#f-room-gaps-B-C", "1/2")
        expect(she.at("#f-room-gaps-B-C-told")).to_contain_text("12.7 mm")
        she.see("meeting")
        assert faults(she) == []
        room = document_of(she, address)["room"]
        assert room["opening"][0] == {
            "from": ["100 in", "34 in"], "to": ["100 in", "66 in"],
            "depth": "4 1/2 in", "name": "to the hall", "door": False,
        }  # fmt: skip
        assert room["break"][0]["to"] == ["100 in", "100 in"]
        assert room["gaps"] == {"B-C": "1/2"}
        she.write("#f-room-gaps-B-C", "12 furlongs")
        expect(she.at("#f-room-gaps-B-C")).to_have_attribute("aria-invalid", "true")
        assert she.troubles == []


def test_a_wall_that_is_not_straight_and_corners_passed_the_other_way(
    browser: Browser, address: str
) -> None:
    with person(browser, address, name="bowed") as she:
        new_room(she, ["200", "100", "200", "100"])
        expect(she.at(".hint")).to_contain_text("139 ft²")
        she.press("#stringlines > summary")
        she.at("#newstring").select_option("C-D")
        she.press("#addstring")
        expect(she.at("#newstring")).to_have_value("A-B")  # the next wall without a string
        # 4 in more than the block in the middle of 200 in: a triangle of 100 * 4 sq in = 2.8 ft²
        she.write("#f-room-string_lines-C-D-offsets-0-1", "5 in")
        expect(she.at(".hint")).to_contain_text("142 ft²")
        assert faults(she) == []
        she.see("string")
        she.at("#f-room-order").select_option("clockwise")
        expect(she.page.get_by_text("A is at your left hand")).to_be_visible()
        expect(she.at(".hint")).to_contain_text("142 ft²")
        room = document_of(she, address)["room"]
        assert room["string_lines"] == {"C-D": {"block": "1 in", "offsets": [["100 in", "5 in"]]}}
        assert room["order"] == "clockwise"
        assert she.troubles == []


def test_what_the_leaflet_allows_and_how_far_a_floor_may_run(
    browser: Browser, address: str
) -> None:
    with person(browser, address, name="leaflet") as she:
        new_room(she, ["200", "100", "200", "100"])
        she.page.get_by_role("button", name="Add a doorway").click()
        she.press("#jambs-0 > summary")
        she.write("#f-room-door-0-undercut", "1/2")
        she.open("board")
        she.at("#f-board-end_lock").select_option("angle")
        she.page.evaluate(OPEN_ALL, "board")
        she.page.get_by_label("rows can be laid backwards").check()
        she.page.get_by_label("the joint glued").check()
        she.write("#f-rules-least_gap", "1/4")
        expect(she.at("#f-rules-least_gap-told")).to_contain_text("6.3 mm")
        she.write("#f-breaks-longest_along", "30 ft")
        expect(she.at("#f-breaks-longest_along-told")).to_contain_text("9144.0 mm")
        she.page.get_by_label("in every doorway").check()
        assert faults(she) == []
        she.see("board")
        she.open("plan")
        she.press("#plan-wishes > summary")
        she.at("#f-laying-way_out").select_option("A-B")
        she.at("#f-laying-longest_alone").fill("12 ft")  # at once: a "1" alone is refused
        she.see("wishes")
        document = document_of(she, address)
        assert document["board"] == {
            "end_lock": "angle", "laid_backwards_allowed": True, "shave_and_glue_allowed": True,
        }  # fmt: skip
        assert document["rules"] == {"least_gap": "1/4"}
        assert document["breaks"] == {"longest_along": "30 ft", "in_doorways": True}
        assert document["laying"] == {"way_out": "A-B", "longest_alone": "12 ft"}
        assert document["room"]["door"][0]["undercut"] == "1/2"
        expect(she.at("#proof")).to_contain_text("boards")
        assert she.troubles == []


def test_points_angles_and_the_tape(browser: Browser, address: str) -> None:
    with person(browser, address, name="points") as she:
        new_room(she, ["200", "100", "200", "100"])
        expect(she.at(".hint")).to_contain_text("139 ft²")

        # a point needs a name and two distances; 3-4-5: 60 from A, 80 of the 100 of D-A left
        she.press("#points > summary")
        she.write("#pointname", "floor drain")
        she.press("#addpoint")
        expect(she.page.get_by_text("Give it a name and two distances")).to_be_visible()
        she.at("#pointplace-0").select_option("A-B")
        she.write("#pointlength-0", "40")
        she.at("#pointplace-1").select_option("D-A")
        she.write("#pointlength-1", "60", enter=True)
        expect(she.at("#f-room-ties-floor_drain-A-B-told")).to_contain_text("1016.0 mm")
        expect(she.at("text=floor drain").first).to_be_visible()
        she.write("[id='more-floor drain']", "72 1/8", enter=True)  # sqrt(60^2 + 40^2) = 72.11
        expect(she.at("#f-room-ties-floor_drain-A")).to_have_value("72 1/8")
        expect(she.at(".hint")).to_contain_text("139 ft²")

        # a drain stands with its middle there
        she.at("#newthing").select_option("drain")
        she.press("#addthing")
        she.at("#stands-0").select_option("floor drain")
        expect(she.at("#f-room-fixed-0-at-0")).to_have_count(0)
        expect(she.at("path.fixed")).to_have_count(1)
        she.see("points")
        assert faults(she) == []

        # angles of single corners; a reading that cannot be
        she.at("#f-room-angles").select_option("each")
        expect(she.at("#f-room-angles-B")).to_have_value("square")
        she.write("#f-room-angles-B", "crooked")
        expect(she.at("#f-room-angles-B-told")).to_contain_text("Cannot read this as an angle")
        she.at("#f-room-angles-B").fill("89.5")
        expect(she.at("#f-room-angles-B")).not_to_have_attribute("aria-invalid", "true")
        she.press("#tape > summary")
        she.write("#f-room-tape-sd", "20 in")
        expect(she.at("#f-room-tape-sd")).to_have_attribute("aria-invalid", "true")
        she.write("#f-room-tape-sd", "1/8")
        she.write("#f-room-tape-sd_per_m", "0.5")
        expect(she.at("#f-room-tape-sd-told")).to_contain_text("3.2 mm")
        expect(she.at(".hint")).to_contain_text("139 ft²")
        she.see("angles")
        assert faults(she) == []
        room = document_of(she, address)["room"]
        assert room["ties"] == {"floor drain": {"A-B": "40", "D-A": "60", "A": "72 1/8"}}
        assert room["fixed"][0]["tie"] == "floor drain"
        assert "at" not in room["fixed"][0]
        assert room["angles"] == {"A": "square", "B": "89.5", "C": "square", "D": "square"}
        assert room["tape"] == {"sd": "1/8", "sd_per_m": 0.5}

        # the point goes, the drain stays where it stands
        she.page.get_by_role("button", name="Take floor drain out").click()
        expect(she.at("#f-room-fixed-0-at-0")).to_have_value("60 in")
        expect(she.at("#f-room-fixed-0-at-1")).to_have_value("40 in")
        assert "ties" not in document_of(she, address)["room"]
        assert she.troubles == []
