"""What the steps ask beside the newcomer's path: slab, doors, wishes, packs, photographs, files."""

from pathlib import Path

from playwright.sync_api import Browser, expect
from tests.browser.person import new_room, person
from tests.web.test_laying import PNG

from plankwright.files.job_document import read_document


def test_what_is_said_of_the_slab_stands_in_the_job_file(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"])
        she.open("slab")
        she.page.get_by_label("Water has stood on the slab").check()
        expect(she.at(".verdict")).to_contain_text("Stop")
        she.press("#slab-readings > summary")
        she.press("#more-slab-reading")
        she.write("#f-slab-reading-0-place", "middle")
        she.write("#f-slab-reading-0-value", "81")
        she.press("#slab-doors > summary")
        she.press("#more-slab-door")
        she.write("#f-slab-door-0-name", "laundry")
        she.press("#slab-heights > summary")
        she.at("#heights").fill("0, 1/8, 0\n0, 3/8, 1/8")
        she.at("#heights").blur()
        expect(she.at("#f-slab-heights-step-0")).to_be_visible()
        she.wait_saved()
        she.press("text=Jobs")
        with she.page.expect_download() as saved:
            she.page.get_by_role("link", name="Job file of Den").first.click()
        file = tmp_path / "den.toml"
        saved.value.save_as(file)
        slab = read_document(file.read_text(encoding="utf-8"), "den.toml")["slab"]
        assert slab["history"] == {"standing_water": True}
        assert (slab["reading"][0]["place"], slab["reading"][0]["value"]) == ("middle", 81)
        assert slab["heights"]["rows"] == [["0", "1/8", "0"], ["0", "3/8", "1/8"]]
        assert slab["door"][0]["name"] == "laundry"
        she.at("#bring").set_input_files(file)
        expect(she.at("#jobname")).to_have_value("Den")
        expect(she.at(".hint")).to_contain_text("83 ft²")
        assert she.troubles == []


def test_a_file_that_cannot_be_read_is_told(browser: Browser, address: str, tmp_path: Path) -> None:
    broken = tmp_path / "<b>broken.toml"
    broken.write_text("walls = [", encoding="utf-8")
    with person(browser, address) as she:
        she.at("#bring").set_input_files(broken)
        expect(she.at("#refused")).to_contain_text("<b>broken.toml")
        expect(she.at("#refused")).to_contain_text("TOML")


def test_packs_photographs_and_undo_while_laying(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    photo = tmp_path / "row one.png"
    photo.write_bytes(PNG)
    with person(browser, address) as she:
        new_room(she, ["80", "60", "80", "60"])
        she.open("plan")
        she.press("#plan-wishes summary")
        she.at("#f-laying-prefer").select_option("looks")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.open("lay")
        she.press("#begin")
        she.press("#docheck")
        she.press("#lay-packs summary")
        she.write("#batch", "B7")
        she.press("#openpack")
        expect(she.at("#lay-packs")).to_contain_text("Pack 1: 8 boards, batch B7")
        she.press("#takeback")
        expect(she.at("#lay-packs")).not_to_contain_text("batch B7")
        she.press("#bringback")
        expect(she.at("#lay-packs")).to_contain_text("batch B7")
        she.press("#rowdone")
        expect(she.at("#rowdone")).to_contain_text("row 2")
        with she.page.expect_download() as phone:
            she.press("#phonefile")
        assert phone.value.suggested_filename == "den.phone.html"
        she.open("tell")
        she.at("#photo").set_input_files(photo)
        expect(she.at(".photos img")).to_have_attribute("alt", "row one")
        wide = she.at(".photos img").evaluate("one => one.decode().then(() => one.naturalWidth)")
        assert wide == 1
        not_a_photo = tmp_path / "floor.png"
        not_a_photo.write_text("<svg/>", encoding="utf-8")
        she.at("#photo").set_input_files(not_a_photo)
        expect(she.at("[role=alert]")).to_contain_text("Not a photograph")


def test_a_job_is_copied_put_away_and_taken_out(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"], "Attic")
        she.wait_saved()
        she.press("text=Jobs")
        she.page.get_by_role("button", name="Copy Attic").first.click()
        expect(she.page.get_by_role("link", name="Attic, second try", exact=True)).to_be_visible()
        she.page.get_by_role("button", name="Put away Attic, second try").click()
        expect(she.page.get_by_role("link", name="Attic, second try", exact=True)).to_have_count(0)
        she.press("#putaway summary")
        she.at(
            "#putaway li",
        ).filter(has_text="Attic, second try").get_by_role("button").click()
        expect(she.page.get_by_role("link", name="Attic, second try", exact=True)).to_be_visible()
        expect(she.at("#place")).to_contain_text("jobs.plankwright")


def test_what_is_half_typed_outlasts_what_comes_from_elsewhere(
    browser: Browser, address: str
) -> None:
    with person(browser, address) as she:
        new_room(she, ["80", "60", "80", "60"])
        she.open("plan")
        expect(she.at("#proof")).to_contain_text("needs fewer")
        she.open("lay")
        she.press("#begin")
        she.press("#lay-mishaps summary")
        she.at("#daynote").fill("Half a thou")
        she.press("#docheck")  # the column is filled anew
        expect(she.at("#docard")).to_be_visible()
        expect(she.at("#daynote")).to_have_value("Half a thou")
        she.page.get_by_role("button", name="Write it down").last.click()
        expect(she.at("#daynote")).to_have_value("")
