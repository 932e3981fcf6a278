"""Words that sound alike, for captions that a machine made: "assault" for a salt."""

from __future__ import annotations

import re
from collections.abc import Iterable

# Of two words that sound alike, so many letters must be the same ones (difflib's ratio): "assault" and salt.
_LETTERS = 0.5
# Letters that ears and machines take for one another, and those that are hardly heard. From memory.
_CLASSES = str.maketrans("vzdgbqj", "fstkpkx")
_SPELLING = (
    (r"'s$", ""), (r"^(?:kn|gn)", "n"), (r"^wr", "r"), (r"ph", "f"), (r"t?ch|sh", "x"), (r"dg", "x"),
    (r"th", "f"), (r"ck", "k"), (r"c(?=[eiy])", "s"), (r"c", "k"), (r"(?<=.)x", "x"),
)  # fmt: skip


def sound(word: str) -> str:
    """The consonants of a word as they are heard: "salt" and "assault" are one, "celery" and "salary"."""
    for pattern, by in _SPELLING:
        word = re.sub(pattern, by, word)
    word = re.sub(r"[^a-z]|[aeiouyhw]", "", word.translate(_CLASSES))
    return re.sub(r"(.)\1+", r"\1", word)


def best_alike(word: str, others: Iterable[str]) -> str:
    """Of the ``others``, the one that sounds as ``word`` does and is written most like it; "" where none is."""
    heard = sound(word)
    if len(heard) < 2:
        return ""
    from difflib import SequenceMatcher

    fit = [
        (ratio, other)
        for other in others
        if sound(other) == heard and (ratio := SequenceMatcher(None, word, other).ratio()) >= _LETTERS
    ]
    return max(fit)[1] if fit else ""
