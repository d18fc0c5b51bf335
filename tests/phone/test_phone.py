"""The phone's page in a real browser, from a file address, offline."""

import json
import re
from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page, expect
from tests.drawing.sample_plans import small_plan
from tests.guide.make_vectors import VECTORS

from plankwright.application.lay_day import Day, day_of
from plankwright.application.plan_room import plan_room
from plankwright.errors import FileError, InputError
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.guide.checks import field_at
from plankwright.guide.events import Event, Photographed, PlanTaken
from plankwright.guide.laying_log import log_of
from plankwright.guide.laying_state import state_entry
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.optimize.solve import Effort
from plankwright.phone.page import MODULES, bundle, phone_html
from plankwright.plan.drift import Field, RowCheck, check_rows
from plankwright.store.events_file import events_text, read_events_text, read_given_back
from plankwright.store.laying import begin_laying
from plankwright.store.photographs import Photographs, digest_of, media_type_of
from plankwright.testing.zoo import rectangle
from plankwright.units import parse_length

OpenPage = Callable[..., Page]
THUMB_PX = 64
JOB = "job-1"


def main_action(page: Page) -> None:
    """Press the main action and wait until it is shown that it was written down."""
    before = page.locator("#card").text_content() or ""
    page.locator("#actions .main").click()
    expect(page.locator("#card")).not_to_have_text(before)


def given_back(page: Page, job: str = JOB) -> tuple[Event, ...]:
    page.get_by_role("button", name="Log", exact=True).click()
    with page.expect_download() as waiting:
        page.locator("#sheet").get_by_role("button", name="Give the log back").click()
    text = Path(waiting.value.path()).read_text(encoding="utf-8")
    page.get_by_role("button", name="Close").click()
    return read_events_text(text, "events.json", job)


