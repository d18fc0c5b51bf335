"""The reference page of the job file is the one made from the code."""

from pathlib import Path

from plankwright.files.job_reference import job_reference

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "job-file.md"


def test_the_page_is_up_to_date() -> None:
    """When it is not: python -m plankwright.files.job_reference > docs/reference/job-file.md"""
    assert PAGE.read_text(encoding="utf-8") == job_reference()


def test_every_table_and_default_is_there() -> None:
    page = job_reference()
    for title in ("[job]", "[room]", "[[room.fixed]]", "[[room.door]]", "[board]", "[rules]"):
        assert f"## `{title}`" in page
    assert "| `gap` | Expansion gap at walls and fixed things. | length | 8 mm | leaflet |" in page
