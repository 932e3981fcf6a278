"""Bare numbers behind the name of what they are of: "tomatoes six, bell peppers three", "flour 500, water 350"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import Counted, by_the_piece
from pipeline.film.spoken.heats import CUES, near
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, thing_before
from pipeline.film.spoken.words import qualifiers_at
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, unit

# More of one thing is counted in no home kitchen.
_MOST = 24
# From here on a bare number is grams; behind another weight in grams from one on.
_GRAMS, _LARGEST = 40, 2500
_LIQUIDS = word_set("water milk cream stock broth wine vinegar juice beer cider")


class Named(NamedTuple):
    """A statement and the thing that was named before it."""

    said: Said | Counted
    thing: Thing


def name_first_at(atoms: Sequence[Atom], i: int, begin: int, last: object, larder: Larder) -> Named | None:
    """The count, or the grams, at ``i`` of what is named right before it, at the beginning of a phrase. ``begin``:
    where the statement before ended; ``last``: what it was."""
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or value.number.low != value.number.high:
        return None
    end = value.end
    if not (end >= len(atoms) or atoms[end - 1].stop or text_at(atoms, end) == "and"):
        return None
    thing = thing_before(atoms, begin, i, larder, back=6)
    if thing is None or thing.match is None or atoms[i - 1].stop == ".":
        return None
    if value.single < 1 and thing.end == i and (part := _spooned(atoms, i, value, qualifier, thing, last)) is not None:
        return part
    if thing.end != i and not _of_the_list(atoms, i, begin, thing, value, last):
        return None
    begins = thing.start - (text_at(atoms, thing.start - 1) in ("the", "our", "your", "my"))
    if not (begins == 0 or atoms[begins - 1].stop or text_at(atoms, begins - 1) in ("and", "then")):
        return None
    if by_the_piece(thing) and value.single <= _MOST:
        return _counted(atoms, i, value, qualifier, thing)
    return _weighed(atoms, i, value, qualifier, thing, last, begin)


def _of_the_list(atoms: Sequence[Atom], i: int, begin: int, thing: Thing, value: Value, last: object) -> bool:
    """Whether a few words stand between a name and its grams in a list of grams: "thick yogurt for dip, two fifty"."""
    grams = isinstance(last, Said) and any(amount.unit.name in ("gram", "ounce") for amount in last.amounts)
    few = i - begin <= 8 and atoms[i - 1].stop == "," and all(not atom.stop for atom in atoms[thing.start : i - 1])
    return grams and few and value.single >= 100


def _spooned(atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing, last: object) -> Named | None:
    """A part of the spoon or cup that the list goes on in: "cumin, one teaspoon; mustard seeds, half"."""
    if not isinstance(last, Said) or last.amounts[-1].unit.name not in ("teaspoon", "tablespoon", "cup"):
        return None
    if atoms[i - 1].stop != "," or by_the_piece(thing):
        return None
    amount = amount_of(value.number, last.amounts[-1].unit, said_words(atoms, i, value.end), qualifier)
    return Named(Said(i, value.end, (amount,), guessed=True), thing)


def _counted(atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing) -> Named | None:
    several = value.single > 1
    plural = thing.words.endswith("s")
    if value.single > _MOST or value.loose or (plural and not several):
        return None
    if several and not plural and atoms[i - 1].stop != ",":
        return None  # but "ancho, three"
    amount = amount_of(value.number, EACH, said_words(atoms, i, value.end), qualifier)
    return Named(Counted(i, value.end, amount, "", Thing(i, value.end, thing.words, thing.match)), thing)


def _weighed(
    atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing, last: object, begin: int
) -> Named | None:
    goes_on = isinstance(last, Said) and last.amounts[-1].unit.name in ("gram", "ounce") and i - begin <= 8
    if (thing.words.endswith("s") and not goes_on) or value.single.denominator > 1 or near(atoms, i, CUES, 8):
        return None
    if not goes_on and (value.single % 5 or value.single < _GRAMS):
        return None
    if value.single > _LARGEST:
        return None
    liquid = not goes_on and thing.words.split()[-1] in _LIQUIDS
    which = unit("milliliter" if liquid else "gram")
    amount = amount_of(value.number, which, said_words(atoms, i, value.end), qualifier)
    return Named(Said(i, value.end, (amount,), guessed=True), thing)