def tell(page: Page, what: str, **fields: str) -> None:
    page.get_by_role("button", name="Something else").click()
    page.get_by_role("button", name=what).click()
    for name, value in fields.items():
        field = page.locator(f"[name={name}]")
        if field.evaluate("node => node.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)
    if fields:
        page.get_by_role("button", name="Write it down").click()


# --- a day -----------------------------------------------------------------------------------


def test_forty_events_a_reload_and_the_file_given_back(
    open_page: OpenPage, room_file: Path, room_day: Day
) -> None:
    page = open_page(room_file)
    main_action(page)  # the check before row 1
    for _ in range(14):
        main_action(page)
    page.reload()
    page.wait_for_selector("html[data-ready]")
    for _ in range(14):
        main_action(page)
    events = given_back(page)
    assert len(events) >= 40
    assert len({event.id for event in events}) == len(events)
    assert [event.order for event in events] == list(range(1, len(events) + 1))
    log = log_of(events, room_day.log.board_mm)
    assert log.state.set_aside == {}
    shown = json.loads(page.evaluate("JSON.stringify([...document.querySelectorAll('.is-laid')]"
                                     ".map(node => node.dataset.key))"))  # fmt: skip
    assert set(shown) == set(log.state.laid)
    assert [c.piece for c in room_day.cards[: len(shown)]] == [
        c.piece for c in room_day.cards if c.piece in log.state.laid
    ]
    assert log.state.stock_um2 == log.state.accounted_um2


def test_two_phones_meet_without_loss_or_repetition(
    open_page: OpenPage, room_file: Path, room_day: Day, tmp_path: Path
) -> None:
    one, two = open_page(room_file), open_page(room_file)
    for _ in range(6):
        main_action(one)
    tell(two, "I opened a pack", pack="P7", batch="4711", boards="8")
    tell(two, "I checked a gap", place="A-B", length="9")
    first, second = given_back(one), given_back(two)
    board = room_day.log.board_mm
    there = log_of(first, board).merged(second)
    other = log_of(second, board).merged(first).merged(second)
    assert there.state == other.state
    assert len(there.events) == len(first) + len(second)
    # the second phone takes in the first one's file, twice, and shows the same
    path = tmp_path / "events.json"
    path.write_text(events_text(JOB, first), encoding="utf-8")
    for _ in range(2):
        two.get_by_role("button", name="Log", exact=True).click()
        two.locator("#take-in").set_input_files(path)
        expect(two.locator("#told")).to_contain_text("taken in")
        two.get_by_role("button", name="Close").click()
    assert {event.id for event in given_back(two)} == {event.id for event in there.events}


def test_what_is_taken_back_and_what_is_refused(open_page: OpenPage, small_file: Path) -> None:
    page = open_page(small_file)
    main_action(page)
    first = page.locator("h1").inner_text()
    piece = first.partition("(")[2].rstrip(")")
    main_action(page)
    page.get_by_role("button", name="Take back").click()
    expect(page.locator("h1")).to_have_text(first)
    expect(page.locator("#card")).to_contain_text("It is cut already")
    expect(page.locator("#told")).to_have_text(f"Taken back: laid {piece}.")
    tell(page, "A laid piece is damaged", piece=piece)
    expect(page.locator("dialog .check")).to_contain_text("the piece does not lie")
    page.get_by_role("button", name="Close").click()
    tell(page, "An offcut is gone", letter="Z")
    expect(page.locator("dialog .check")).to_contain_text("no such offcut on the shelf")
    page.get_by_role("button", name="Close").click()
    tell(page, "I measured to the far wall", row="1", length="12 1/2 quarks")
    expect(page.locator("dialog .check")).to_contain_text("Cannot read this as a length")
    page.get_by_role("button", name="Close").click()
    assert [event.kind for event in given_back(page, "small")] == [
        "check-made", "piece-cut", "piece-laid", "undone",
    ]  # fmt: skip


def test_the_wrong_end_puts_both_parts_on_the_shelf(open_page: OpenPage, small_file: Path) -> None:
    page = open_page(small_file)
    main_action(page)
    tell(page, "I kept the wrong end")
    expect(page.locator("#sheet")).not_to_be_visible()
    expect(page.locator("#told")).to_contain_text("Mark what you cut 1.1.1/1 and 1.1.1/2")
    log = log_of(given_back(page, "small"), (1000.0, 200.0))
    # the starter of 400 was cut from the groove end: 400 with the near end, 597 with the far end
    assert {label: (part.length_mm, part.ends) for label, part in log.state.shelf.items()} == {
        "1.1.1/1": (400.0, "near"),
        "1.1.1/2": (597.0, "far"),
    }
    assert log.state.hand == {}
    # once more: the marks are taken, so others are written on the parts
    tell(page, "I kept the wrong end")
    expect(page.locator("#sheet")).not_to_be_visible()
    log = log_of(given_back(page, "small"), (1000.0, 200.0))
    assert set(log.state.shelf) == {"1.1.1/1", "1.1.1/2", "1.1.1/1-2", "1.1.1/2-2"}
    assert log.state.set_aside == {}


def test_what_happened_is_told_and_logged_in_the_phones_own_time(
    open_page: OpenPage, small_file: Path
) -> None:
    page = open_page(small_file)
    main_action(page)
    tell(page, "I measured to the far wall", row="1", length="412")
    expect(page.locator("#told")).to_have_text("Written down: measured row 1, 412 mm.")
    page.clock.set_fixed_time("2026-03-01T12:34:00Z")
    tell(page, "Write a note", text="cold in here")
    expect(page.locator("#told")).to_have_text("Written down: note cold in here.")
    page.get_by_role("button", name="Log", exact=True).click()
    expect(page.locator(".log li").first).to_have_text("18:04 note cold in here")


def test_several_cuts_on_one_walk(open_page: OpenPage, small_file: Path) -> None:
    page = open_page(small_file)
    page.get_by_role("button", name="Something else").click()
    page.get_by_role("button", name="Cut more on this walk").click()
    cuts = page.locator("#sheet .cut")
    # 2.1.3 comes from offcut A, which is not cut yet; five others can be cut from new boards
    assert [cut.locator("b").first.inner_text() for cut in cuts.all()] == [
        "1.1.1", "1.1.3", "3.1.1", "3.1.2", "3.1.3",
    ]  # fmt: skip
    cuts.first.get_by_role("button", name="Cut").click()
    expect(cuts.first.locator("b").first).to_have_text("1.1.3")
    assert "2.1.3" in page.locator("#sheet").inner_text()
    assert serious(page) == []
    page.get_by_role("button", name="Close").click()
    log = log_of(given_back(page, "small"), (1000.0, 200.0))
    assert list(log.state.hand) == ["1.1.1"]


def test_a_cut_that_cannot_be_is_told_on_the_page(open_page: OpenPage, small_file: Path) -> None:
    page = open_page(small_file)
    main_action(page)
    tell(page, "I found an offcut", letter="A", length="300", ends="near")
    # 1.1.1 would leave an offcut A, and there is one now
    page.get_by_role("button", name="Cut and laid").click()
    expect(page.locator("#told")).to_contain_text("the letter is on another offcut")
    page.get_by_role("button", name="Something else").click()
    page.get_by_role("button", name="Cut more on this walk").click()
    page.locator("#sheet .cut").first.get_by_role("button", name="Cut").click()
    expect(page.locator("#sheet")).not_to_be_visible()
    expect(page.locator("#told")).to_contain_text("the letter is on another offcut")
    assert [event.kind for event in given_back(page, "small")] == ["check-made", "offcut-found"]


def test_a_phone_with_the_cards_of_another_plan_says_so(
    open_page: OpenPage, small_file: Path, tmp_path: Path
) -> None:
    page = open_page(small_file)
    path = tmp_path / "events.json"
    path.write_text(events_text("small", [Event("p2", 1, "command", "", PlanTaken(2))]))
    page.get_by_role("button", name="Log", exact=True).click()
    page.locator("#take-in").set_input_files(path)
    expect(page.locator("#told")).to_contain_text("another plan: make a new file")
    page.reload()
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("#told")).to_contain_text("another plan: make a new file")


