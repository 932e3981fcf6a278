"""A cook's words for an ingredient, taken apart: what each word does, where the name ends and the rest begins."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Literal, NamedTuple

from pipeline.measure.units import find_unit

Kind = Literal["plain", "liquid", "state", "cut", "strong"]
Tokens = tuple[str, ...]

_TOKEN = re.compile(r"[a-z]+|\d+(?:[.,/]\d+)*%?")
# From one of these words on, the line speaks of something else: what it is for, what could stand in for it.
_ENDS = frozenset(
    {"plus", "for", "with", "without", "in", "from", "to", "at", "such", "as", "if", "about", "until", "then"}
    | {"preferably", "like", "see", "on", "into", "depending"}
)
_INITIALS = re.compile(r"\b(?:[a-z]\.){2,}")
_SEGMENT = re.compile(r"[,;:()\[\]]|\s[-–—]\s|[–—]")
_SLASH = re.compile(r"(?<=[^\W\d_])\s*/\s*(?=[^\W\d_])")  # "sooji / fine semolina"
# Words whose plural the rule would get wrong, or that end in s without being plural. Peppers are no pepper: the spice
# has no plural (see Table.index).
_SINGULAR = {
    "leaves": "leaf", "halves": "half", "loaves": "loaf", "cookies": "cookie", "brownies": "brownie",
    "anchovies": "anchovy", "molasses": "molasses", "hummus": "hummus", "couscous": "couscous",
    "asparagus": "asparagus", "citrus": "citrus", "octopus": "octopus", "schnapps": "schnapps", "fungus": "fungus",
    "bouillabaisse": "bouillabaisse", "mangoes": "mango", "shoes": "shoe", "cloves": "clove", "olives": "olive",
    "chives": "chive", "endives": "endive", "cacti": "cactus", "geese": "goose", "smoothies": "smoothie",
    "veggies": "veggie", "peppers": "peppers",
    "pies": "pie", "calves": "calf", "knives": "knife", "ramps": "ramp", "gas": "gas",
}  # fmt: skip


def undoubled(word: str) -> str:
    """One letter for each doubled one, the commonest slip: "cinammon" and "cinnamon" are alike."""
    return "".join(c for i, c in enumerate(word) if i == 0 or c != word[i - 1])


# "pepppers" are as plural as peppers.
_MISSPELT = {undoubled(word): one for word, one in _SINGULAR.items() if undoubled(word) != word}


class Word(NamedTuple):
    """What a word (or a group of words) does: see ``data/words.csv``."""

    kind: Kind
    means: tuple[str, ...]
    against: frozenset[str]


class Vocabulary(NamedTuple):
    """The closed list of words that may stand beside a name. ``longest`` is the most tokens in one entry."""

    words: dict[Tokens, Word]
    spellings: dict[str, Tokens]
    longest: int


def singular(word: str) -> str:
    """The singular of one lower-case word, by rule; the same rule runs over names and over what a cook typed."""
    if len(word) < 4 or not word.endswith("s"):
        return word
    known = _SINGULAR.get(word) or _MISSPELT.get(undoubled(word))
    if known is not None:
        return known
    if word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("oes", "ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1]


def plain_text(text: str) -> str:
    """Lower case, without accents, apostrophes, fraction signs' marks and the dots of initials: "Crème Fraîche"
    becomes "creme fraiche", "A.P." "ap"."""
    low = text.lower()
    if "." in low:
        low = _INITIALS.sub(lambda m: m.group().replace(".", ""), low)
    if not low.isascii():
        low = low.replace("œ", "oe").replace("æ", "ae").replace("ø", "o").replace("’", "").replace("ʼ", "")
        low = "".join(c for c in unicodedata.normalize("NFD", low) if not unicodedata.combining(c))
    return low.replace("'", "").replace("&", " and ")


def tokens(text: str) -> Tokens:
    """The words of a name or phrase, singular, one spelling each."""
    if text.isascii() and text.islower() and text.replace(" ", "").isalpha():
        raw = text.split()  # most of the table: nothing to strip, and the table is read at every start
    else:
        raw = _TOKEN.findall(plain_text(text))
    known = _known_tokens()
    result: list[str] = []
    for word in raw:
        result += known.get(word) or known.setdefault(word, _token(word))
    return tuple(result)


@cache
def _known_tokens() -> dict[str, Tokens]:
    """Words already brought to their one form; the other spellings to begin with."""
    return dict(vocabulary().spellings)


def _token(word: str) -> Tokens:
    one = singular(word)
    return vocabulary().spellings.get(one, (one,))


@cache
def vocabulary() -> Vocabulary:
    """``data/words.csv``, read once."""
    text = (Path(__file__).parent / "data" / "words.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    spellings = {r["word"]: tuple(r["means"].split()) for r in rows if r["kind"] == "spelling"}
    words: dict[Tokens, Word] = {}
    for r in rows:
        if r["kind"] == "spelling":
            continue
        key = tuple(singular(w) for w in r["word"].split())
        means = tuple(m for m in r["means"].split(";") if m)
        words[key] = Word(r["kind"], means, frozenset(a for a in r["against"].split(";") if a))  # type: ignore[arg-type]
    return Vocabulary(words, spellings, max(len(key) for key in words))


class Phrase(NamedTuple):
    """``head``: where the name should stand; ``whole``: the same before "in", "for" ... cut it short ("tuna in oil");
    ``tails``: the preparation after commas and in parentheses; ``other``: what stands after "or" ("almond or oat
    milk" shares its last words)."""

    head: Tokens
    whole: Tokens
    tails: tuple[Tokens, ...]
    other: Tokens


def _says_nothing(words: Tokens) -> bool:
    """Whether all words are in the closed list, so that the name must still come: "boneless, skinless chicken"."""
    return all(w is not None for _, w in split_words(words))


def take_apart(text: str) -> Phrase:
    """A cook's phrase in its parts. Everything from "plus", "for", "with" ... on is left out of its segment."""
    segments: list[Tokens] = []
    whole: Tokens = ()
    other: Tokens = ()
    for piece in _SEGMENT.split(_SLASH.sub(" or ", text) if "/" in text else text):
        words = tokens(piece)
        if not words:
            continue
        kept: list[str] = []
        for group, word in split_words(words):
            if word is None and group[0] == "or":
                other = words[words.index("or") + 1 :]
                break
            if word is None and group[0] in _ENDS:
                break
            kept += group
        if not segments:
            whole = words
        if not kept and not segments:
            return Phrase((), whole, (), ())
        segments.append(tuple(kept))
        if other:
            break
    while len(segments) > 1 and _says_nothing(segments[0]):
        segments[:2] = [segments[0] + segments[1]]
        whole = segments[0]
    if not segments:
        return Phrase((), (), (), ())
    return Phrase(segments[0], whole, tuple(s for s in segments[1:] if s), other)


def split_words(words: Tokens) -> list[tuple[Tokens, Word | None]]:
    """The words with what each does, the longest listed group first; None for a word that is not in the list."""
    known = vocabulary()
    result: list[tuple[Tokens, Word | None]] = []
    i = 0
    while i < len(words):
        for size in range(min(known.longest, len(words) - i), 0, -1):
            found = known.words.get(words[i : i + size])
            if found is not None:
                result.append((words[i : i + size], found))
                i += size
                break
        else:
            percent = words[i].endswith("%")
            result.append((words[i : i + 1], Word("plain", (), frozenset()) if percent else None))
            i += 1
    return result


def is_preparation(tail: Tokens) -> bool:
    """Whether what follows the comma is a preparation; a lone strange word may be half of the name."""
    if len(tail) > 1:
        return True
    return tail[0].endswith(("ed", "en", "ly")) or all(w is not None for _, w in split_words(tail))


def turned(head: Tokens) -> Iterator[Tokens]:
    """A noun after "of" brought before: "grated zest of 1 lemon" as "grated lemon zest", "pinch of salt" as "salt"."""
    at = next((i for i, word in enumerate(head[1:-1], 1) if word in ("of", "from")), None)
    if at is None:
        return
    beside: Tokens = ()
    content: list[Tokens] = []
    for part in (head[:at], head[at + 1 :]):
        groups = [(words, word) for words, word in split_words(part) if not words[0][0].isdigit()]
        beside += tuple(w for words, word in groups if word is not None for w in words)
        content.append(tuple(w for words, word in groups if word is None for w in words))
    before, after = content
    if not after:
        return
    yield (*beside, *after, *before)
    if before and all(find_unit(word) is not None for word in before):
        if "can" in before or "tin" in before:
            yield ("canned", *beside, *after)
        yield (*beside, *after)
