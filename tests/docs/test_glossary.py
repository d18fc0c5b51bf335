"""The glossary holds every word of the trade, and every name it gives is where it says."""

import re

import pytest
from docs.build import ROOT

PACKAGE = ROOT / "src" / "plankwright"
ROWS = [
    tuple(cell.strip() for cell in line.strip("|").split("|"))
    for line in (ROOT / "GLOSSARY.md").read_text(encoding="utf-8").splitlines()
    if line.startswith("| ") and not line.startswith(("| word", "| ---"))
]
DESIGNED = """
board, row, stretch, piece, near, far, wall side, room side, tongue, groove, lip, starter,
end piece, offcut, shelf, end joint, joint offset, H-joint, stair-step, rip, crosscut, kerf, sliver,
expansion gap, vapor barrier, underlayment, start wall, start line, row direction, laying direction,
taper, laid row width, expansion break, transition, baseboard, quarter round (shoe), patch,
self-leveling compound, finding, certificate
"""
WORDS = [word.strip() for word in DESIGNED.split(",")]


def test_every_word_is_there_once() -> None:
    found = [word.strip() for row in ROWS for word in row[0].rstrip(" *").split(",")]
    assert [word for word in WORDS if found.count(word) != 1] == []
    assert len(found) == len(set(found))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_the_name_stands_in_its_module(row: tuple[str, ...]) -> None:
    _, meaning, name, module = row
    assert meaning
    if module == "–":
        assert name == "–"
        return
    text = (PACKAGE / module.strip("`")).read_text(encoding="utf-8")
    assert re.search(rf"\b{re.escape(name.strip('`'))}\b", text), (name, module)
