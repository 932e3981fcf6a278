"""Measures that are named ahead of their number: "one cup, and in grams it's fifteen", "in Fahrenheit you do times two,
plus thirty, so three hundred and ninety", "for the ounce people, that's four"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.words import says, unit_at
from pipeline.measure.amount import Amount
from pipeline.measure.heat import Scale
from pipeline.measure.ingredients import Match
from pipeline.measure.units import Unit, factor, unit

#: Names of scales. A letter is one only behind a figure.
SCALES: dict[str, Scale] = {
    "fahrenheit": "F", "farenheit": "F", "fahrenheits": "F", "f": "F", "℉": "F", "celsius": "C", "celcius": "C",
    "centigrade": "C", "c": "C", "℃": "C",
}  # fmt: skip
#: Measures that somebody speaks in.
MEASURES = word_set(
    "grams grammes ounces cups pounds kilos kilograms millilitres milliliters mils mls ml litres liters tablespoons "
    "teaspoons pints quarts sticks"
)
_SINGULAR = word_set("gram ounce cup pound kilo millilitre milliliter mil litre liter")
#: Grams or millilitres, by what they say once more; those of the scale are grams.
WEIGHED = word_set("weight scale scales weigh weighing weighed")
METRIC = WEIGHED | {"metric"}
_PEOPLE = word_set("people folk folks crowd lot users person cooks bakers brigade side")
# Before a measure that is spoken in, and between these and it.
_IN = word_set("in by on for")
_OWN = word_set("the your my our their his her these those proper good old plain american metric")
# Words that speak of nothing between a measure and its number. Pronouns, joining words, and verbs of telling.
_LEADS = word_set("""
    that's it's is that it would be comes to about roughly so thats this these those they them he she we you i me us
    tell tells told say says said think reckon believe guess suppose make makes call read reads want need get gets do
    does did have has i've you've i'd you'd we'd you'll it'll that'll which works work out come came been was were are
    will should could might must on at of for the a an my your our their his her in by if when then and or but well
    now just maybe around something like near nearly almost exactly only paper page list card packet label bag book
    side scale scales dial oven thermometer probe money people folk folks crowd lot users one ones here there down
    written ends up goes gives shows
    """)
_SUMS = word_set("times plus minus add take by double")
_FARTHEST = 14
_ENDS = word_set("and or so but then now")


class Ahead(NamedTuple):
    """A measure named at ``at``: ``word`` as said. ``plain``: nothing but words that say nothing stand between it and
    the number; ``spoken_in``: it is one that somebody speaks in ("in grams")."""

    at: int
    word: str
    plain: bool
    spoken_in: bool


def ahead_of(atoms: Sequence[Atom], start: int) -> Ahead | None:
    """The measure named before the number at ``start``, in its sentence or right before it."""
    plain = True
    if text_at(atoms, start - 1) in _SUMS:
        return None  # "times two, plus thirty"
    for n in range(start - 1, max(start - _FARTHEST, -1), -1):
        word, stop = atoms[n].text, atoms[n].stop
        if stop == "." and n < start - 1:
            return None
        if (found := _named(atoms, n)) is not None:
            at, spoken_in = found
            return (
                Ahead(at, word, plain, spoken_in) if spoken_in or n == start - 1 or (plain and n > start - 4) else None
            )
        if stop == ".":
            return None
        if word[0].isdecimal() or word in FIRST_WORDS - {"a", "an"}:
            if text_at(atoms, n - 1) not in _SUMS:
                return None
        elif word not in _LEADS and word not in _SUMS:
            plain = False
    return None


def _named(atoms: Sequence[Atom], n: int) -> tuple[int, bool] | None:
    """Where the words begin with which the measure at ``n`` is named, and whether it is one that is spoken in."""
    word = atoms[n].text
    many = text_at(atoms, n + 1) in _PEOPLE and not atoms[n].stop
    known = word in MEASURES or word in METRIC or (len(word) > 1 and word in SCALES) or (many and word in _SINGULAR)
    if not known:
        return None
    at = n
    while at > max(n - 3, 0) and atoms[at - 1].text in _OWN and not atoms[at - 1].stop:
        at -= 1
    before = text_at(atoms, at - 1)
    if word.startswith("weigh") and word != "weight":
        return (at - 1, True) if before in ("you", "i", "you're", "we") and text_at(atoms, at - 2) == "if" else None
    if at and before in _IN and not atoms[at - 1].stop:
        if before == "on" and word not in WEIGHED:
            return None
        return at - 1, True
    if word in METRIC or not (at == 0 or atoms[at - 1].stop or before in ("and", "or")):
        return None
    return at, False


def measure_ahead(
    atoms: Sequence[Atom], start: int, end: int, number: Fraction, told: Amount | None, match: Match | None
) -> tuple[Unit, Ahead] | None:
    """The unit of a bare number from ``start`` to ``end`` by the measure that is named ahead of it; ``told``: the
    amount before, that it may say once more, of ``match``."""
    if not ends(atoms, end) or (found := ahead_of(atoms, start)) is None or found.word in SCALES:
        return None
    which = unit_of(found.word, number, told, match)
    if which is None:
        return None
    near = found.plain and found.spoken_in and (told is not None or start - found.at <= 5)
    return (which, found) if near or (told is not None and alike(told, number, which)) else None


def unit_of(word: str, number: Fraction, told: Amount | None, match: Match | None) -> Unit | None:
    """The unit that a measure's name means: "metric" and "by weight" by what was told before."""
    if word not in METRIC:
        got = unit_at((Atom(word, 0),), 0, figures=True)
        return got[0] if got is not None else None
    if told is None or told.unit.kind not in ("mass", "volume", "count"):
        return None
    which = unit("gram")
    if word == "metric" and told.unit.kind == "volume" and match is not None and match.row.form == "liquid":
        which = unit("milliliter")
    if told.unit.kind == "mass" and number <= 20:
        which = unit("kilogram")
    return which if told.unit.kind == "count" or alike(told, number, which) else None


