"""Amounts said without their article or once for several things: "Cup of sugar, pinch of salt", "a teaspoon each of
cumin and paprika"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.measures import more_behind
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, thing_before, thing_behind
from pipeline.film.spoken.words import says, unit_at
from pipeline.measure.numbers import Number
from pipeline.measure.rounding import amount_of

#: Units that are said without "a" where a phrase begins.
BARE_UNITS = word_set(
    "cup tablespoon teaspoon pound kilo pint quart litre liter stick pinch dash handful bunch knob tin can packet "
    "sprig wedge"
)
_BEGINS = word_set("and plus then add with also next our your my")
# From here on nothing is counted in a kitchen.
_NOT_COUNTED = 100
_DRUNK = ("tea", "coffee")


def dropped_at(atoms: Sequence[Atom], i: int, larder: Larder) -> Said | None:
    """ "Cup of sugar", "Kilo and a half of pork": only where a phrase begins, and only of what the table knows."""
    if atoms[i].text in BARE_UNITS and says(atoms, i - 2, "the", "whole"):
        return _the_whole(atoms, i, larder)
    if atoms[i].text not in BARE_UNITS or not (
        i == 0 or atoms[i - 1].stop or atoms[i - 1].text in _BEGINS | {"that", "the", "this"}
    ):
        return None
    got = unit_at(atoms, i, figures=False)
    if got is None or atoms[got[1] - 1].stop:
        return None
    one = Fraction(1)
    number, end = more_behind(atoms, Number(one, one), got[0], got[1])
    if number.low > 1 and text_at(atoms, i - 1) in ("that", "the", "this"):
        return Said(
            i, end, (amount_of(number, got[0], said_words(atoms, i, end)),)
        )  # "in go the thighs, that pound and a half"
    if text_at(atoms, end) != "of" or atoms[end - 1].stop or (i and text_at(atoms, i - 1) in ("that", "the", "this")):
        return None
    thing = thing_behind(atoms, end, larder)
    if thing is None or thing.match is None or thing.match.how == "spelling" or thing.words in _DRUNK:
        return None
    return Said(i, end, (amount_of(number, got[0], said_words(atoms, i, end)),), article=True)


def _the_whole(atoms: Sequence[Atom], i: int, larder: Larder) -> Said | None:
    """ "Oil, the whole cup", "the whole tin of tomatoes"."""
    got = unit_at(atoms, i, figures=False)
    if got is None:
        return None
    ends = got[1] >= len(atoms) or atoms[got[1] - 1].stop
    behind = None if ends else thing_behind(atoms, got[1], larder)
    before = thing_before(atoms, max(i - 6, 0), i - 2, larder, back=4)
    named = behind is not None and behind.match is not None and text_at(atoms, got[1]) == "of"
    if not named and not (ends and before is not None and before.end == i - 2):
        return None
    one = Fraction(1)
    return Said(i, got[1], (amount_of(Number(one, one), got[0], said_words(atoms, i, got[1])),), article=False)


def shared(atoms: Sequence[Atom], end: int, larder: Larder) -> list[Thing]:
    """The things of "each of cumin and paprika", or of "each salt and pepper", behind an amount that ends at ``end``;
    none where fewer than two are named."""
    if text_at(atoms, end) != "each" or atoms[end - 1].stop or atoms[end].stop:
        return []
    things: list[Thing] = []
    at = end + 1
    while (thing := thing_behind(atoms, at, larder)) is not None and thing.match is not None:
        things.append(thing)
        at = thing.end
        if text_at(atoms, at) == "and" and atoms[at - 1].stop != ".":
            at += 1
        elif at >= len(atoms) or atoms[at - 1].stop != ",":
            break
    return things if len(things) > 1 else []


def grams_before(
    atoms: Sequence[Atom], start: int, end: int, number: Number, larder: Larder, in_grams: bool = False
) -> Thing | None:
    """What a bare number of grams is of: "Two fifty flour, one twenty five butter, seventy five sugar." """
    begins = start == 0 or bool(atoms[start - 1].stop) or atoms[start - 1].text in _BEGINS
    if not begins or number.low != number.high or number.low % 5 or not 40 <= number.low <= 2000:
        return None
    thing = thing_behind(atoms, end, larder)
    if thing is None or thing.match is None or thing.match.how == "spelling" or thing.start != end:
        return None
    if in_grams and number.low >= _NOT_COUNTED:
        pass  # "three hundred cod, one fifty prawns", where grams are spoken of
    elif thing.words.endswith("s") or any(size in thing.match.row.counts for size in ("", "medium", "large")):
        return None
    ends = thing.end >= len(atoms) or bool(atoms[thing.end - 1].stop) or says(atoms, thing.end, "and")
    return thing if ends else None