def test_the_whole_small_floor_to_the_end(open_page: OpenPage, small_file: Path) -> None:
    page = open_page(small_file)
    for _ in range(14):
        if page.get_by_role("heading", name="Every piece lies.").count():
            break
        main_action(page)
    expect(page.locator("h1")).to_have_text("Every piece lies.")
    log = log_of(given_back(page, "small"), (1000.0, 200.0))
    assert len(log.state.laid) == 9
    assert set(log.state.checks) == {"before row 1", "after row 2", "before trim"}


def test_a_photograph_goes_into_the_file(
    open_page: OpenPage, small_file: Path, tmp_path: Path
) -> None:
    page = open_page(small_file)
    picture = tmp_path / "floor.png"
    page.screenshot(path=picture)
    page.get_by_role("button", name="Something else").click()
    page.locator("#photograph").set_input_files(picture)
    expect(page.locator("#told")).to_contain_text("The photograph is kept")
    page.get_by_role("button", name="Log", exact=True).click()
    with page.expect_download() as waiting:
        page.locator("#sheet").get_by_role("button", name="Give the log back").click()
    text = Path(waiting.value.path()).read_text(encoding="utf-8")
    given = read_given_back(text, "events.json", "small")
    (event,) = given.events
    assert isinstance(event.what, Photographed)
    assert digest_of(given.photographs[0]) == event.what.photo
    assert media_type_of(given.photographs[0]) == "image/jpeg"
    with begin_laying(tmp_path / "log", "small", dump_plan(small_plan()), _read) as laying:
        assert laying.merge_given_back(given) == 1
        assert laying.merge_given_back(given) == 0
        kept = Photographs(laying.database, laying.job_id).all()
        assert [photo.digest for photo in kept] == [event.what.photo]


def _read(text: str) -> Plan:
    return load_plan(text, "plan")


