"""Every page's commands run and print what stands there; the walker itself by small pages."""

import subprocess
import sys

import pytest
from docs.build import ROOT
from docs.walks import WalkError, walked

PAGES = sorted(
    str(path.relative_to(ROOT))
    for path in [ROOT / "README.md", *(ROOT / "docs").rglob("*.md")]
    if path.parent.name != "reference"
)


@pytest.mark.parametrize("name", PAGES)
def test_the_page_shows_what_its_commands_print(name: str) -> None:
    """When it does not: make docs"""
    text = (ROOT / name).read_text(encoding="utf-8")
    assert text == walked(text)


PAGE = """# A page

<!-- file: note.txt -->
```text
hello
```

```console
$ cat note.txt
stale
```

```python
print(6 * 7)
```

```text
41
```
"""


def test_outputs_are_made_anew() -> None:
    page = walked(PAGE)
    assert "$ cat note.txt\nhello\n```" in page
    assert "```text\n42\n```" in page
    assert walked(page) == page


def test_a_command_that_fails_unannounced_fails_the_page() -> None:
    with pytest.raises(WalkError, match="ended with 2"):
        walked("```console\n$ plankwright check nothing.json\n```\n")


def test_a_failure_can_be_announced() -> None:
    page = walked("<!-- exits with 2 -->\n```console\n$ plankwright check nothing.json\n```\n")
    assert page.startswith("<!-- exits with 2 -->\n```console\n$ plankwright check nothing.json\n")
    assert "nothing.json" in page.splitlines()[3]


def test_an_announced_failure_must_fail() -> None:
    with pytest.raises(WalkError, match="ended with 0"):
        walked("<!-- exits with 1 -->\n```console\n$ plankwright --version\n```\n")


def test_the_same_interpreter_runs_the_commands() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "plankwright", "--version"],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    assert done.stdout in walked("```console\n$ plankwright --version\n```\n")
