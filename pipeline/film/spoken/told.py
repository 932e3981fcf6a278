"""Units and scales that are told apart from their number: "in cups that's four and a quarter", "six eighty in grams",
"one forty five if yours is in Fahrenheit", "three fifty in the old money"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.words import says, unit_at
from pipeline.measure.heat import Scale
from pipeline.measure.units import Unit

#: Names of scales. A letter is one only behind a figure.
SCALES: dict[str, Scale] = {
    "fahrenheit": "F", "farenheit": "F", "fahrenheits": "F", "f": "F", "℉": "F", "celsius": "C", "celcius": "C",
    "centigrade": "C", "c": "C", "℃": "C",
}  # fmt: skip
_MEASURES = word_set(
    "grams grammes ounces cups pounds kilos kilograms millilitres milliliters mils mls ml litres liters tablespoons "
    "teaspoons"
)
# Between a unit or scale told first and its number.
_LEADS = word_set("that's it's is that it would be comes to about roughly so thats")
_ENDS = word_set("and or so but then now")
# Between a number and the scale that is told behind it.
_BETWEEN = word_set(
    "in if yours is your oven oven's you you're are talks speaks does for those of who the thinks think people folks "
    "reads read on a dial set to use uses using that's it's one that works"
)
_FARTHEST = 7


def unit_told(atoms: Sequence[Atom], start: int, end: int) -> tuple[Unit, int] | None:
    """The unit told with "in" before or behind a number that stands from ``start`` to ``end``, and where all ends."""
    if text_at(atoms, end) == "in" and not atoms[end - 1].stop and text_at(atoms, end + 1) in _MEASURES:
        return unit_at(atoms, end + 1, figures=True) if _ends(atoms, end + 2) else None
    if not _ends(atoms, end):
        return None
    at = _lead(atoms, start)
    if text_at(atoms, at) not in _MEASURES or text_at(atoms, at - 1) != "in" or atoms[at].stop == ".":
        return None
    found = unit_at(atoms, at, figures=True)
    return (found[0], end) if found else None


def scale_told(atoms: Sequence[Atom], start: int, end: int) -> tuple[Scale, int] | None:
    """The scale told in words before or behind a number, and where all ends."""
    at = _lead(atoms, start)
    name = text_at(atoms, at)
    if len(name) > 1 and name in SCALES and text_at(atoms, at - 1) == "in" and atoms[at].stop != ".":
        return SCALES[name], end
    if atoms[end - 1].stop:
        return None
    for money in (("in", "the", "old", "money"), ("in", "old", "money")):
        if says(atoms, end, *money):
            return "F", end + len(money)
    for at in range(end, min(end + _FARTHEST, len(atoms))):
        name = atoms[at].text
        if at > end and len(name) > 1 and name in SCALES:
            return SCALES[name], at + 1
        if name not in _BETWEEN or atoms[at].stop:
            return None
    return None


def _lead(atoms: Sequence[Atom], start: int) -> int:
    """Where the word stands that "that's" and the like before ``start`` go back to."""
    at = start - 1
    while at >= max(start - 3, 0) and text_at(atoms, at) in _LEADS and not atoms[at].stop:
        at -= 1
    return at


def _ends(atoms: Sequence[Atom], end: int) -> bool:
    return end >= len(atoms) or bool(atoms[end - 1].stop) or text_at(atoms, end) in _ENDS
