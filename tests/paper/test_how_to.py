"""The how-to: read like a reader, checked like a page, and the writer's own words kept."""

import json
import re
from functools import cache
from pathlib import Path

import html5lib
import pytest
from playwright.sync_api import sync_playwright
from tests.paper.jobs import DEMO, bought

import plankwright
from plankwright.application.how_to import HowTo, HowToSource, Wanted, source_of
from plankwright.application.how_to_article import write_how_to
from plankwright.application.how_to_went import days_of
from plankwright.application.lay_day import Day, day_of, step_done
from plankwright.guide.events import BoardDamaged, BoardsOpened, Event, Noted, PieceSpoiled
from plankwright.paper.how_to_folder import MARKDOWN, PAGE, SavedHowTo, write_how_to_folder
from plankwright.paper.own_words import OwnWords, read_own_words

# What the demo's household calls its own; none of it is anybody else's business.
PRIVATE = ("Workroom", "laundry", "window", "1958", "USD", "41.90")


@cache
def planned() -> HowToSource:
    return source_of(bought(DEMO))


@cache
def laid() -> HowToSource:
    """The demo floor half laid on two days: a pack, a spoiled piece, a broken board, a note."""
    plan = bought(DEMO).plan
    day, number = day_of(plan), 0

    def write(day: Day, what: object, at: str) -> Day:
        nonlocal number
        number += 1
        log = day.log.write(what, f"e{number}", at=at)  # type: ignore[arg-type]
        return Day(day.plan, day.cards, log)

    day = write(day, BoardsOpened("1", "batch 7", 8), "2026-10-10T08:00:00+00:00")
    day = write(day, BoardDamaged("1"), "2026-10-10T08:10:00+00:00")
    for minute in range(30):
        for what in step_done(day):
            day = write(day, what, f"2026-10-10T09:{minute:02}:00+00:00")
    card = next(c for c in day.cards if c.piece not in day.state.laid and c.needs_saw)
    for what in step_done(day, card.piece)[:1]:
        day = write(day, what, "2026-10-11T08:00:00+00:00")
    day = write(day, PieceSpoiled(card.piece), "2026-10-11T08:05:00+00:00")
    note = Noted("my brother stepped on it", card.piece)
    day = write(day, note, "2026-10-11T10:30:00+00:00")
    return source_of(bought(DEMO), day=day, first=plan)


def words(article: HowTo) -> str:
    steps = [line for step in article.steps for line in (step.name, *step.text, *step.cautions)]
    pairs = [line for pair in (*article.facts, *article.tools, *article.mishaps) for line in pair]
    supplies = [f"{s.name} {s.planned} {s.used}" for s in article.supplies]
    return "\n".join([article.title, *article.lead, *steps, *pairs, *supplies])


# --- what is told -----------------------------------------------------------------------------


def test_the_article_has_this_rooms_own_figures() -> None:
    told = words(write_how_to(planned()))
    assert "round a post and a stair" in told
    assert "95 pieces from 78 boards (at least 77 are needed)" in told
    assert 'Saw the door jambs off 1/2" up' in told  # 5/16 + 1/16 + 0.006 in and 1.5 mm of play
    assert "over a vapor barrier" in told
    steps = [step.key for step in write_how_to(planned()).steps]
    assert steps == [
        "measure", "slab", "board", "plan", "buy", "prepare", "layers", "saw", "first-row", "rows",
        "odd", "last-row", "trim", "keep",
    ]  # fmt: skip


def test_cautions_stand_where_the_work_can_hurt() -> None:
    article = write_how_to(planned())
    by_key = {step.key: " ".join(step.cautions) for step in article.steps}
    assert "silica" in by_key["prepare"]
    assert "asbestos" in by_key["prepare"]
    assert "push stick" in by_key["saw"]
    assert "Pipes and cables" in by_key["trim"]
    assert [gate.split(".")[0] for gate in article.gates] == [
        "Asbestos", "Lead", "What lies in the slab",
    ]  # fmt: skip


def test_the_household_is_left_out_unless_wanted(tmp_path: Path) -> None:
    write_how_to_folder(planned(), tmp_path)
    for path in (*tmp_path.glob("how-to.*"), *tmp_path.glob("pictures/*")):
        text = path.read_text(encoding="utf-8")
        assert not [word for word in PRIVATE if word in text], path.name
    told = write_how_to(source_of(bought(DEMO), wanted=Wanted(name=True, prices=True)))
    assert "Workroom below grade" in told.title
    assert told.totals is not None


