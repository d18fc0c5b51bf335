"""What the person excused: a finding lifts a broken rule only at the place that it names.

A finding excuses a fault of its own code whose place it names: the piece, the wall or the fixed
thing. A joint offset concerns the four pieces of two joints; the finding may name any of them,
and when it names several, all must be among the four. Other faults are never excused.
"""

import re

from plankwright.checker.verdict import Fault, Verdict
from plankwright.model.findings import Finding

EXCUSABLE = ("narrow-row", "short-piece", "joint-offset", "gap-uncovered", "gap-too-small")
PIECE = re.compile(r"\d+\.\d+\.\d+[a-z]*")


def judge(faults: list[Fault], findings: tuple[Finding, ...], notes: tuple[str, ...]) -> Verdict:
    """The verdict, with the excused faults apart."""
    lifted: dict[str, list[frozenset[str]]] = {}
    for finding in findings:
        if finding.code in EXCUSABLE:
            lifted.setdefault(finding.code, []).append(_named(finding.where))
    excused = [fault for fault in faults if _is_excused(fault, lifted.get(fault.code, []))]
    hidden = set(map(id, excused))
    return Verdict(
        tuple(fault for fault in faults if id(fault) not in hidden), tuple(excused), notes
    )


def _named(place: str) -> frozenset[str]:
    """Piece ids in a place, or the place itself when it names none."""
    return frozenset(PIECE.findall(place)) or frozenset([place.strip()])


def _is_excused(fault: Fault, lifted: list[frozenset[str]]) -> bool:
    names = _named(fault.place)
    return any(excuse and excuse <= names for excuse in lifted)
