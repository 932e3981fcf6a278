"""Misspelt words of an ingredient's name, put right one by one or not at all."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from pipeline.measure.phrase import Tokens, undoubled, vocabulary

# Shortest word that may be a misspelling of another (milk and mink, beet and beef are words), and from how many letters
# on two wrong ones are forgiven ("buttercup" is no "butternut"). Common practice, no source: chosen on a list of slips.
_MIN_LETTERS, _TWO_WRONG = 5, 10


def mend(head: Tokens, known: frozenset[str]) -> tuple[Tokens, float] | None:
    """The words with the misspelt ones put right, and how like the worst one was (0 to 1); None where a word is
    neither known nor a slip of exactly one known word, or where nothing is misspelt. ``known``: words of names."""
    listed = _listed()
    result: list[str] = []
    worst = 1.0
    for word in head:
        if word in known or word in listed:
            result.append(word)
            continue
        right = _respell(word, known)
        if right is None:
            return None
        from rapidfuzz.distance import OSA

        worst = min(worst, OSA.normalized_similarity(word, right))
        result.append(right)
    return (tuple(result), worst) if worst < 1.0 else None


@cache
def _listed() -> frozenset[str]:
    return frozenset(word for key in vocabulary().words for word in key)


@cache
def _candidates(known: frozenset[str]) -> dict[str, list[str]]:
    """The words that a slip may stand for, by their first letter."""
    result: dict[str, list[str]] = {}
    for word in known | _listed():
        if len(word) >= _MIN_LETTERS - 1:
            result.setdefault(word[0], []).append(word)
    return result


@cache
def _respell(word: str, known: frozenset[str]) -> str | None:
    """The one known word that this is a misspelling of, or None: one wrong letter or doubled ones, two wrong in a long
    word; never a wrong first letter, though the first two may be swapped. Two words equally near: neither."""
    if len(word) < _MIN_LETTERS or word[0].isdigit() or word in food_words():
        return None
    limit = 2 if len(word) >= _TWO_WRONG else 1
    short, letters = undoubled(word), set(word)
    swapped = word[1] + word[0]
    likely: list[str] = []
    for letter in dict.fromkeys(swapped[::-1]):
        for other in _candidates(known).get(letter, ()):
            if abs(len(other) - len(word)) > limit + 1 or (letter != word[0] and other[:2] != swapped):
                continue
            # One wrong letter changes the set of letters by two at most, and doubling none.
            if len(letters.symmetric_difference(other)) <= 2 * limit:
                likely.append(other)
    if not likely:
        return None
    from rapidfuzz.distance import OSA

    near: list[tuple[int, int, str]] = []
    for other in likely:
        plain = OSA.distance(word, other)
        distance = min(plain, OSA.distance(short, undoubled(other)))
        if distance <= limit:
            near.append((distance, plain, other))
    if not near:
        return None
    best = min(near)
    rivals = [n for n in near if n is not best and (n[0] == best[0] or n[1] <= best[1])]
    return None if rivals else best[2]


@cache
def food_words() -> frozenset[str]:
    """Words that USDA SR28 uses of foods: known to be no misspelling, whether the table has the food or not."""
    text = (Path(__file__).parent / "data" / "food-words.txt").read_text(encoding="utf-8")
    return frozenset(word for line in text.splitlines() if not line.startswith("#") for word in line.split())
