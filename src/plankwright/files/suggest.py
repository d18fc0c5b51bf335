"""The nearest known word to one that is not known."""

from collections.abc import Iterable
from difflib import get_close_matches


def nearest_words(word: object, known: Iterable[str], most: int = 12) -> str:
    """A remedy: the nearest known word, else the words there are.

    >>> nearest_words("lenght", ["length", "width"])
    "Did you mean 'length'?"
    >>> nearest_words("zzz", ["length", "width"])
    'Known here: length, width.'
    """
    words = list(known)
    close = get_close_matches(str(word), words, n=1, cutoff=0.6)
    if close:
        return f"Did you mean {close[0]!r}?"
    if not words:
        return ""
    more = ", …" if len(words) > most else ""
    return f"Known here: {', '.join(words[:most])}{more}."
