"""One number and its unit in speech: "two and a half cups", "a scant half cup", "a pound, pound and a half"."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at
from pipeline.film.spoken.numbers import FIRST_WORDS, Value, fraction_at, value_at
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.told import unit_told
from pipeline.film.spoken.upper import upper_at
from pipeline.film.spoken.words import (
    CONTAINERS,
    GO_ON,
    SIZES,
    heaped_after,
    loosely_after,
    qualifiers_at,
    says,
    unit_at,
)
from pipeline.measure.numbers import Number
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import Unit

LAST = frozenset(("last", "final", "remaining", "other", "another"))
# Misheard numbers, taken as such only before a plural measure and "of": "to cups of flour".
MISHEARD = {"to": 2, "too": 2, "for": 4, "won": 1, "ate": 8}


def simple_at(atoms: Sequence[Atom], i: int) -> Said | None:
    start = i
    if text_at(atoms, i) == "between":
        i += 1
    qualifier, at = qualifiers_at(atoms, i)
    value: Value | None = None
    if text_at(atoms, at) in ("a", "an", "one") and not qualifier:
        # "a scant half cup", "one good tablespoon", "a heaped spoon": exactness behind the article
        inner, after = qualifiers_at(atoms, at + 1)
        if after > at + 1:
            value = number_at(atoms, after)
            if value is None or value.form == "article":
                one = Fraction(1)
                value = Value(Number(one, one), after, "article" if text_at(atoms, at) != "one" else "words")
            elif text_at(atoms, at) == "one":
                value = None
            if value is not None:
                qualifier = inner
    if value is None:
        value = number_at(atoms, at) or _misheard(atoms, at) or _the_last(atoms, at)
    return None if value is None else _measured(atoms, start, value, qualifier) or _told(atoms, start, value, qualifier)


def _told(atoms: Sequence[Atom], start: int, value: Value, qualifier: str) -> Said | None:
    """ "Six eighty in grams", "nine hundred of the grams"."""
    if value.form == "article" or value.vague or (found := unit_told(atoms, value.end)) is None:
        return None
    unit, end = found
    return Said(start, end, (amount_of(value.number, unit, said_words(atoms, start, end), qualifier),))


def _the_last(atoms: Sequence[Atom], i: int) -> Value | None:
    """ "That last tablespoon of oil" is one, and so is "another teaspoon"."""
    if i > 0 and text_at(atoms, i - 1) in ("another", "other"):
        i -= 1  # taken for a word of exactness
    begins = i == 0 or bool(atoms[i - 1].stop) or text_at(atoms, i - 1) in ("the", "that", "our", "your", "my", "and")
    if text_at(atoms, i) not in LAST or not (begins or text_at(atoms, i) == "another"):
        return None
    unit = unit_at(atoms, i + 1, figures=False)
    if unit is None or unit[0].kind not in ("mass", "volume"):
        return None
    if text_at(atoms, unit[1]) != "of" and text_at(atoms, i) != "another":
        return None
    if text_at(atoms, i + 1).endswith("s"):
        return None
    return Value(Number(Fraction(1), Fraction(1)), i + 1, "article")


def _misheard(atoms: Sequence[Atom], i: int) -> Value | None:
    number = MISHEARD.get(text_at(atoms, i))
    if number is None or (i == 0 and text_at(atoms, i) == "ate"):
        return None
    unit = unit_at(atoms, i + 1, figures=False)
    before = text_at(atoms, i - 1)
    if unit is None or before.isdecimal() or unit_at(atoms, i - 1, False):
        return None
    if unit[0].kind not in ("mass", "volume") and not (number == 1 and unit[0].kind == "count"):
        return None
    plural = text_at(atoms, unit[1] - 1).endswith("s")
    if plural != (number > 1) or text_at(atoms, unit[1]) != "of":
        return None
    return Value(Number(Fraction(number), Fraction(number)), i + 1, "words")


def _measured(atoms: Sequence[Atom], start: int, value: Value, qualifier: str) -> Said | None:
    """A number with its unit behind it."""
    at = value.end
    if atoms[at - 1].stop:
        return None
    if end := loosely_after(atoms, at):
        qualifier, at = "about", end
    small = value.number.high < 1
    if text_at(atoms, at) == "of" and text_at(atoms, at + 1) in ("our", "your", "my") and value.form != "article":
        at += 2  # "two and a half of our tablespoons"
    if says(atoms, at, "of", "a") or says(atoms, at, "of", "an"):
        if not small and value.single.denominator == 1:
            return None  # "one and three quarters of a cup" is an amount, "two of a kind" is none
        at += 2
    elif small and text_at(atoms, at) in ("a", "an", "of", "the"):
        at += 1
    elif value.single > 1 and (held := _of_the_holders(atoms, at)) is not None:
        at = held
    inner, at = qualifiers_at(atoms, at)
    qualifier = inner or qualifier
    if text_at(atoms, at) in SIZES and not atoms[at].stop:
        got = unit_at(atoms, at + 1, False)  # "four fat cloves of garlic"
        got = got if got is not None and got[0].kind == "count" else None
    else:
        got = unit_at(atoms, at, value.form == "figures")
    if got is None:
        return None
    unit, end = got
    number = value.number
    if value.loose and unit.name in _SPOONED:
        # Nobody says "four fifty cups": the hundred was not meant.
        if value.tail is None:
            return None
        number, start = value.tail, value.tail_at
    if value.vague and number.low != number.high:
        return None  # "a few spoons" is no amount
    number, end = more_behind(atoms, number, unit, end)
    if (
        unit.name == "milliliter"
        and text_at(atoms, end) in ("tablespoon", "teaspoon", "cup")
        and not atoms[end - 1].stop
    ):
        end += 1  # "our 20 mil tablespoon"
    if (again := loosely_after(atoms, end)) and atoms[end - 1].stop != ".":
        qualifier, end = "about", again
    elif heaped_after(atoms, end):
        qualifier, end = "heap", end + 1
    if value.vague:
        qualifier = qualifier or "about"
    text = said_words(atoms, start, end)
    amount = amount_of(number, unit, text, qualifier)
    return Said(start, end, (amount,), article=value.form == "article" and number.low == number.high == 1)


def _of_the_holders(atoms: Sequence[Atom], at: int) -> int | None:
    """ "Two of those cartons", "two of the little envelopes": where the plural stands."""
    if text_at(atoms, at) != "of" or text_at(atoms, at + 1) not in ("the", "those", "these", "them"):
        return None
    for n in range(at + 2, min(at + 5, len(atoms))):
        unit = unit_at(atoms, n, figures=False)
        if unit is not None:
            return n if unit[0].name in CONTAINERS and atoms[n].text.endswith("s") else None
        if atoms[n].stop or not atoms[n].text.isalpha() or atoms[n].text in FIRST_WORDS:
            return None
    return None


# Units of which nobody takes hundreds.
_SPOONED = frozenset(("cup", "tablespoon", "teaspoon", "stick", "clove", "can", "pint", "quart", "pound"))


def more_behind(atoms: Sequence[Atom], number: Number, unit: Unit, end: int) -> tuple[Number, int]:
    """ "a cup and a half", "a tablespoon or two", "two cups, maybe two and a half", "44 mg to 50 mg"."""
    stop = atoms[end - 1].stop
    if number.low == number.high and number.low.denominator == 1 and says(atoms, end, "and") and not stop:
        part = fraction_at(atoms, end + 1)
        if part and part[0] < 1:
            follows = text_at(atoms, part[1])
            open_ = not atoms[part[1] - 1].stop
            other = open_ and (unit_at(atoms, part[1], False) or follows in ("a", "an"))
            whole_of = says(atoms, part[1], "of", "a") or says(atoms, part[1], "of", "an")
            # Nobody says "three hundred grams and a quarter": that is a part of something else.
            whole_of = whole_of or (unit.name in ("gram", "milliliter") and number.low > 10)
            if not other and not (open_ and whole_of):
                value = number.low + part[0]
                return Number(value, value, -1), part[1]
    if stop == ".":
        return number, end
    if number.low == number.high == 1 and not stop and text_at(atoms, end) == "a":
        lost = fraction_at(atoms, end)
        if lost is not None and text_at(atoms, lost[1]) == "of":
            return Number(1 + lost[0], 1 + lost[0], -1), lost[1]  # "a cup a half of milk": the "and" was lost
    if number.low == number.high == 1 and (part := _again(atoms, unit, end)) is not None:
        return Number(number.low, 1 + part[0], -1), part[1]
    for lead in (
        ("or", "maybe"),
        ("or", "even"),
        ("or",),
        ("maybe",),
        ("possibly",),
        ("to",),
        ("-",),
        ("–",),
        ("and",),
    ):
        if not says(atoms, end, *lead) or (stop and lead in (("to",), ("-",), ("–",), ("and",))):
            continue
        second = value_at(atoms, end + len(lead))
        if second is None or second.form == "article" or not number.low < second.single <= 2 * number.high + 1:
            continue
        after = unit_at(atoms, second.end, second.form == "figures") if not atoms[second.end - 1].stop else None
        if lead == ("and",):
            between = any(text_at(atoms, end - k) == "between" for k in range(2, 7))
            if not between or after is None or after[0] != unit:
                continue
        if lead in (("to",), ("-",), ("–",)) and (after is None or after[0] != unit):
            continue
        if lead == ("or",) and stop and after is None:
            continue
        if after is None and _names_follow(atoms, second):
            continue
        if after is not None and after[0] != unit:
            continue
        end = after[1] if after is not None else second.end
        return Number(number.low, second.number.high, max(number.places, second.number.places)), end
    if number.low == number.high and (up := upper_at(atoms, end, number.low, said_again(atoms, unit))) is not None:
        return Number(number.low, up[0], max(number.places, 0)), up[1]
    return number, end


def said_again(atoms: Sequence[Atom], unit: Unit) -> Callable[[int], int | None]:
    """Where a unit ends if it is said again: "half a pound, a pound if it's for four"."""

    def again(i: int) -> int | None:
        got = unit_at(atoms, i, figures=False)
        return got[1] if got is not None and got[0] == unit else None

    return again


def _again(atoms: Sequence[Atom], unit: Unit, end: int) -> tuple[Fraction, int] | None:
    """ "A pound, pound and a half of": the part, and where it ends."""
    at = end + (text_at(atoms, end) in ("a", "an", "maybe"))
    again = unit_at(atoms, at, figures=False)
    if again is None or again[0] != unit or atoms[again[1] - 1].stop or text_at(atoms, again[1]) != "and":
        return None
    part = fraction_at(atoms, again[1] + 1)
    return part if part is not None and part[0] < 1 else None


def _names_follow(atoms: Sequence[Atom], value: Value) -> bool:
    """Whether the second number counts something of its own: "a cup or two eggs"."""
    follows = text_at(atoms, value.end)
    return bool(follows) and not atoms[value.end - 1].stop and follows not in GO_ON
