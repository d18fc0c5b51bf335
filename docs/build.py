"""Everything in the documentation that is made from the code: ``make docs`` writes it anew.

Reference pages, the drawing in the README and the transcript there. Tests compare all of it with
what the code says now.
"""

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from docs.reference_pages import faults_page, findings_page, plan_file_page, python_page

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
}
TRANSCRIPT = re.compile(r"(?<=<!-- transcript: made by make docs -->\n).*?(?=<!-- end -->)", re.S)
COMMANDS = ("plankwright demo", "plankwright check plankwright-demo/plan.json")
WIDE = 92  # columns of the transcript


def run_commands(folder: Path) -> str:
    """What a person sees who types the commands one after another in an empty folder."""
    shown = []
    for command in COMMANDS:
        done = subprocess.run(
            [sys.executable, "-m", *command.split()],
            cwd=folder,
            env={**os.environ, "COLUMNS": str(WIDE), "NO_COLOR": "1", "PYTHONIOENCODING": "utf-8"},
            capture_output=True,
            encoding="utf-8",
            check=True,
        )
        lines = (done.stdout + done.stderr).splitlines()
        shown += [f"$ {command}", *(line.rstrip() for line in lines), ""]
    return "```console\n" + "\n".join(shown).rstrip() + "\n```\n"


def with_transcript(readme: str, transcript: str) -> str:
    """The README with this transcript in its place."""
    return TRANSCRIPT.sub(lambda _: transcript, readme)


def main() -> None:
    """Write all of it."""
    for name, page in PAGES.items():
        (REFERENCE / name).write_text(page(), encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        transcript = run_commands(Path(folder))
        DRAWING.write_bytes((Path(folder) / "plankwright-demo" / "plan.svg").read_bytes())
    README.write_text(
        with_transcript(README.read_text(encoding="utf-8"), transcript), encoding="utf-8"
    )


if __name__ == "__main__":
    main()
