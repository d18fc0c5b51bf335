"""Two devices on one job: nobody's work is lost, and the person says whose stands."""

from playwright.sync_api import Browser, expect
from tests.browser.person import new_room, person


def test_a_change_from_elsewhere_is_settled_by_the_person(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"])
        she.wait_saved()
        with person(browser, she.page.url) as he:
            expect(he.at("#jobname")).to_have_value("Den")
            he.at("#jobname").fill("His den")
            he.wait_saved()
        she.at("#jobname").fill("Her den")
        expect(she.at("#kept")).to_contain_text("Changed on another device")
        she.page.reload()  # even now nothing is lost
        expect(she.at("#jobname")).to_have_value("Her den")
        she.press("#theirs")
        expect(she.at("#jobname")).to_have_value("His den")
        she.press("#undo")
        expect(she.at("#jobname")).to_have_value("Her den")
        she.wait_saved()


def test_what_this_device_has_can_stand(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        new_room(she, ["120", "100", "120", "100"])
        she.wait_saved()
        with person(browser, she.page.url) as he:
            he.at("#jobname").fill("His den")
            he.wait_saved()
        she.at("#jobname").fill("Her den")
        she.press("#mine")
        she.wait_saved()
        she.press("text=Jobs")
        expect(she.at(".joblist a.open").first).to_have_text("Her den")
