"""The network goes while a floor is laid: nothing is lost, all is delivered once and in order."""

from contextlib import ExitStack
from pathlib import Path
from typing import Any

import httpx
from playwright.sync_api import Browser, expect
from tests.browser.person import PHONE, Person, new_room, person
from tests.web.server import free_port, running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import Pairing

EVENTS = 30


class Restarted:
    """A server on one port and one file that can be stopped and started again."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.port = free_port()
        self.stack = ExitStack()

    def start(self) -> str:
        app = make_app(JobStore(self.file), Pairing(lambda: 0.0))
        return self.stack.enter_context(running(app, self.port))

    def stop(self) -> None:
        self.stack.close()


def begin_laying(somebody: Person) -> str:
    """A floor whose first check is made; the job's id."""
    new_room(somebody, ["110", "90", "110", "90"])
    somebody.open("plan")
    expect(somebody.at("#proof")).to_contain_text("needs fewer")
    somebody.open("lay")
    somebody.press("#begin")
    somebody.press("#docheck")
    expect(somebody.at("#docard")).to_be_visible()
    expect(somebody.at("#takeback")).to_be_visible()
    return str(somebody.page.evaluate("location.hash.split('/')[2]"))


def known(address: str, job_id: str) -> list[dict[str, Any]]:
    """The events that the server has, in their order."""
    laying = httpx.get(f"{address}/api/jobs/{job_id}/laying", timeout=30).json()
    events: list[dict[str, Any]] = laying["all"]
    return events


def waiting(somebody: Person) -> list[str]:
    """Ids of the events that wait on this device, in their order."""
    ids: list[str] = somebody.page.evaluate(
        """async () => {
            const { kept } = await import('/static/pocket.js');
            const id = location.hash.split('/')[2];
            return ((await kept('outbox:' + id)) ?? []).map((event) => event.id);
        }"""
    )
    return ids


def test_thirty_events_are_delivered_once_and_in_order_though_the_server_restarts(
    browser: Browser, tmp_path: Path
) -> None:
    server = Restarted(tmp_path / "jobs.plankwright")
    address = server.start()
    with person(browser, address, PHONE) as she:
        job_id = begin_laying(she)
        before = len(known(address, job_id))
        she.page.context.set_offline(True)
        for number in range(EVENTS):
            she.press("#docard")
            expect(she.at("#waiting")).to_contain_text(
                "one thing waits" if number == 0 else f"{number + 1} things wait"
            )
        ids = waiting(she)
        assert len(set(ids)) == EVENTS
        server.stop()
        assert server.start() == address
        assert len(known(address, job_id)) == before
        she.page.context.set_offline(False)
        expect(she.at("#waiting")).to_have_count(0)
        assert [event["id"] for event in known(address, job_id)[before:]] == ids
        she.page.reload()
        expect(she.at("#takeback")).to_be_visible()
        assert [event["id"] for event in known(address, job_id)[before:]] == ids
        assert she.troubles == []
    server.stop()


def test_two_phones_write_and_nothing_of_either_is_lost(browser: Browser, address: str) -> None:
    with person(browser, address, PHONE) as she:
        job_id = begin_laying(she)
        with person(browser, she.page.url, PHONE) as he:
            expect(he.at("#docard")).to_be_visible()
            for somebody in (she, he):
                somebody.page.context.set_offline(True)
            she.press("#rowdone")
            expect(she.at("#rowdone")).to_contain_text("row 2")
            he.press("#lay-mishaps summary")
            he.at("#daynote").fill("Heard a hollow spot by the post.")
            he.page.get_by_role("button", name="Write it down").last.click()
            he.press("#docard")  # the same piece that she has cut too
            expect(he.at("#waiting")).to_contain_text("2 things wait")
            hers, his = waiting(she), waiting(he)
            for somebody in (she, he):
                somebody.page.context.set_offline(False)
                expect(somebody.at("#waiting")).to_have_count(0)
            ids = [event["id"] for event in known(address, job_id)]
            assert sorted([*hers, *his]) == sorted(ids[-len(hers) - len(his) :])
            assert [one for one in ids if one in hers] == hers
            assert [one for one in ids if one in his] == his
            expect(he.at("text=was set aside")).to_be_visible()
            expect(he.at("#rowdone")).to_contain_text("row 2")  # he sees what she did


def test_without_a_server_the_page_opens_again_and_goes_on(
    browser: Browser, tmp_path: Path
) -> None:
    server = Restarted(tmp_path / "jobs.plankwright")
    address = server.start()
    with person(browser, address) as she:
        job_id = begin_laying(she)
        she.page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
        she.page.reload()  # from here on the offline worker serves the page
        expect(she.at("#docard")).to_be_visible()
        expect(she.at("#lay-phone")).to_be_visible()
        before = len(known(address, job_id))
        server.stop()
        she.press("#docard")
        expect(she.at("#waiting")).to_be_visible()
        she.at("#jobname").fill("Den by the lake")
        expect(she.at("#kept")).to_contain_text("kept on this device")
        she.page.reload()
        expect(she.at("#waiting")).to_contain_text("one thing waits")
        she.press("#docard")
        expect(she.at("#waiting")).to_contain_text("2 things wait")
        assert server.start() == address
        expect(she.at("#waiting")).to_have_count(0)
        assert len(known(address, job_id)) == before + 2
        expect(she.at("#kept")).to_have_text("Saved")
        assert httpx.get(f"{address}/api/jobs").json()[0]["name"] == "Den by the lake"
    server.stop()


def test_the_page_can_be_installed(browser: Browser, address: str) -> None:
    manifest = httpx.get(f"{address}/manifest.webmanifest").json()
    assert manifest["display"] == "standalone"
    icon = httpx.get(address + manifest["icons"][0]["src"])
    assert icon.headers["content-type"].startswith("image/svg+xml")
    with person(browser, address) as she:
        scope = she.page.evaluate("() => navigator.serviceWorker.ready.then((one) => one.scope)")
        assert scope == f"{address}/"
