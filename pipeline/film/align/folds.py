"""A word, folded: what is left of it when inflection, accents and a machine's ear are taken away.

The stemmer is the first step of Porter's (M. F. Porter, "An algorithm for suffix stripping", Program 14 (3),
1980), which is all that English kitchen words need; a library's full stemmer costs more to import and maps
"oven" beside "over".
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from pathlib import Path

_VOWEL = re.compile(r"[aeiouy]")
_EDGE = re.compile(r"^[^\w#]+|[^\w]+$")
_DOUBLE = frozenset("bdfgklmnprtz")


def rows(name: str) -> list[list[str]]:
    """The lines of a data file as lists of words, without comments."""
    text = (Path(__file__).parent / "data" / name).read_text(encoding="utf-8")
    return [line.split() for line in text.splitlines() if line.strip() and not line.startswith("#")]


def bare(word: str) -> str:
    """Lower case, without accents and without punctuation at either end."""
    word = _EDGE.sub("", word.casefold().replace("’", "'"))
    if word.isascii():
        return word
    return "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))


@cache
def stop_words() -> frozenset[str]:
    return frozenset(word for row in rows("stop.txt") for word in row)


@cache
def pale_words() -> frozenset[str]:
    """Folded words of an ingredient's name that say little about which it is."""
    return frozenset(fold(word) for row in rows("pale.txt") for word in row)


@cache
def _sounds() -> dict[str, str]:
    return {stem(bare(other)): stem(bare(row[0])) for row in rows("sounds.txt") for other in row[1:]}


@cache
def kin() -> dict[str, tuple[str, ...]]:
    """The families that a folded word belongs to, each by its name ("~3")."""
    found: dict[str, list[str]] = {}
    for number, row in enumerate(rows("kin.txt")):
        for word in row:
            families = found.setdefault(fold(word), [])
            if f"~{number}" not in families:
                families.append(f"~{number}")
    return {word: tuple(families) for word, families in found.items()}


def stem(word: str) -> str:
    """The word without its ending: "chopped", "chopping" and "chops" become "chop"."""
    if len(word) < 4 or not word.isalpha():
        return word.removesuffix("'s")
    if word.endswith("ies"):
        word = word[:-3] + "y"
    elif word.endswith(("sses", "shes", "ches", "xes", "oes")):
        word = word[:-2]
    elif word.endswith("ves"):
        word = word[:-3] + "f"
    elif word.endswith("s") and not word.endswith(("ss", "us", "is")):
        word = word[:-1]
    for ending in ("ing", "ied", "ed"):
        if word.endswith(ending) and len(word) - len(ending) >= 2 and _VOWEL.search(word[: -len(ending)]):
            word = word[: -len(ending)] + ("y" if ending == "ied" else "")
            if len(word) > 3 and word[-1] == word[-2] and word[-1] in _DOUBLE:
                word = word[:-1]
            break
    if word.endswith("e") and len(word) > 3:
        word = word[:-1]
    if word.endswith("y") and len(word) > 3 and word[-2] not in "aeou":
        word = word[:-1] + "i"
    return word


@lru_cache(maxsize=20_000)
def fold(word: str) -> str:
    """The folded word, "" where nothing is left of it."""
    plain = bare(word)
    stemmed = stem(plain)
    return _sounds().get(stemmed, stemmed)


def near_words(vocabulary: frozenset[str]) -> dict[str, str]:
    """Each word of five letters or more, and each that is left of it when a letter falls out: so misspelt and
    misheard words find it. Only what is left of one word alone is kept."""
    found: dict[str, str | None] = {}
    for word in vocabulary:
        if len(word) < 5 or not word.isalpha():
            continue
        for part in {word, *(word[:i] + word[i + 1 :] for i in range(1, len(word)))}:
            found[part] = word if found.get(part, word) == word else None
    return {part: word for part, word in found.items() if word is not None}
