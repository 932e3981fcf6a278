"""Amounts in speech: a number and a unit, sums of them, parts of a whole, and counts of cans that say their size."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at
from pipeline.film.spoken.cans import can_at
from pipeline.film.spoken.measures import simple_at
from pipeline.film.spoken.numbers import typed, value_at
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.words import (
    says,
    unit_at,
)
from pipeline.measure.grammar import read_amount
from pipeline.measure.numbers import Number
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of


def amount_at(atoms: Sequence[Atom], i: int) -> Said | None:
    """The amount that begins at ``i``, or None: "two and a half cups", "a cup and a half", "a scant half
    cup", "one 28-ounce can", "three tablespoons plus one teaspoon", "300 of the 450 grams"."""
    first = can_at(atoms, i) or _part(atoms, i) or simple_at(atoms, i)
    if first is None:
        return None
    return _summed(atoms, first)


def _part(atoms: Sequence[Atom], i: int) -> Said | None:
    """ "300 of the 450 grams": a part and its whole, in one unit."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or atoms[value.end - 1].stop:
        return None
    unit = unit_at(atoms, value.end, value.form == "figures")
    at = unit[1] if unit else value.end
    for lead in (("of", "the"), ("of", "those"), ("of", "our"), ("of", "your"), ("out", "of", "the"), ("of", "that")):
        if not says(atoms, at, *lead) or atoms[at - 1].stop:
            continue
        whole = simple_at(atoms, at + len(lead))
        if whole is None:
            continue
        total = whole.amounts[0]
        if total.unit.kind == "count" or (unit and unit[0].kind != total.unit.kind):
            return None
        text = said_words(atoms, i, whole.end)
        part = amount_of(value.number, unit[0] if unit else total.unit, text)
        return Said(i, whole.end, (part,), whole=total)
    return None


def _summed(atoms: Sequence[Atom], first: Said) -> Said:
    """ "a quarter cup plus two tablespoons", "three pounds two ounces", "a cup and two tablespoons of"."""
    amount = first.amounts[0]
    if len(first.amounts) > 1 or first.whole or amount.unit.kind not in ("mass", "volume"):
        return first
    stop = atoms[first.end - 1].stop
    lead = text_at(atoms, first.end)
    if amount.unit.name in _THOUSANDS and (whole_one := _thousandths(atoms, first)) is not None:
        return whole_one
    if amount.unit.name == "pound" and not stop and (ounces := _ounces(atoms, first)) is not None:
        return ounces
    at = first.end + 1 if lead in ("plus", "and") else first.end
    if stop == "." or (stop and lead != "plus"):
        return first
    if lead not in ("plus", "and") and amount.unit.name != "pound":
        return first
    second = simple_at(atoms, at)
    if second is None or second.amounts[0].unit.kind != amount.unit.kind:
        return first
    more = second.amounts[0]
    if (amount.unit.name in _THOUSANDS) != (more.unit.name in ("gram", "milliliter")):
        return first
    smaller = _RANK.get(more.unit.name, 0) < _RANK.get(amount.unit.name, 0)
    if not smaller or (lead not in ("plus", "and") and more.unit.name != "ounce"):
        return first
    if lead == "and" and (amount.unit.name, more.unit.name) == ("cup", "teaspoon"):
        return first  # "four cups and one teaspoon of salt": nobody adds a teaspoon to cups
    if amount.low != amount.high or more.low != more.high or amount.about or more.about:
        return first
    whole = read_amount(f"{typed(amount.low)} {amount.unit.name} + {typed(more.low)} {more.unit.name}")
    if whole is None or whole.amount.unit != amount.unit:
        return first
    text = said_words(atoms, first.start, second.end)
    return replace(first, end=second.end, amounts=(replace(whole.amount, text=text),))


def _ounces(atoms: Sequence[Atom], first: Said) -> Said | None:
    """ "Six hundred grams, that's one pound five": what follows pounds without a name is ounces, if it is no money."""
    value = value_at(atoms, first.end)
    if value is None or value.form == "article" or not 1 <= value.single <= 15 or value.single.denominator > 1:
        return None
    follows = text_at(atoms, value.end)
    ahead = atoms[first.start - 1] if first.start else None
    told = follows == "of" or (ahead is not None and ahead.text in ("that's", "or", "is", "of", "about"))
    if ahead is not None and ahead.stop == "," and (grams := unit_at(atoms, first.start - 1, figures=True)):
        told = told or grams[0].kind == "mass"  # "six hundred grams, one pound five"
    ends = not follows or bool(atoms[value.end - 1].stop) or follows in ("of", "for", "in", "if", "and")
    pounds = first.amounts[0]
    if not (told and ends) or pounds.low != pounds.high or pounds.low.denominator > 1:
        return None
    whole = read_amount(f"{'about ' if pounds.about else ''}{typed(pounds.low)} lb + {typed(value.single)} oz")
    if whole is None:
        return None
    text = said_words(atoms, first.start, value.end)
    return replace(first, end=value.end, amounts=(replace(whole.amount, text=text),))


def _thousandths(atoms: Sequence[Atom], first: Said) -> Said | None:
    """ "A kilo two hundred", "a litre and two fifty": what follows without a unit is grams or millilitres."""
    amount, end = first.amounts[0], first.end
    if atoms[end - 1].stop or amount.low != amount.high or amount.low.denominator > 1:
        return None
    value = value_at(atoms, end + (text_at(atoms, end) == "and"))
    if value is None or value.form == "article" or not 100 <= value.single < 1000 or value.single % 50:
        return None
    if goes_on(atoms, value.end) and text_at(atoms, value.end) != "of":
        return None
    number = Number(amount.low + value.single / 1000, amount.low + value.single / 1000, 1)
    text = said_words(atoms, first.start, value.end)
    whole = amount_of(number, amount.unit, text, "about" if amount.about else "")
    return replace(first, end=value.end, amounts=(whole,), article=False)


_THOUSANDS = frozenset(("kilogram", "liter"))
# Which unit may go on with which: a smaller one of the same family.
_RANK = {
    "gram": 1,
    "kilogram": 2,
    "milliliter": 1,
    "liter": 2,
    "teaspoon": 1,
    "tablespoon": 2,
    "cup": 3,
    "pint": 4,
    "quart": 5,
    "gallon": 6,
    "ounce": 1,
    "pound": 2,
}