def test_the_check_after_row_2_forecasts_the_last_row(
    open_page: OpenPage, room_file: Path, room_day: Day
) -> None:
    page = open_page(room_file)
    while page.locator("h1").inner_text() != "Check: after row 2":
        main_action(page)
    found = field_at(room_day.plan, 2)
    assert found is not None
    field, counts = found
    for end, across, first, rows in zip(
        ("near", "far"), field.across_mm, field.first_row_mm, counts, strict=True
    ):
        planned = across - field.start_gap_mm - first - (rows - 1) * field.board_width_mm
        page.get_by_role("button", name="Measure far wall").click()
        expect(page.locator("[name=row]")).to_have_value("2")
        page.locator("[name=end]").select_option(end)
        page.locator("[name=length]").fill(f"{planned - 4.0:.3f}")
        page.get_by_role("button", name="Write it down").click()
        expect(page.locator("#sheet")).not_to_be_visible()
    # two rows cover 4 mm more than their boards: joints are open
    expect(page.locator("#card")).to_contain_text("Joints are open")
    expect(page.locator("#card")).to_contain_text("The last row will be")


def test_where_there_is_no_database_the_plain_storage_keeps(
    browser: Browser, small_file: Path
) -> None:
    context = browser.new_context(offline=True)
    context.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    page = context.new_page()
    page.goto(small_file.as_uri())
    page.wait_for_selector("html[data-ready]")
    main_action(page)
    main_action(page)
    page.reload()
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("h1")).to_contain_text("1.1.2")
    assert len(given_back(page, "small")) == 3
    context.close()


def test_a_browser_that_keeps_nothing_says_so(browser: Browser, small_file: Path) -> None:
    context = browser.new_context(offline=True)
    context.add_init_script(
        "Object.defineProperty(window, 'indexedDB', { value: undefined });"
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } })"
    )
    page = context.new_page()
    page.goto(small_file.as_uri())
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("#told")).to_contain_text("keeps nothing")
    main_action(page)
    assert len(given_back(page, "small")) == 1
    context.close()


def test_a_full_phone_says_that_it_was_not_written_down(browser: Browser, small_file: Path) -> None:
    context = browser.new_context(offline=True)
    context.add_init_script(
        "IDBObjectStore.prototype.put = function () {"
        " throw new DOMException('full', 'QuotaExceededError'); }"
    )
    page = context.new_page()
    page.goto(small_file.as_uri())
    page.wait_for_selector("html[data-ready]")
    page.locator("#actions .main").click()
    expect(page.locator("#told")).to_contain_text("Not written down")
    expect(page.locator("h1")).to_have_text("Check: before row 1")  # it did not happen
    context.close()


def test_another_jobs_file_is_refused(
    open_page: OpenPage, small_file: Path, tmp_path: Path
) -> None:
    page = open_page(small_file)
    path = tmp_path / "events.json"
    for text, told in (
        (events_text("another", ()), "another job"),
        ("{}", "not a file of events"),
        ("no json", "not a file of events"),
    ):
        path.write_text(text, encoding="utf-8")
        page.get_by_role("button", name="Log", exact=True).click()
        page.locator("#take-in").set_input_files(path)
        expect(page.locator("#sheet .check")).to_contain_text(told)
        page.get_by_role("button", name="Close").click()
    with pytest.raises(FileError, match="another job"):
        read_events_text(events_text("another", ()), "events.json", "small")


# --- the page itself -------------------------------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious(open_page: OpenPage, room_file: Path, scheme: str) -> None:
    page = open_page(room_file, scheme)
    assert serious(page) == []
    main_action(page)
    assert serious(page) == []
    page.get_by_role("button", name="Something else").click()
    page.get_by_role("button", name="I found an offcut").click()
    assert serious(page) == []
    page.get_by_role("button", name="Close").click()
    page.get_by_role("button", name="Log", exact=True).click()
    assert serious(page) == []


def serious(page: Page) -> list[str]:
    found: list[dict[str, Any]] = Axe().run(page).response["violations"]
    return [f"{v['id']}: {v['nodes'][0]['html']}" for v in found if v["impact"] in SERIOUS]


SERIOUS = ("serious", "critical")