def test_planned_against_used_and_what_went_wrong() -> None:
    article = write_how_to(laid())
    told = words(article)
    assert article.laid
    boards = next(s for s in article.supplies if s.name.startswith("floor boards"))
    assert re.fullmatch(r"\d+ boards; 1 pack written down", boards.used)
    mishaps = [what for what, _ in article.mishaps]
    assert any("was cut wrong" in what for what in mishaps)
    assert "1 new board came out of the pack damaged." in mishaps
    assert "brother" not in told
    noted = write_how_to(
        source_of(bought(DEMO), day=laid().day, first=laid().first, wanted=Wanted(notes=True))
    )
    assert any("my brother stepped on it" in what for what, _ in noted.mishaps)


def test_hours_are_counted_day_by_day_from_first_to_last() -> None:
    """8:00 to 9:29 on the first day and 8:00 to 10:30 on the second: 1.48 and 2.5 hours."""
    day = laid().day
    assert day is not None
    assert [(date, round(hours, 2)) for date, hours in days_of(day.log.events)] == [
        ("2026-10-10", 1.48), ("2026-10-11", 2.5)
    ]  # fmt: skip
    assert write_how_to(laid()).hours[-1][2] == "4.0 on 2 days"
    strange = Event("x", 1, "", "yesterday", Noted("no date"))
    assert days_of((strange,)) == []


# --- the page ---------------------------------------------------------------------------------


@pytest.mark.parametrize("source", [planned, laid])
def test_the_page_is_valid_html_and_loads_nothing(source: object, tmp_path: Path) -> None:
    write_how_to_folder(source(), tmp_path)  # type: ignore[operator]
    page = (tmp_path / PAGE).read_text(encoding="utf-8")
    html5lib.HTMLParser(strict=True).parse(page)  # raises at the first parse error of HTML5
    assert not re.search(r"(?:src|href)=\"(?!data:|#)", page)
    assert "@import" not in page
    assert "url(" not in page


def test_its_data_is_schema_org_how_to(tmp_path: Path) -> None:
    """Required and recommended properties of schema.org/HowTo; steps by position."""
    write_how_to_folder(planned(), tmp_path)
    page = (tmp_path / PAGE).read_text(encoding="utf-8")
    found = re.search(r'<script type="application/ld\+json">(.*?)</script>', page, re.S)
    assert found
    data = json.loads(found[1])
    assert (data["@context"], data["@type"]) == ("https://schema.org", "HowTo")
    assert re.fullmatch(r"PT\d+H\d+M", data["totalTime"])  # ISO 8601 duration
    assert [step["position"] for step in data["step"]] == list(range(1, len(data["step"]) + 1))
    for step in data["step"]:
        assert step["@type"] == "HowToStep"
        assert f'id="{step["url"][1:]}"' in page
    assert all(supply["@type"] == "HowToSupply" for supply in data["supply"])
    assert "estimatedCost" not in data


def test_the_page_in_a_browser_has_no_serious_fault(tmp_path: Path) -> None:
    """axe-core on a laptop and on a phone, light and dark; no request but the file itself."""
    from axe_playwright_python.sync_playwright import Axe

    write_how_to_folder(laid(), tmp_path)
    asked: list[str] = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-gpu"]
        )
        for width, scheme in ((1280, "light"), (390, "dark")):
            page = browser.new_page(
                viewport={"width": width, "height": 800},
                color_scheme=scheme,  # type: ignore[arg-type]
            )
            page.on("request", lambda request: asked.append(request.url.partition(":")[0]))
            page.goto((tmp_path / PAGE).as_uri())
            faults = Axe().run(page).response["violations"]
            assert [f["id"] for f in faults if f["impact"] in ("serious", "critical")] == []
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            assert page.evaluate("[...document.images].every(i => i.alt && i.naturalWidth > 0)")
        browser.close()
    assert set(asked) <= {"file", "data"}


# --- Markdown and own words -------------------------------------------------------------------


def write_in(path: Path, key: str, own: str) -> None:
    """Write like a person: below the line that marks the place."""
    text = path.read_text(encoding="utf-8")
    begin = text.index("\n", text.index(f"<!-- your words: {key} ")) + 1
    path.write_text(text[:begin] + own + text[begin:], encoding="utf-8")


