"""Every ingredient named in a film, with or without an amount."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pipeline.film.align.folds import stop_words
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.things import Finds
from pipeline.measure.ingredients import Match

_LONGEST = 4
# Words of the kitchen that the table knows as food, but that a cook seldom means so. Common practice, no source.
_NO_FOOD = word_set("""
    ice base stock dish clove cloves stick sticks can tin bar date dates sub chips heart tongue sprinkle
    """)


@dataclass(frozen=True, slots=True)
class Mention:
    """An ingredient's name: words ``first`` to ``last`` (one behind) of the film, and its row."""

    first: int
    last: int
    match: Match

    @property
    def row(self) -> str:
        return self.match.row.name


def mentions(plain: Sequence[str], ends: Sequence[bool], table: Finds) -> list[Mention]:
    """The names in the film's bare words, longest first, none overlapping. ``ends[i]``: a stop behind word i."""
    stop = stop_words()
    found: list[Mention] = []
    i = 0
    while i < len(plain):
        mention = None if plain[i] in stop else _at(plain, ends, i, table)
        if mention is None:
            i += 1
        else:
            found.append(mention)
            i = mention.last
    return found


def _at(plain: Sequence[str], ends: Sequence[bool], i: int, table: Finds) -> Mention | None:
    stop = stop_words()
    size = 1
    while size < _LONGEST and i + size < len(plain) and not ends[i + size - 1] and plain[i + size] not in stop:
        size += 1
    for length in range(size, 0, -1):
        words = plain[i : i + length]
        if not all(word and word[0].isalpha() for word in words) or (length == 1 and words[0] in _NO_FOOD):
            continue
        match = table.find(" ".join(words))
        # A single word is taken as it is only: a misspelt one may be any word of the language.
        if match is not None and match.how != "spelling":
            return Mention(i, i + length, match)
    return None
