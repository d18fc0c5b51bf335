"""No tracked file names a package registry's host, a path of somebody's machine, or how the work
was organized."""

import re
import subprocess

import pytest
from docs.build import ROOT

# Spelled backwards, so that this file passes its own test.
HOSTS = ("gro.ipyp", "gro.detsohnohtyp", "gro.sjmpn", "moc.gkpnray", "gro.egrof-adnoc", "oi.setarc")
ROOTS = ("krow", "pmt", "emoh", "toor", "sresU", "tnm", "tpo")
WORDS = (
    *("noisses", "tnega", "tnegabus", "tnatsissa", "tobtahc", "mll", "edualc", "ciporhtna"),
    *("ianepo", "tpgtahc", "tolipoc"),
)


def _any(backwards: tuple[str, ...]) -> str:
    return "|".join(re.escape(word[::-1]) for word in backwards)


FORBIDDEN = {
    "a registry's host": _any(HOSTS),
    "an absolute path": rf"(?<![\w.~*)}}/-])/(?:{_any(ROOTS)})/|\b[A-Z]:\\\w",
    "how the work was organized": rf"\b(?:{_any(WORDS)})s?\b",
}


def tracked_files() -> dict[str, str]:
    """The text of every tracked file that is text; those of the folder where there is no git."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, encoding="utf-8", check=False
    )
    names = [name for name in listed.stdout.split("\0") if name]
    if not names:
        folders = ("src", "tests", "docs", "benchmarks", "requirements")
        paths = [*ROOT.glob("*.*"), *(p for f in folders for p in (ROOT / f).rglob("*.*"))]
        names = [str(path.relative_to(ROOT)) for path in paths if path.is_file()]
    texts = {}
    for name in names:
        path = ROOT / name
        if path.is_file() and b"\0" not in (content := path.read_bytes()):
            texts[name] = content.decode("utf-8")
    return texts


TEXTS = tracked_files()


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_tracked_file_holds(what: str) -> None:
    pattern = re.compile(FORBIDDEN[what], re.IGNORECASE)
    found = [
        f"{name}:{text.count(chr(10), 0, match.start()) + 1}: {match.group()}"
        for name, text in TEXTS.items()
        for match in pattern.finditer(text)
    ]
    assert len(TEXTS) > 100
    assert found == []


@pytest.mark.parametrize(
    ("what", "text"),
    [
        ("a registry's host", "--index-url https://" + HOSTS[0][::-1] + "/simple"),
        ("an absolute path", "open('/" + ROOTS[2][::-1] + "/someone/room.toml')"),
        ("how the work was organized", "made in a " + WORDS[0][::-1]),
    ],
)
def test_what_is_looked_for_would_be_found(what: str, text: str) -> None:
    assert re.search(FORBIDDEN[what], text, re.IGNORECASE)


@pytest.mark.parametrize("text", ["../shared/data", "a/tmp/b", "https://example.org/home/x"])
def test_relative_paths_and_addresses_are_let_through(text: str) -> None:
    assert not re.search(FORBIDDEN["an absolute path"], text, re.IGNORECASE)