def test_own_words_and_photographs_survive_a_new_export(tmp_path: Path) -> None:
    write_how_to_folder(planned(), tmp_path)
    own = "We laid it **on a Saturday**.\n\n![the first row](photos/row1.png)\n"
    write_in(tmp_path / MARKDOWN, "first-row", own)
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "row1.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    saved = write_how_to_folder(laid(), tmp_path)  # half the floor later
    assert saved.notices == ()
    text = (tmp_path / MARKDOWN).read_text(encoding="utf-8")
    assert own.strip() in text
    assert "What went wrong" in text
    page = (tmp_path / PAGE).read_text(encoding="utf-8")
    assert "<p>We laid it <strong>on a Saturday</strong>.</p>" in page
    assert '<img src="data:image/png;base64,iVBORw0KGgo=" alt="the first row">' in page
    again = write_how_to_folder(laid(), tmp_path)
    assert again.notices == ()
    assert (tmp_path / MARKDOWN).read_text(encoding="utf-8") == text


def test_words_whose_place_is_gone_are_kept_at_the_end(tmp_path: Path) -> None:
    """The place about what went wrong is there only while a log is given."""
    write_how_to_folder(laid(), tmp_path)
    write_in(tmp_path / MARKDOWN, "went-wrong", "I cried a little.\n")
    write_how_to_folder(planned(), tmp_path)
    text = (tmp_path / MARKDOWN).read_text(encoding="utf-8")
    assert text.index("Kept from before") < text.index("I cried a little.")
    write_how_to_folder(planned(), tmp_path)
    assert (tmp_path / MARKDOWN).read_text(encoding="utf-8").count("I cried a little.") == 1


@pytest.mark.parametrize("damage", ["a sentence", "an end", "the seal"])
def test_a_file_changed_elsewhere_is_kept_as_a_copy(tmp_path: Path, damage: str) -> None:
    write_how_to_folder(planned(), tmp_path)
    path = tmp_path / MARKDOWN
    write_in(path, "saw", "My own words.\n")
    text = path.read_text(encoding="utf-8")
    changed = {
        "a sentence": text.replace("Rooms are never", "My rooms are never"),
        "an end": text.replace("<!-- end of your words: saw -->", ""),
        "the seal": re.sub(r"<!-- made by .*", "", text),
    }[damage]
    path.write_text(changed, encoding="utf-8")
    saved: SavedHowTo = write_how_to_folder(planned(), tmp_path)
    (notice,) = saved.notices
    assert "how-to.before-1.md" in notice
    assert (tmp_path / "how-to.before-1.md").read_text(encoding="utf-8") == changed
    assert write_how_to_folder(planned(), tmp_path).notices == ()


def test_a_missing_picture_and_one_from_elsewhere_are_told(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    (tmp_path / "secret.png").write_bytes(b"x")
    write_how_to_folder(planned(), folder)
    write_in(folder / MARKDOWN, "end", "![a](nowhere.png) ![b](../secret.png) <script>x</script>\n")
    saved = write_how_to_folder(planned(), folder)
    assert [notice.rpartition(": ")[2] for notice in saved.notices] == [
        "nowhere.png", "../secret.png"
    ]  # fmt: skip
    page = (folder / PAGE).read_text(encoding="utf-8")
    assert "<script>x" not in page
    assert "&lt;script&gt;x" in page


def test_names_with_markup_come_out_as_text(tmp_path: Path) -> None:
    from dataclasses import replace

    name = '</script><script>alert(1)</script> *a* | "b" <!-- your words: saw --> שלום 😀'
    job = bought(DEMO)
    named = replace(job, plan=replace(job.plan, name=name))
    write_how_to_folder(source_of(named, wanted=Wanted(name=True)), tmp_path)
    page = (tmp_path / PAGE).read_text(encoding="utf-8")
    html5lib.HTMLParser(strict=True).parse(page)
    assert "<script>alert" not in page
    assert "😀" in page
    text = (tmp_path / MARKDOWN).read_text(encoding="utf-8")
    assert "\\*a\\*" in text
    assert read_own_words(text) == OwnWords()


def test_the_same_source_gives_the_same_bytes(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    for folder in (one, two):
        folder.mkdir()
        write_how_to_folder(planned(), folder)
    for path in one.rglob("*.*"):
        assert path.read_bytes() == (two / path.relative_to(one)).read_bytes()


def test_the_api_says_the_same(tmp_path: Path) -> None:
    source = plankwright.how_to(bought(DEMO))
    saved = plankwright.save_how_to(source, tmp_path / "new")
    assert {path.name for path in saved.files} >= {MARKDOWN, PAGE, "plan.svg"}
