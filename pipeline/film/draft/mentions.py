"""Every ingredient named in a film, with or without an amount."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from pipeline.film.align.folds import stop_words
from pipeline.film.draft.naming import UNITS
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.things import Finds
from pipeline.measure.ingredients import Match

_LONGEST = 4
# "A cup of tea", "the juice of a lemon": no name of one thing.
_MEASURES = word_set(
    "cup cups pinch bit bag box piece bowl lot rest half top bottom kind sort all most some zest juice"
)
_BEFORE = 5  # words before a name that may make a likeness of it
# Words of the kitchen that the table knows as food, but that a cook seldom means so. Common practice, no source.
_NO_FOOD = word_set("""
    ice base stock dish clove cloves stick sticks can tin bar date dates sub chips heart tongue sprinkle
    bitter grit roll rolls wrap toast crisp crumble elbow elbows fold shell chestnut
    """)
# Cuts that are of one animal where no other is named. Common practice, no source.
_CUTS = {"thigh": "chicken thigh", "thighs": "chicken thighs", "drumstick": "chicken drumstick"}
# "Soft, like hand cream", "hard as a cheese", "it smells of hazelnuts": a likeness is no ingredient.
_LIKENESS = re.compile(
    r"(?:(?<!\bi )(?<!\byou )(?<!\bwe )(?<!\bdon't )(?<!\bwould )(?<!\bstill )\blike"
    r"|\b(?:smells?|tastes?|looks?) (?:of|like)|\b(?:as|so) (?!much|many|little|few|well|long|soon)[a-z]+ as"
    r"|\bthan|\bcolou?r of|\bsize of|\bas if it (?:was|were)|(?<!well)(?<!such) as(?= an? ))"
    r"(?: (?:a|an|the|some|your|my))?"
    r"(?: (?!th|of|to|with|and|or)[a-z]+)? $"
)

# "Salt in the water", "yogurt for the bread", "no sugar": an amount that follows is of something else.
_PLACED = re.compile(
    r"(?:^| |\b(?P<verb>[a-z]+) )(?:in|into|inside|onto|on|over|under|for|from|to|off|around|without|no|not|none of)"
    r"(?: (?:a bit of|a little|some))?(?: (?:a|an|the|your|my|our|that|this))?"
    r"(?: (?!of|to|with|and|or|in|for|is)[a-z]+)? $"
)

# "Fold in the flour", "pour over the juice": it is what goes in.
_PUTS = word_set("""
    put pour fold stir whisk rub mix beat add tip throw toss bring drop crumble sprinkle squeeze grate drizzle spoon
    scrape work knead goes go comes come crack sift pop chuck ladle scatter spread pile
    """)

#: A food before one of these is none: "a coffee cup", "two bacon sandwiches". Common practice, no source.
VESSELS = word_set("""
    cup cups mug mugs spoon spoons glass bowl bowls plate plates dish jug towel towels knife press grater cooker
    tin tins tray trays jar jars box boxes bottle bottles pan pot peeler squeezer market shop tree trees paper
    basin basins
    """)
_MADE_OF = word_set("""
    sandwich sandwiches pie pies tart tarts cake cakes muffin muffins soup soups stew curry salad salads pizza pizzas
    roll rolls burger burgers toastie toasties cookie cookies biscuit biscuits milkshake milkshakes smoothie pudding
    omelette pancake pancakes jam sauce loaf
    """)


def part_of_more(plain: Sequence[str], ends: Sequence[bool], last: int) -> bool:
    """Whether what is named up to word ``last`` (one behind) only tells of which kind a vessel or a dish is."""
    return last < len(plain) and not ends[last - 1] and plain[last] in VESSELS | _MADE_OF


@dataclass(frozen=True, slots=True)
class Mention:
    """An ingredient's name: words ``first`` to ``last`` (one behind) of the film, and its row; ``like``: it only says
    what something is like; ``placed``: it is where something goes, or what that is for ("salt in the water")."""

    first: int
    last: int
    match: Match
    like: bool = False
    placed: bool = False

    @property
    def row(self) -> str:
        return self.match.row.name

    def name(self, plain: Sequence[str]) -> str:
        """Its name, by the film's bare words; of a cut with its animal."""
        words = " ".join(plain[self.first : self.last])
        return _CUTS.get(words, words)


def mentions(plain: Sequence[str], ends: Sequence[bool], table: Finds) -> list[Mention]:
    """The names in the film's bare words, longest first, none overlapping. ``ends[i]``: a stop behind word i."""
    stop = stop_words()
    found: list[Mention] = []
    i = 0
    while i < len(plain):
        mention = None if plain[i] in stop else _at(plain, ends, i, table)
        if mention is None or part_of_more(plain, ends, mention.last):
            i = mention.last if mention else i + 1
            continue
        led = _led(plain, ends, i)
        found.append(replace(mention, like=bool(_LIKENESS.search(led)), placed=_is_placed(led)))
        i = mention.last
    return found


def _led(plain: Sequence[str], ends: Sequence[bool], i: int) -> str:
    """The few words of its clause before word ``i``, each with a space behind it."""
    low = i
    while low > 0 and i - low < _BEFORE and not ends[low - 1]:
        low -= 1
    return " ".join([*plain[low:i], ""])


def _is_placed(led: str) -> bool:
    m = _PLACED.search(led)
    return m is not None and m["verb"] not in _PUTS


def _at(plain: Sequence[str], ends: Sequence[bool], i: int, table: Finds) -> Mention | None:
    stop = (stop_words() | FIRST_WORDS) - {"of"}
    size = 1
    while size < _LONGEST and i + size < len(plain) and not ends[i + size - 1] and plain[i + size] not in stop:
        size += 1
    for length in range(size, 0, -1):
        words = plain[i : i + length]
        if not all(word and word[0].isalpha() for word in words) or (length == 1 and words[0] in _NO_FOOD):
            continue
        if words[:2] == ["ice", "cold"]:
            continue
        if words[-1] == "of" or (length > 1 and words[1] == "of" and words[0] in _MEASURES | UNITS):
            continue
        name = " ".join(words)
        match = table.find(_CUTS.get(name, name))
        if "of" in words and match is not None and match.how not in ("name", "alias"):
            continue  # "bicarbonate of soda" is a name, "a wall of butter" is none
        # A single word is taken as it is only: a misspelt one may be any word of the language.
        if match is not None and match.how != "spelling":
            return Mention(i, i + length, match)
    return None
