"""Where a name ends though no comma says so: "6 tbsp butter melted", "1 onion finely chopped", "water at 32 C".

What was done to a thing stands behind its name, and nothing but more of the same, or a small word, behind that. In
"chopped tomatoes" a noun follows, so the name goes on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from pipeline.measure.grammar import Read

_DONE = frozenset(("beaten", "broken", "frozen", "torn"))
_HOW = frozenset(("very", "well", "freshly", "lightly", "ready", "pre"))
_THEN = frozenset((
    "and", "&", "+", "or", "then", "in", "into", "with", "to", "on", "off", "from", "at", "until", "for", "as", "if",
    "lengthwise", "crosswise", "small", "fine", "thin", "thick", "large", "well",
))  # fmt: skip
_CUT_HOW = frozenset(("in", "into", "up", "to", "across", "lengthwise", "crosswise"))
_TAKEN_OFF = frozenset(("removed", "discarded", "reserved", "trimmed", "picked"))
_OFF = frozenset((
    "skin", "skins", "seed", "seeds", "stem", "stems", "stalk", "stalks", "stone", "stones", "tail", "tails", "crust",
    "crusts", "leaves", "end", "ends", "rind", "rinds", "bone", "bones", "fat", "core", "cores", "pit", "pits", "root",
    "roots", "top", "tops", "shell", "shells", "head", "heads",
))  # fmt: skip
_WARMTH = frozenset(("cold", "warm", "hot", "lukewarm"))
_NEARLY = frozenset(("about", "around", "approx", "approx."))


_LEFT = r"(?:drained|net|peeled|shelled|pitted|stoned|trimmed|boned|cleaned|cored|prepared|cooked|picked)"
_LEFT_BEFORE = re.compile(rf"\b{_LEFT}(?:,? (?:and|&) \w+ed)?\s*$", re.IGNORECASE)
_LEFT_AFTER = re.compile(rf"\d\D{{1,12}}\b{_LEFT}(?: weight)?$", re.IGNORECASE)


def trailing(text: str, pos: int, stop: int, qualities: frozenset[str]) -> int:
    """Where the name that begins at ``pos`` ends and what was done to the thing begins; ``stop`` where all of it is
    name. ``qualities``: words that are no name by themselves."""
    words = text[pos:stop].lower().split()
    for i in range(1, len(words)):
        if not _begins(words, i):
            continue
        start = i
        while start > 1 and _is_how(words[start - 1]):
            start -= 1
        if words[i] in _TAKEN_OFF and start > 1 and words[start - 1] in _OFF:
            start -= 1
        if any(w not in qualities and not _is_how(w) and not _is_done(w) and w not in _THEN for w in words[:start]):
            return _place(text, pos, start)
    return stop


def _begins(words: list[str], i: int) -> bool:
    """Whether the word at ``i`` begins what was done to the words before it."""
    word, after = words[i], words[i + 1 :]
    if word == "cut":
        return bool(after) and after[0] in _CUT_HOW
    if word == "room" or (word == "at" and after[:1] == ["room"]):
        return any(w.startswith("temp") for w in after[:2])
    if word == "at":
        return any(w[0].isdigit() for w in after[: 2 if after and after[0] in _NEARLY else 1])
    if word[0].isdigit():  # "ground beef 80/20", "milk 2%"
        return word.endswith("%") or (not after and word.replace("/", "").isdigit() and "/" in word)
    if not after:
        return word in _WARMTH or _is_done(word)
    return _is_done(word) and (after[0] in _THEN or after[0].endswith("ly") or (len(after) == 1 and _is_done(after[0])))


def _is_done(word: str) -> bool:
    """Whether a word is a participle: "chopped", not "linseed" or "red"."""
    return word in _DONE or (len(word) > 4 and word.endswith("ed") and not word.endswith(("seed", "weed")))


def _is_how(word: str) -> bool:
    return word in _HOW or (len(word) > 4 and word.endswith("ly"))


def _place(text: str, pos: int, number: int) -> int:
    """Where the word of that number begins, with the space before it."""
    for _ in range(number):
        while text[pos].isspace():
            pos += 1
        while not text[pos].isspace():
            pos += 1
    return pos


def of_what_is_left(text: str, start: int, stop: int, inside: Iterable[Read]) -> bool:
    """Whether a bracket from ``start`` to ``stop`` weighs what is left of a thing: "400 g tin beans, drained (240 g)".
    ``inside``: what it states."""
    weights = all(read.amount.unit.kind == "mass" for read in inside)
    return weights and bool(_LEFT_BEFORE.search(text, 0, start) or _LEFT_AFTER.search(text, start, stop))