def test_targets_are_large_and_nothing_hangs_over(open_page: OpenPage, room_file: Path) -> None:
    page = open_page(room_file)
    main_action(page)
    for what in ("", "Something else", "I found an offcut"):
        if what:
            page.get_by_role("button", name=what).click()
        sizes = page.evaluate(
            "[...document.querySelectorAll('button, input:not(.unseen), select')]"
            ".map(node => node.getBoundingClientRect())"
            ".filter(box => box.width).map(box => [box.width, box.height, box.right])"
        )
        assert len(sizes) >= 6
        assert min(min(width, height) for width, height, _ in sizes) >= THUMB_PX
        assert max(right for *_, right in sizes) <= 360
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.get_by_role("button", name="Close").click()
    # the main action is in the lower third, where the thumb of one hand is
    box = page.locator("#actions .main").bounding_box()
    assert box is not None
    assert box["y"] > 740 * 2 / 3 - THUMB_PX


def test_the_upper_third_shows_what_is_next(open_page: OpenPage, room_file: Path) -> None:
    page = open_page(room_file)
    main_action(page)
    expect(page.locator("#saw svg")).to_be_visible()
    page.get_by_role("button", name="Floor", exact=True).click()
    expect(page.locator("#floor svg")).to_be_visible()
    next_piece = page.locator(".is-next")
    assert next_piece.count() == 1
    whole = page.locator("#floor svg").get_attribute("viewBox")
    page.locator("#floor").click()
    near = page.locator("#floor svg").get_attribute("viewBox")
    assert near != whole
    page.locator("#floor").click()
    assert page.locator("#floor svg").get_attribute("viewBox") == whole


def test_a_floor_of_30_square_meters_is_below_a_megabyte() -> None:
    plan = plan_room(rectangle(6000.0, 5000.0), Board(1285.0, 192.0), effort=Effort(moves=20))
    assert plan.floor.area > 29e6
    assert len(phone_html(day_of(plan), "job").encode()) < 1_000_000


def test_nothing_but_the_one_script_may_run(room_file: Path, blank: Page) -> None:
    html = room_file.read_text(encoding="utf-8")
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', html)
    assert policy is not None
    assert "default-src 'none'" in policy[1]
    assert "unsafe" not in policy[1]
    assert " style=" not in html.split("<script")[0]
    assert "Den &lt;&amp;&gt; &quot;hall&quot;" in html
    refused = list[str]()
    blank.on("console", lambda said: refused.append(said.text))
    blank.goto(room_file.as_uri())
    ran = blank.evaluate(
        "() => { const s = document.createElement('script'); s.textContent = 'window.evil = 1';"
        " document.body.append(s); return window.evil ?? 0; }"
    )
    assert ran == 0
    assert any("Content Security Policy" in text for text in refused)


# --- the same meaning in both languages ------------------------------------------------------


def in_browser(page: Page, body: str, *names: str) -> Any:
    """What some lines come to after the page's own modules."""
    modules = "\n".join(bundle_of(name) for name in names or ("fold", "typed"))
    return page.evaluate(f"(() => {{ {modules}\n{body} }})()")


def bundle_of(name: str) -> str:
    """One module's part of the bundle."""
    from plankwright.phone import page

    return page._standing_alone(page._text(f"{name}.js"))


@pytest.fixture(scope="module")
def blank(browser: Any) -> Any:
    page = browser.new_page()
    yield page
    page.close()


