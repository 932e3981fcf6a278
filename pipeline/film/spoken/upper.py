"""The upper end of a range that is said as an afterthought: "three cloves of garlic, four if they're small", "half a
pound of sausage, maybe a pound", "three days, four at a push"."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.numbers import fraction_at, value_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.words import GO_ON, says

# What leads to the upper end, the longest first. Without one, something behind it must say that it is the most.
_LEADS: tuple[tuple[str, ...], ...] = (
    ("or", "maybe"), ("or", "even"), ("or", "perhaps"), ("or", "possibly"), ("maybe", "even"), ("maybe",),
    ("possibly",), ("perhaps",), ("sometimes",), ("or",), (),
)  # fmt: skip
_PERHAPS = word_set("maybe possibly perhaps sometimes even")
_MOST: tuple[tuple[str, ...], ...] = (
    ("if",), ("when",), ("tops",), ("max",), ("maximum",), ("at", "a", "push"), ("at", "most"), ("at", "the", "most"),
    ("at", "a", "stretch"), ("at", "the", "outside"), ("depending",), ("in", "a", "pinch"), ("for", "luck"),
)  # fmt: skip
#: Words of a range's end that say nothing more: they belong to it.
_SPENT = frozenset(("tops", "max", "maximum"))
_ASIDE = word_set("my his her our your whos who's she he just no depends depending because cause cos they")

#: Where the unit of the lower end ends, if it is said again at a place.
Again = Callable[[int], int | None]


def upper_at(atoms: Sequence[Atom], end: int, low: Fraction, again: Again) -> tuple[Fraction, int] | None:
    """The upper end of a range whose lower end is ``low`` and ends at ``end``, and where it ends itself."""
    stop = atoms[end - 1].stop
    for lead in _LEADS:
        if lead and not says(atoms, end, *lead):
            continue
        perhaps = bool(lead) and lead[-1] in _PERHAPS
        if stop == "." and not perhaps:
            continue
        at = end + len(lead)
        if not goes_on(atoms, at) and lead:
            continue
        value = value_at(atoms, at)
        if value is None:
            continue
        high, last = value.single, value.end
        after = again(last) if goes_on(atoms, last) else None
        if after is not None:
            last = after
            part = fraction_at(atoms, last + 1) if goes_on(atoms, last) and text_at(atoms, last) == "and" else None
            if part is not None and part[0] < 1 and high.denominator == 1:
                high, last = high + part[0], part[1]
        elif value.form == "article":
            continue
        if not low < high <= 2 * low + 1:
            continue
        most = next((words for words in _MOST if goes_on(atoms, last) and says(atoms, last, *words)), None)
        ends = not goes_on(atoms, last)
        if not lead or (lead == ("or",) and stop):
            fits = most is not None
        elif lead == ("or",):
            fits = ends or most is not None
        else:
            fits = ends or most is not None or text_at(atoms, last) in GO_ON | _ASIDE
        if fits:
            return high, last + (most is not None and most[0] in _SPENT)
    return None
