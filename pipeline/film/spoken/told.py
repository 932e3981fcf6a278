"""Units and scales that are told apart from their number and behind it: "six eighty in grams", "nine hundred of the
grams", "one forty five if yours is in Fahrenheit", "three fifty in the old money"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.ahead import MEASURES, SCALES, ahead_of, ends
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.words import says, unit_at
from pipeline.measure.heat import Scale
from pipeline.measure.units import Unit

# Between a number and the scale that is told behind it.
_BETWEEN = word_set(
    "in if yours is your oven oven's you you're are talks speaks does for those of who the thinks think my which so "
    "that people folks reads read on a dial set to use uses using that's it's one works"
)
_IT = word_set("that that's this it it's mine mine's dial's dial oven's")
_FARTHEST = 7


def unit_told(atoms: Sequence[Atom], end: int) -> tuple[Unit, int] | None:
    """The unit told with "in" or "of the" behind a number that ends at ``end``, and where all ends."""
    if atoms[end - 1].stop:
        return None
    at = end + (1 if text_at(atoms, end) == "in" else 2 if says(atoms, end, "of", "the") else 0)
    if at == end or text_at(atoms, at) not in MEASURES or not ends(atoms, at + 1):
        return None
    return unit_at(atoms, at, figures=True)


def scale_told(atoms: Sequence[Atom], start: int, end: int) -> tuple[Scale, int] | None:
    """The scale told in words before or behind a number, and where all ends."""
    named = ahead_of(atoms, start)
    if named is not None and named.plain and named.spoken_in and named.word in SCALES:
        return SCALES[named.word], end
    if atoms[end - 1].stop:
        return _told_next(atoms, end)
    for money in (("in", "the", "old", "money"), ("in", "old", "money")):
        if says(atoms, end, *money):
            return "F", end + len(money)
    for at in range(end, min(end + _FARTHEST, len(atoms))):
        name = atoms[at].text
        if at > end and len(name) > 1 and name in SCALES:
            return SCALES[name], at + 1
        goes_on = atoms[at].stop == "," and text_at(atoms, at + 1) in ("which", "that's", "so", "that")
        if name not in _BETWEEN or (atoms[at].stop and not goes_on):
            return None
    return None


def _told_next(atoms: Sequence[Atom], end: int) -> tuple[Scale, int] | None:
    """The scale told of a number in what comes next: "Three twenty-five. That dial's in Fahrenheit"."""
    if text_at(atoms, end) not in _IT:
        return None
    for at in range(end + 1, min(end + _FARTHEST, len(atoms))):
        name = atoms[at].text
        if len(name) > 1 and name in SCALES:
            return (SCALES[name], end) if ends(atoms, at + 1) or text_at(atoms, at + 1) in ("because", "of") else None
        if name not in _BETWEEN | _IT or atoms[at].stop:
            return None
    return None