def test_the_vectors_fold_to_the_same_state(blank: Page) -> None:
    cases = json.loads(VECTORS.read_text(encoding="utf-8"))
    states = in_browser(blank, f"const cases = {json.dumps(cases)};" + """
        const sorted = (map) => Object.fromEntries([...map].sort((a, b) => a[0] < b[0] ? -1 : 1));
        return cases.map((one) => {
          const state = fold(one.events, one.board_mm);
          const place = (one) => JSON.stringify([one.what, String(one.row).padStart(4), one.end]);
          const measured = [...state.measured.values()]
            .sort((a, b) => (place(a) < place(b) ? -1 : 1));
          return { ...state, packs: sorted(state.packs), hand: sorted(state.hand),
            laid: sorted(state.laid), shelf: sorted(state.shelf), spoiled: sorted(state.spoiled),
            measured, gaps: sorted(state.gaps), locked: [...state.locked].sort((a, b) => a - b),
            checks: sorted(state.checks), notes: sorted(state.notes), photos: sorted(state.photos),
            set_aside: sorted(state.set_aside) };
        });""")  # fmt: skip
    assert states == [case["state"] for case in cases]


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    rows=st.tuples(st.integers(1, 20), st.integers(1, 20)),
    open_mm=st.tuples(st.integers(0, 6000), st.integers(0, 6000)),
    first=st.integers(50, 192),
)
def test_the_last_row_is_forecast_alike(
    blank: Page, rows: tuple[int, int], open_mm: tuple[int, int], first: int
) -> None:
    field = Field((3600.0, 3607.0), 192.0, (float(first), first - 3.0), 8.0, 10.0, 50.0)
    entry = {"rows": rows, **asdict(field)}
    told = in_browser(
        blank, f"return forecastLastRow({json.dumps(entry)}, {json.dumps(open_mm)})", "drift"
    )
    try:
        read = float(open_mm[0]), float(open_mm[1])
        drift = check_rows(field, RowCheck(rows[0], read, rows[1]))
    except InputError:
        assert told is None
        return
    assert told["last_row_mm"] == pytest.approx(drift.last_row_mm)
    assert told["closed_last_row_mm"] == pytest.approx(drift.closed_last_row_mm)
    assert told["has_open_joints"] == drift.has_open_joints
    assert told["is_narrow"] == any(step.name == "shift" for step in drift.steps)
    assert told["is_misread"] == ([step.name for step in drift.steps] == ["measure again"])


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("3740", "mm"), ("374 cm", "mm"), ("3.74 m", "mm"), ("147 5/8", "in"), ('147 5/8"', "mm"),
        ("12' 3 5/8\"", "in"), ("12ft 3.625in", "mm"), ("12'", "in"), ("5/16", "in"),
        ("8 mm", "in"), ("9 in", "ft"), ("2.5", "ft"),
    ],
)  # fmt: skip
def test_typed_lengths_are_read_alike(blank: Page, text: str, unit: str) -> None:
    read = in_browser(blank, f"return parseTyped({json.dumps(text)}, {json.dumps(unit)})")
    assert read == pytest.approx(float(parse_length(text, unit)), abs=0.0006)  # type: ignore[arg-type]


@pytest.mark.parametrize("text", ["", "wide", "3,740", "1/0", "3 9/8", "12' 13", "-5", "1e9 m"])
def test_what_cannot_be_read_is_not_guessed(blank: Page, text: str) -> None:
    assert in_browser(blank, f"return parseTyped({json.dumps(text)}, 'mm')") is None


def test_the_bundle_holds_every_module_once() -> None:
    script = bundle()
    assert "import " not in re.sub(r"import\('", "", script)
    assert "export " not in script
    names = re.findall(r"^(?:async )?(?:function|class|const|let) (\w+)", script, re.MULTILINE)
    assert len(names) == len(set(names))
    folder = Path(__file__).parents[2] / "src" / "plankwright" / "phone" / "static"
    assert {path.stem for path in folder.glob("*.js")} == {*MODULES} - {"lengths"}


def test_a_page_made_in_the_middle_of_the_day_goes_on_from_there(
    open_page: OpenPage, room_day: Day, tmp_path: Path
) -> None:
    from plankwright.application.lay_day import step_done

    log = room_day.log
    for number, what in enumerate(step_done(room_day)):
        log = log.write(what, f"before-{number}", device="command", at="2026-01-03T09:00:00+00:00")
    path = tmp_path / "later.html"
    path.write_text(phone_html(day_of(room_day.plan, log), JOB), encoding="utf-8")
    page = open_page(path)
    expect(page.locator("h1")).to_contain_text(room_day.cards[1].piece)
    main_action(page)
    events = given_back(page)
    assert [event.id for event in events[: len(log.events)]] == [event.id for event in log.events]
    merged = log.merged(events)
    assert set(merged.state.laid) == {card.piece for card in room_day.cards[:2]}
    assert state_entry(merged.state)["set_aside"] == {}