# Grams a millilitre between which all that is measured by the cup weighs: leaves to honey. Common practice, no source.
_LIGHTEST, _HEAVIEST = Fraction(1, 5), Fraction(8, 5)


def alike(told: Amount, number: Fraction, which: Unit) -> bool:
    """Whether a number in a unit may be what was told, in another measure."""
    if told.unit.kind == "count" and told.unit.name:
        return True
    if told.unit.kind not in ("mass", "volume") or which.kind not in ("mass", "volume"):
        return False
    mine, other = told.stated().middle(), number * factor(which)
    if told.unit.kind == which.kind:
        return abs(mine - other) * 8 <= mine
    light, heavy = (other, mine) if which.kind == "mass" else (mine, other)
    return heavy * _LIGHTEST <= light <= heavy * _HEAVIEST


def ends(atoms: Sequence[Atom], end: int) -> bool:
    """Whether a number ends at ``end`` without anything that it counts."""
    return end >= len(atoms) or bool(atoms[end - 1].stop) or text_at(atoms, end) in _ENDS


# The other scale than the one before, without its name.
_OTHERS = (("the", "other"), ("the", "other", "one"), ("the", "other", "scale"), ("ours",), ("the", "other", "money"))


def scale_ahead(atoms: Sequence[Atom], start: int) -> Scale | Literal["other"] | None:
    """The scale that is named before a number with any words between, "other" for the one that was not told before."""
    named = ahead_of(atoms, start)
    if named is not None and named.word in SCALES:
        return SCALES[named.word]
    for at in range(start - 1, max(start - 8, 0), -1):
        if any(says(atoms, at, *words) for words in _OTHERS) and text_at(atoms, at - 1) in ("in", "for"):
            return "other"
        if atoms[at].stop == "." or atoms[at].text not in _LEADS | {"ours", "other", "scale"}:
            return None
    return None
