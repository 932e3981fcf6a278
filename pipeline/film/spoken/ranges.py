"""Numbers and ranges of them as they are said: "two to three", "2-3", "two or three"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, Pieces, text_at
from pipeline.film.spoken.numbers import Value, value_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.measure.numbers import Number
from pipeline.measure.record import replace


def number_at(atoms: Sequence[Atom], i: int) -> Value | None:
    """A number or range at ``i``: "two to three", "2-3", "two or three", "two, three and a half"; after
    "between", "60 and 70"."""
    if not isinstance(atoms, Pieces):
        return _number_at(atoms, i)
    known = atoms.numbers
    if i not in known:
        known[i] = _number_at(atoms, i)
    value = known[i]
    assert value is None or isinstance(value, Value)
    return value


def _number_at(atoms: Sequence[Atom], i: int) -> Value | None:
    first = value_at(atoms, i)
    if first is None or first.number.low != first.number.high:
        return first
    between = text_at(atoms, i - 1) == "between"
    for end, kind in _joins(atoms, first.end, between):
        second = value_at(atoms, end)
        if second is None or second.form == "article" or second.number.low != second.number.high:
            continue
        low, high = first.single, second.single
        if kind != "beside" and _hundreds(atoms, first, second):
            low *= 100
        if kind == "beside":
            # "two three minutes", "three, three and a half cups": neighbours only
            fits = first.form == second.form == "words" and low < high <= low + 1 and not first.loose
            fits = fits and not (low == 1 and _stands_for_a_name(atoms, i))
            fits = fits and (low >= 1 or high < 1)  # "half, one tablespoon"
            fits = fits or _round_beside(atoms, first, second)
        elif kind == "or":
            fits = low < high <= 2 * low + 1
        else:
            fits = low < high
        if fits and first.form != "article":
            places = max(first.number.places, second.number.places)
            return replace(second, number=Number(low, high, places), form=first.form, loose=False)
    return first


def _hundreds(atoms: Sequence[Atom], first: Value, second: Value) -> bool:
    """Whether the hundred behind the second number is of the first, too: "five to seven hundred mils"."""
    low, high = first.single, second.single
    if text_at(atoms, second.end - 1) != "hundred" or low.denominator > 1 or text_at(atoms, first.end - 1) == "hundred":
        return False
    return 1 <= low < 10 and low * 100 < high <= 900


def _stands_for_a_name(atoms: Sequence[Atom], i: int) -> bool:
    """Whether the "one" at ``i`` counts nothing: "the dry one", "this one"."""
    the = ("the", "this", "that", "a", "which", "each", "my")
    if text_at(atoms, i) != "one" or not goes_on(atoms, i):
        return False
    return text_at(atoms, i - 1) in the or (text_at(atoms, i - 2) in the and goes_on(atoms, i - 1))


def _round_beside(atoms: Sequence[Atom], first: Value, second: Value) -> bool:
    """ "Three hundred, four hundred grams": round numbers before one unit."""
    if atoms[first.end - 1].stop != "," or text_at(atoms, second.end) not in _WEIGHED or atoms[second.end - 1].stop:
        return False
    low, high = first.single, second.single
    if low % 100 == 0 and high - low < 100:
        return False  # "one hundred, one hundred fifty grams": begun anew
    return low >= 20 and low % 5 == high % 5 == 0 and low < high <= 2 * low


_WEIGHED = frozenset(("grams", "gram", "grammes", "g", "mils", "ml", "mil", "millilitres", "milliliters", "minutes"))


def _joins(atoms: Sequence[Atom], end: int, between: bool) -> list[tuple[int, str]]:
    """Where a second number may begin behind the first, and by what it is joined."""
    word, ways = text_at(atoms, end), []
    stop = atoms[end - 1].stop
    if word in ("to", "-", "–", "—", "til", "till") and stop == "":
        ways.append((end + 1, "to"))
        if word == "to" and text_at(atoms, end + 1) in ("about", "maybe", "around"):
            ways.append((end + 2, "to"))
    if word == "until" and stop == "" and text_at(atoms, end - 2) == "from":
        ways.append((end + 1, "to"))
    if word == "and" and between:
        ways.append((end + 1, "to"))
    if word == "or" and stop in ("", ","):
        ways.append((end + 1, "or"))
        if text_at(atoms, end + 1) in ("maybe", "even", "about"):
            ways.append((end + 2, "or"))
    if word in ("maybe", "sometimes", "possibly", "perhaps") and stop in ("", ","):
        ways.append((end + 1, "or"))
    if stop in ("", ","):
        ways.append((end, "beside"))
    return ways
