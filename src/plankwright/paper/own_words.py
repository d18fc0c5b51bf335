"""The writer's own words and photographs: marked places in the Markdown that a new export keeps.

A place is what stands between two comment lines. Text outside of them is made anew; whoever
changed it anyway gets a copy of the old file, so that nothing is lost.
"""

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

_BEGIN = "<!-- your words: {key} (write below this line; a new export keeps them) -->"
_END = "<!-- end of your words: {key} -->"
_PLACE = re.compile(
    r"^<!-- your words: (?P<key>[\w-]+)[^\n]*-->\n(?P<words>.*?)\n?"
    r"^<!-- end of your words: (?P=key) -->",
    re.S | re.M,
)
_MARK = re.compile(r"^<!-- (?:your words|end of your words): [\w-]+", re.M)
_SEAL = re.compile(r"^<!-- made by plankwright: (?P<digest>[0-9a-f]{16}) -->\n?", re.M)
KEPT = "kept"  # the place for words whose own place is gone


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What a writer wrote in an earlier export.

    Parameters
    ----------
    words : by place.
    touched : something outside the places was changed, or a mark is broken: keep the old file.
    """

    words: Mapping[str, str] = field(default_factory=dict)
    touched: bool = False

    def at(self, key: str) -> str:
        """The words of a place; "" where nothing was written."""
        return self.words.get(key, "")

    def homeless(self, keys: set[str]) -> dict[str, str]:
        """Words whose place the new export does not have."""
        return {key: words for key, words in self.words.items() if key not in keys and words}


def place(key: str, words: str) -> str:
    """A place with the words that stand in it."""
    return f"{_BEGIN.format(key=key)}\n{words}\n{_END.format(key=key)}"


def read_own_words(text: str) -> OwnWords:
    """The words in an earlier export; all of the file is kept where its marks are broken."""
    found = {match["key"]: match["words"].strip("\n") for match in _PLACE.finditer(text)}
    marks = len(_MARK.findall(text))
    seal = _SEAL.search(text)
    whole = marks == 2 * len(list(_PLACE.finditer(text))) and seal is not None
    changed = seal is None or seal["digest"] != digest_of(text)
    return OwnWords({key: words for key, words in found.items() if words}, not whole or changed)


def sealed(text: str) -> str:
    """The text with a line at its end by which changes outside the places are seen."""
    return f"{text}<!-- made by plankwright: {digest_of(text)} -->\n"


def digest_of(text: str) -> str:
    """A digest of everything outside the places and the seal."""
    bare = _SEAL.sub("", _PLACE.sub(lambda match: match["key"], text))
    return hashlib.sha256("\n".join(bare.split()).encode()).hexdigest()[:16]
