"""A person at the page: types, drags and taps; every message on the console is remembered."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Locator, Page, expect

LAPTOP, PHONE = (1280, 800), (390, 844)
SHOTS = os.environ.get("PLANKWRIGHT_SHOTS")  # a folder for screenshots of every step
PATIENCE_MS = 40_000  # a machine may be busy with other tests
AWAY = "net::ERR_"  # what a browser says of a network that is gone; the page says it better


expect.set_options(timeout=PATIENCE_MS)


class Person:
    """Somebody in front of a page.

    Parameters
    ----------
    page : the page.
    name : of the screenshots.
    """

    def __init__(self, page: Page, name: str) -> None:
        self.page = page
        self.name = name
        self.shots = 0
        self.troubles: list[str] = []
        page.on("console", lambda said: self._hear(said.type, said.text))
        page.on("pageerror", lambda error: self.troubles.append(str(error)))

    def _hear(self, kind: str, text: str) -> None:
        if kind in ("error", "warning") and AWAY not in text:
            self.troubles.append(text)

    def see(self, what: str) -> None:
        """Take a screenshot, if anybody wants to look at it."""
        if SHOTS:
            self.shots += 1
            Path(SHOTS).mkdir(parents=True, exist_ok=True)
            self.page.screenshot(path=Path(SHOTS) / f"{self.name}-{self.shots:02}-{what}.png")

    def at(self, selector: str) -> Locator:
        """What a selector names."""
        return self.page.locator(selector)

    def press(self, selector: str) -> None:
        """Press something."""
        self.at(selector).first.click()

    def write(self, selector: str, text: str, *, enter: bool = False) -> None:
        """Type into a field, letter by letter, over what stands there."""
        field = self.at(selector)
        field.click()
        field.press("ControlOrMeta+a")
        field.press_sequentially(text)
        if enter:
            field.press("Enter")

    def drag(self, selector: str, dx: float, dy: float, steps: int = 10) -> None:
        """Drag something by so many pixels."""
        box = self.at(selector).bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + dx, y + dy, steps=steps)
        self.page.mouse.up()

    def open(self, step: str) -> None:
        """Open a step of the job."""
        self.press(f"#open-{step}")
        expect(self.at(f"#open-{step}")).to_have_attribute("aria-expanded", "true")

    def wait_saved(self) -> None:
        """Wait until the page says that everything is kept."""
        expect(self.at("#kept")).to_have_text("Saved")


@contextmanager
def person(
    browser: Browser, address: str, size: tuple[int, int] = LAPTOP, name: str = "person"
) -> Iterator[Person]:
    """Somebody who opens the page in a window of a size, and closes it again."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, locale="en-US", has_touch=size == PHONE
    )
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    somebody = Person(page, name)
    page.goto(address)
    try:
        yield somebody
    finally:
        context.close()


def new_room(somebody: Person, walls: list[str], name: str = "Den") -> None:
    """Start a job and type its walls."""
    somebody.press("#newjob")
    somebody.write("#jobname", name)
    for number, wall in enumerate(walls):
        somebody.write(f"#wall-{number}", wall, enter=True)


def demo_job(somebody: Person) -> None:
    """Open the demo room where its plan is shown."""
    somebody.press("#demo")
    expect(somebody.at("#boards")).to_be_visible()
