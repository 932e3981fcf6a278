"""Bare numbers behind the name of what they are of: "tomatoes six, bell peppers three", "flour 500, water 350"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import Counted, by_the_piece
from pipeline.film.spoken.heats import CUES, near
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, ends_name, thing_before, thing_behind
from pipeline.film.spoken.words import SIZES, qualifiers_at
from pipeline.measure.numbers import Number
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, unit

# More of one thing is counted in no home kitchen.
_MOST = 24
# From here on a bare number is grams; behind another weight in grams from one on.
_GRAMS, _LARGEST = 40, 2500
# Spoons that a list goes on in, counts that "take" may tell, and words between a name and its number.
_SPOONS, _TAKEN, _REACH = 6, 6, 5
_TAKES = word_set("take takes")
_IDLE = word_set(
    "take i you we do use put need want add about maybe just only it's depends is are have got like say so "
    "squeeze crack peel chop slice grate cut throw toss drop buy bring cook beat grab pick"
)
_OTHER = word_set("in into on at for with to from minutes hours than and or of not no then until per if goes serves")
# What goes on behind a count that was told after its name.
_BEHIND = word_set("and only enough max maximum please whole then you i is are but that's depending will")
# Words of heating, without what is heated by its name ("oil one hundred and eighty").
_HOT = CUES - {"oil"}
_LIQUIDS = word_set("water milk cream stock broth wine vinegar juice beer cider")


class Named(NamedTuple):
    """A statement and the thing that was named before it."""

    said: Said | Counted
    thing: Thing


def name_first_at(atoms: Sequence[Atom], i: int, begin: int, last: object, larder: Larder) -> Named | None:
    """The count, or the grams, at ``i`` of what is named right before it, at the beginning of a phrase. ``begin``:
    where the statement before ended; ``last``: what it was."""
    if (one := _a_small_one(atoms, i, begin, larder)) is not None:
        return one
    qualifier, at = qualifiers_at(atoms, i)
    at += text_at(atoms, at) == "the" and text_at(atoms, at + 1) == "one"  # "onion, just the one"
    value = number_at(atoms, at)
    if value is None or value.form == "article" or (value.vague and value.number.low != value.number.high):
        return None
    if text_at(atoms, value.end) in ("no", "sorry", "wait") and atoms[value.end - 1].stop:
        return None  # "cream, a hundred, no, a hundred and fifty mils"
    qualifier = "about" if value.vague else qualifier
    thing = thing_before(atoms, begin, i, larder, back=8)
    if thing is None or thing.match is None:
        return None
    begins = thing.start - (text_at(atoms, thing.start - 1) in ("the", "our", "your", "my"))
    if not (begins <= begin or atoms[begins - 1].stop or text_at(atoms, begins - 1) in ("and", "then", "plus", "or")):
        return None
    if (pods := _in_pieces(atoms, i, value, qualifier, thing, larder)) is not None:
        return pods
    counts = by_the_piece(thing) and value.number.high <= _MOST and _together(atoms, thing, i)
    if counts and (end := _counted_to(atoms, value.end, larder)):
        return _counted(atoms, i, value, qualifier, thing, end)
    end = value.end
    if not (end >= len(atoms) or atoms[end - 1].stop or text_at(atoms, end) == "and"):
        return None
    if thing.end == i and (part := _spooned(atoms, i, value, qualifier, thing, last)) is not None:
        return part
    if value.number.low != value.number.high or any(atom.stop == "." for atom in atoms[thing.end - 1 : i]):
        return None
    if thing.end != i and not _of_the_list(atoms, i, begin, thing, value, last):
        return None
    return _weighed(atoms, i, value, qualifier, thing, last, begin)


def _a_small_one(atoms: Sequence[Atom], i: int, begin: int, larder: Larder) -> Named | None:
    """ "Onion, a small one", "Onion. Just the one." """
    if text_at(atoms, i) not in ("a", "just", "only") or not atoms[i - 1].stop or not i:
        return None
    at = i + 1 if text_at(atoms, i) == "a" or text_at(atoms, i + 1) not in ("a", "the") else i + 2
    end = next((n + 1 for n in range(at, min(at + 3, len(atoms))) if atoms[n].text == "one"), 0)
    if not end or (end < len(atoms) and not atoms[end - 1].stop) or any(atom.stop for atom in atoms[i : end - 1]):
        return None
    thing = thing_before(atoms, begin, i, larder, back=4)
    if thing is None or thing.match is None or thing.end != i or thing.words.endswith("s") or not by_the_piece(thing):
        return None
    size = next((SIZES[atom.text] for atom in atoms[i:end] if atom.text in SIZES), "")
    amount = amount_of(Number(Fraction(1), Fraction(1)), EACH, said_words(atoms, i, end))
    return Named(Counted(i, end, amount, size, Thing(i, end, thing.words, thing.match)), thing)


def _in_pieces(
    atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing, larder: Larder
) -> Named | None:
    """ "Cardamom, six pods": counted in what the thing comes in."""
    end = value.end + 1
    piece = text_at(atoms, value.end)
    if thing.end != i or value.number.high > _MOST or atoms[value.end - 1].stop or ends_name(atoms, value.end):
        return None
    if end < len(atoms) and not atoms[end - 1].stop and text_at(atoms, end) not in ("and", "plus", "then"):
        return None
    whole = larder.find([*thing.words.split(), piece])
    if whole is None or whole.how == "spelling" or not by_the_piece(named := Thing(i, end, thing.words, whole)):
        return None
    amount = amount_of(value.number, EACH, said_words(atoms, i, end), qualifier)
    return Named(Counted(i, end, amount, "", named), thing._replace(match=whole))


def _together(atoms: Sequence[Atom], thing: Thing, i: int) -> bool:
    """Whether hardly anything stands between a name and its number, and no sentence ends between them."""
    between = atoms[thing.end : i]
    if any(atom.stop == "." for atom in (atoms[thing.end - 1], *between)) or len(between) > _REACH:
        return False
    if all(atom.text in _IDLE for atom in between):
        return True
    return thing.words.endswith("s") and between[-1].stop == "," and not any(a.text in _OTHER for a in between)


def _counted_to(atoms: Sequence[Atom], end: int, larder: Larder) -> int | None:
    """Where a count ends that nothing is named behind: at a stop, before words that go on, before the next name and its
    number; sizes belong to it ("tomatoes five medium size")."""
    if goes_on(atoms, end) and text_at(atoms, end) in SIZES:
        end += 1
        end += not atoms[end - 1].stop and text_at(atoms, end) in ("size", "sized", "one", "ones")
    if end >= len(atoms) or atoms[end - 1].stop or text_at(atoms, end) in _BEHIND:
        return end
    thing = thing_behind(atoms, end, larder)
    if thing is None or thing.match is None or thing.start != end or atoms[thing.end - 1].stop:
        return None
    more = number_at(atoms, thing.end)
    return end if more is not None and more.form != "article" else None


def _of_the_list(atoms: Sequence[Atom], i: int, begin: int, thing: Thing, value: Value, last: object) -> bool:
    """Whether a few words stand between a name and its grams in a list of grams: "thick yogurt for dip, two fifty"."""
    grams = isinstance(last, Said) and any(amount.unit.name in ("gram", "ounce") for amount in last.amounts)
    few = i - begin <= 8 and atoms[i - 1].stop == "," and all(not atom.stop for atom in atoms[thing.start : i - 1])
    return grams and few and value.single >= 100


def _spooned(atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing, last: object) -> Named | None:
    """So many of the spoon or cup that the list goes on in: "cumin, one teaspoon; mustard seeds, half; salt, two"."""
    if not isinstance(last, Said) or last.amounts[-1].unit.name not in ("teaspoon", "tablespoon", "cup"):
        return None
    if atoms[i - 1].stop != "," or by_the_piece(thing) or value.number.high > (_SPOONS if value.single >= 1 else 1):
        return None
    amount = amount_of(value.number, last.amounts[-1].unit, said_words(atoms, i, value.end), qualifier)
    return Named(Said(i, value.end, (amount,), guessed=True), thing)


def _counted(atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing, end: int) -> Named | None:
    several = value.number.high > 1
    plural = thing.words.endswith("s")
    if value.loose or (plural and not several):
        return None
    if text_at(atoms, i - 1) in _TAKES and value.number.high > _TAKEN:
        return None  # "the buns take twelve": minutes
    if several and not plural and thing.end == i and atoms[i - 1].stop != "," and not _by_number(atoms, end):
        return None  # but "ancho, three", "star anise two only"
    size = next((SIZES[atom.text] for atom in atoms[value.end : end] if atom.text in SIZES), "")
    amount = amount_of(value.number, EACH, said_words(atoms, i, end), qualifier)
    return Named(Counted(i, end, amount, size, Thing(i, end, thing.words, thing.match)), thing)


def _by_number(atoms: Sequence[Atom], end: int) -> bool:
    return text_at(atoms, end) in ("only", "enough") and not atoms[end - 1].stop


def _weighed(
    atoms: Sequence[Atom], i: int, value: Value, qualifier: str, thing: Thing, last: object, begin: int
) -> Named | None:
    weighed = isinstance(last, Said) and last.amounts[-1].unit.name in ("gram", "ounce") and i - begin <= 8
    if (thing.words.endswith("s") and not weighed) or value.single.denominator > 1 or near(atoms, i, _HOT, 8):
        return None
    if not weighed and (value.single % 5 or value.single < _GRAMS):
        return None
    if value.single > _LARGEST:
        return None
    liquid = not weighed and thing.words.split()[-1] in _LIQUIDS
    which = unit("milliliter" if liquid else "gram")
    amount = amount_of(value.number, which, said_words(atoms, i, value.end), qualifier)
    return Named(Said(i, value.end, (amount,), guessed=True), thing)
