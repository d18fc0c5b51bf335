"""A room out of a drawing: picked, looked at, taken, planned; and what cannot be read."""

from pathlib import Path

from playwright.sync_api import Browser, expect
from tests.browser.person import PHONE, person
from tests.browser.test_access import faults
from tests.files.dxf_maker import write_dxf
from tests.web.test_rooms import TWO_ROOMS, two_rectangles


def test_a_room_of_a_drawing_becomes_the_room_of_the_job(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    house = write_dxf(tmp_path / "house <i>.dxf", two_rectangles)
    with person(browser, address, name="drawing") as she:
        she.press("#newjob")
        she.at("#f-job-unit").select_option("mm")
        she.at("#roomfile").set_input_files(house)
        rooms = she.at("#roomsfound li")
        expect(rooms).to_have_count(2)
        expect(she.at("#roomsfound h3")).to_have_text("2 rooms in house <i>.dxf")
        expect(rooms.nth(1)).to_contain_text("3.0 m², 2000 × 1500 mm")
        assert faults(she) == []
        she.see("rooms")
        rooms.nth(1).get_by_role("button").click()
        expect(she.at(".hint")).to_contain_text("3.0 m²")
        expect(she.at("#drawn-0")).to_have_value("2000 mm")
        expect(she.at("#roomsfound")).to_have_count(0)
        she.see("taken")
        she.wait_saved()
        she.page.get_by_role("button", name="Undo").click()
        expect(she.at("#roomfile")).to_have_count(1)
        assert she.troubles == []


def test_rooms_from_the_list_of_jobs_on_a_phone(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    flat = tmp_path / "flat.json"
    flat.write_text(TWO_ROOMS, encoding="utf-8")
    with person(browser, address, PHONE, "drawing-phone") as she:
        she.at("#bring").set_input_files(flat)
        she.page.get_by_role("button", name="Take this room: Nook").click()
        expect(she.at("#jobname")).to_have_value("Nook")
        expect(she.at(".hint")).to_contain_text("1.0 m²")
        assert she.troubles == []


def test_a_drawing_that_cannot_be_read_is_told_and_read_another_way(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    broken = tmp_path / "broken.ifc"
    broken.write_text("no model", encoding="utf-8")
    bare = write_dxf(tmp_path / "bare.dxf", two_rectangles, insunits=0)
    with person(browser, address, name="drawing-trouble") as she:
        she.press("#newjob")
        she.at("#roomfile").set_input_files(broken)
        expect(she.at("#roomsfound .check")).to_contain_text("broken.ifc")
        she.see("refused")
        she.at("#roomfile").set_input_files(bare)
        expect(she.at("#roomsfound li")).to_have_count(2)
        she.press("#roomfile-otherwise summary")
        she.at("#roomunit").select_option("cm")
        she.press("#readagain")
        expect(she.at("#roomsfound li").first).to_contain_text('1574 13/16" × 1181 1/8"')
        she.see("another way")
        she.page.get_by_role("button", name="Put the drawing away").click()
        expect(she.at("#roomsfound")).to_have_count(0)
        assert she.troubles == []
