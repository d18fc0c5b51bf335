"""Lengths in the page's own code are the lengths of units.py."""

from playwright.sync_api import Browser
from tests.browser.person import person

from plankwright.units import UNITS, format_length, parse_length

# In sixteenths and whole millimeters, and between the marks; a row from 0 to over 300 ft.
LENGTHS_MM = (0.0, 0.4, 0.5, 1.0, 1.5875, 12.7, 25.4, 99.9, 304.8, 1000.0, 3749.675, 5175.25)
MORE_MM = (99999.5, -31.0)


def test_the_page_writes_lengths_as_the_program_does(browser: Browser, address: str) -> None:
    with person(browser, address) as she:
        asked = [(mm, unit) for mm in (*LENGTHS_MM, *MORE_MM) for unit in UNITS]
        told, typed = she.page.evaluate(
            """async (asked) => {
                const { formatLength, typedLength } = await import('/static/lengths.js');
                return [asked.map(([mm, unit]) => formatLength(mm, unit)),
                        asked.map(([mm, unit]) => typedLength(mm, unit))];
            }""",
            asked,
        )
        for (mm, unit), words, text in zip(asked, told, typed, strict=True):
            assert words == format_length(mm, unit), (mm, unit)
            mark = 25.4 / 16 if unit in ("in", "ft") else 1.0
            read = float(parse_length(text, unit, signed=True))
            assert abs(read - mm) <= mark / 2 + 1e-6, (mm, unit, text)
