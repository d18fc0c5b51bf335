"""Everything in the documentation that is made from the code: ``make docs`` writes it anew.

Reference pages, the drawing in the README, and what the commands on every page print. Tests compare
all of it with what the code says now.
"""

from collections.abc import Callable
from importlib import resources
from pathlib import Path

from docs.http_page import http_page
from docs.reference_pages import faults_page, findings_page, plan_file_page, python_page
from docs.walks import walked

from plankwright import api
from plankwright.cli.reference import command_reference
from plankwright.files.job_reference import job_reference

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
DRAWING = ROOT / "docs" / "demo_room.svg"
REFERENCE = ROOT / "docs" / "reference"

PAGES: dict[str, Callable[[], str]] = {
    "commands.md": command_reference,
    "job-file.md": job_reference,
    "plan-file.md": plan_file_page,
    "findings.md": findings_page,
    "faults.md": faults_page,
    "python.md": python_page,
    "http.md": http_page,
}


def walks() -> list[Path]:
    """The README and every page written by hand: their commands are run."""
    pages = (path for path in (ROOT / "docs").rglob("*.md") if path.parent != REFERENCE)
    return [README, *sorted(pages)]


def demo_drawing() -> bytes:
    """The drawing of the demo room as ``plankwright demo`` makes it."""
    job = api.open_job(str(resources.files("plankwright") / "data" / "demo_room.toml"))
    return api.draw(api.plan_job(job), room=job.room).encode("utf-8")


def main() -> None:
    """Write all of it."""
    for name, page in PAGES.items():
        (REFERENCE / name).write_text(page(), encoding="utf-8")
    DRAWING.write_bytes(demo_drawing())
    for path in walks():
        path.write_text(walked(path.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
