"""Which food an amount is of where its words alone don't say: by what it weighs, by its sound; or of nothing known."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from pipeline.film.align.folds import bare, stop_words
from pipeline.film.draft.parts import made_here
from pipeline.film.draft.scenes import rows
from pipeline.film.sound import best_alike, sound
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.things import Finds
from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import compare
from pipeline.recipe.names import singular

# Words in the place of a name that name nothing, alone or as its last word.
EMPTY = word_set("""
    it them that this those these each one ones stuff everything which what both meat mixture mix batter
    liquid speck thing things mine yours goodness business lot lots bit bits rest left leftover over
    """)
#: A name does not begin with a measure: its number was lost.
UNITS = word_set("""
    cup cups tablespoon tablespoons teaspoon teaspoons gram grams ounce ounces pound pounds litre litres liter liters
    millilitres milliliters mils kilo kilos pint pints quart quarts stick sticks can cans
    """)
#: Words that tell of a kind and name nothing alone: "half a cup of the red".
COLOURS = word_set("red green white brown black yellow dark light pink blue orange-coloured")
# Measures of a little: "two fifty grams, pinch of salt" are two amounts. Common practice, no source.
SMALL = word_set("pinch pinches handful handfuls splash dash knob drizzle sprinkle sprinkling squeeze grind twist")
# How machines write the names of two words. Common practice, no source.
_JOINED = {"allpurpose": "all-purpose flour", "selfraising": "self-raising flour", "selfrising": "self-rising flour"}


@cache
def _everyday() -> tuple[str, ...]:
    return tuple(word for row in rows("everyday.txt") for word in row)


def by_sound(name: str, named: Iterable[str]) -> str:
    """The food that an unknown word may be misheard for: one ``named`` elsewhere in the film, or an everyday one;
    "" where none sounds so."""
    word = name.split()[-1] if name else ""
    if len(sound(word)) < 2 or word in stop_words():
        return ""
    return best_alike(word, named) or best_alike(word, _everyday())


def whole_name(name: str) -> str:
    """A name that captions ran together, as the table has it: "allpurpose"."""
    return " ".join(_JOINED.get(word, word) for word in name.split())


def completed(name: str, before: Sequence[str], table: Finds, kind: bool = False) -> tuple[str, Row | None]:
    """A name that says only half of it, with the other half from the foods named ``before`` (the nearest last): "a
    tablespoon of juice" of a lime, "half a cup of the white" of sugar, "the shoulder" of pork; else as it is.
    ``kind``: it surely says of what kind."""
    for food in reversed(before):
        if made_here(food.split()[-1]):
            continue
        for longer in (f"{singular(food)} {name}", f"{name} {food.split()[-1]}")[:: -1 if kind else 1]:
            found = table.find(longer)
            if found is not None and found.how != "spelling":
                return longer, found.row
    return name, None


def names_nothing(name: str, flat: bool, of: bool) -> bool:
    """Whether words that the table doesn't know are no ingredient's name. ``flat``: the captions have no stops, so
    that words behind an amount may be anything's; ``of``: they stand behind "of"."""
    words = name.split()
    if not words or words[-1] in EMPTY or words[-1] in _cooking() or made_here(words[-1]):
        return True
    if words[0] in UNITS or any(
        "'" in word or word in stop_words() or not re.search(r"[^\W\d]{2}", word) for word in words
    ):
        return True
    return flat and not of


@cache
def _cooking() -> frozenset[str]:
    return frozenset(bare(word) for name in ("kitchen.txt", "verbs.txt") for row in rows(name) for word in row)


def weighs(amounts: Sequence[Amount], row: Row | None, size: str = "") -> str:
    """Whether a weight and a volume said together can be of this food: "agrees", "disagrees" or "unknown"."""
    masses = [a for a in amounts if a.unit.kind == "mass"]
    volumes = [a for a in amounts if a.unit.kind == "volume"]
    if row is None or not masses or not volumes:
        return "unknown"
    told = {compare(a, b, row, size).status for a in masses for b in volumes}
    if "disagrees" in told:
        return "disagrees"
    return "agrees" if told & {"agrees", "loose"} else "unknown"
