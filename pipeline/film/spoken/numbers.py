"""Numbers as they are said: "two hundred and fifty", "four fifty", "one and three quarters", "2½".

Why no library: measured on what cooks say, word2number 1.1 takes "three quarters" for 3, "one and a half" for
1 and "four fifty" for 54; text2num 3.1.0 reads whole numbers well but has no fractions and leaves "four
fifty" as 4 and 50. A kitchen's numbers are mostly fractions and hundreds without the word, so the small
grammar stands here. Figures go through ``pipeline.measure.numbers``, as those that are typed do.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.smalls import ONES, PARTS, TEENS, TENS, below_hundred, goes_on
from pipeline.measure.numbers import GLYPHS, Number, read_number
from pipeline.measure.record import replace

Form = Literal["figures", "words", "article"]

_BROKEN = {
    (str(top), str(bottom)): Fraction(top, bottom) for top, bottom in ((1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (1, 8))
}
# Parts of which there can be only so many.
_WHOLE_PARTS = {"quarters": Fraction(3, 4), "thirds": Fraction(2, 3)}
# What there must be more than one of.
_PLURALS = word_set("cups tablespoons teaspoons pounds ounces kilos litres liters pints quarts sticks inches hours")
_MANY = frozenset(("few", "couple", "several", "some", "many", "of"))
#: Words with which a spoken number can begin.
FIRST_WORDS = frozenset(
    {*ONES, *TEENS, *TENS, *PARTS, "a", "an", "another", "hundred", "thousand", "couple", "point", "zero", "oh"}
)


class Value(NamedTuple):
    """A number and where it ends. ``number`` has two ends where a range was said. ``vague``: "a couple", "a
    few".

    ``loose`` is where a hundred went unsaid ("four fifty"): ``tail`` is then the reading without it (50),
    which begins at ``tail_at``.
    """

    number: Number
    end: int
    form: Form
    vague: bool = False
    loose: bool = False
    tail: Number | None = None
    tail_at: int = 0

    @property
    def single(self) -> Fraction:
        return self.number.low


def _of(value: Fraction | int, end: int, form: Form, places: int = 0) -> Value:
    v = Fraction(value)
    return Value(Number(v, v, places), end, form)


def _rest(atoms: Sequence[Atom], i: int) -> tuple[int, int] | None:
    """What follows "hundred": ["and"] a number below a hundred, but not a fraction."""
    start = i + 1 if text_at(atoms, i) == "and" and goes_on(atoms, i) and goes_on(atoms, i + 1) else i
    if not goes_on(atoms, start):
        return None
    figure = text_at(atoms, start)
    if start > i and figure.isdecimal() and len(figure) <= 2 and figure != "0":
        return int(figure), start + 1  # "a hundred and 50", as machines write it
    if figure.isdecimal() and len(figure) == 2 and figure[0] != "0":
        return int(figure), start + 1  # "a hundred 75"
    got = below_hundred(atoms, start)
    if got and text_at(atoms, got[1]) in PARTS and goes_on(atoms, got[1]):
        return None
    if got and text_at(atoms, got[1]) in ("hundred", "thousand"):
        return None
    return got


def _hundreds(atoms: Sequence[Atom], i: int) -> Value | None:
    """A whole number below ten thousand in words."""
    first = below_hundred(atoms, i)
    if (
        first is None
        and text_at(atoms, i) in ("a", "hundred")
        and "hundred" in (text_at(atoms, i), text_at(atoms, i + 1))
    ):
        if text_at(atoms, i - 1) in _MANY and goes_on(atoms, i):
            return None  # "a few hundred"
        first = (1, i + 1 if text_at(atoms, i) == "a" else i)
    if first is None:
        return None
    value, end = first
    if text_at(atoms, end) == "hundred" and (end == i or goes_on(atoms, end)):
        value, end = value * 100, end + 1
        if more := _rest(atoms, end):
            value, end = value + more[0], more[1]
        return _of(value, end, "words")
    if value < 10 and goes_on(atoms, end):
        here = text_at(atoms, end)
        if here in ("oh", "o") and goes_on(atoms, end + 1) and (one := ONES.get(text_at(atoms, end + 1))):
            return _of(value * 100 + one, end + 2, "words")
        if here in TENS or here in TEENS:
            tail = below_hundred(atoms, end)
            assert tail is not None
            if not (text_at(atoms, tail[1]) in PARTS and goes_on(atoms, tail[1]) and here not in TENS):
                whole = _of(value * 100 + tail[0], tail[1], "words")
                rest = Fraction(tail[0])
                return replace(whole, loose=True, tail=Number(rest, rest), tail_at=end)
    return _of(value, end, "words")


def _whole(atoms: Sequence[Atom], i: int) -> Value | None:
    if text_at(atoms, i) == "a" and text_at(atoms, i + 1) == "thousand":
        thousands, end = 1, i + 1
    else:
        got = _hundreds(atoms, i)
        if got is None or text_at(atoms, got.end) != "thousand" or not goes_on(atoms, got.end):
            return got
        thousands, end = int(got.single), got.end
    end += 1
    start = end + 1 if text_at(atoms, end) == "and" and goes_on(atoms, end) else end
    more = _hundreds(atoms, start) if goes_on(atoms, start) else None
    if more and more.single < 1000:
        return _of(thousands * 1000 + more.single, more.end, "words")
    return _of(thousands * 1000, end, "words")


def fraction_at(atoms: Sequence[Atom], i: int) -> tuple[Fraction, int] | None:
    """A fraction: "a half", "half", "three quarters", "two thirds", "3/4", "¾"; and where it ends."""
    word = text_at(atoms, i)
    if word in GLYPHS:
        return GLYPHS[word], i + 1
    if "/" in word or "⁄" in word:
        got = read_number(word)
        if got and got[1] == len(word):
            return got[0].low, i + 1
        return None
    if word in _WHOLE_PARTS and text_at(atoms, i + 1) == "of" and text_at(atoms, i + 2) in ("a", "an"):
        return _WHOLE_PARTS[word], i + 1  # "quarters of a cup": the three was lost
    if word in ("half", "quarter", "third", "eighth"):
        return Fraction(1, PARTS[word]), i + 1
    top = ONES.get(word) or (1 if word in ("a", "an") else None)
    if top is None and word.isdecimal() and len(word) == 1:
        top = int(word)
    if top is None or not goes_on(atoms, i + 1):
        return None
    bottom = PARTS.get(text_at(atoms, i + 1))
    if bottom is None or top >= max(bottom, 4):
        return None
    return Fraction(top, bottom), i + 2


def _decimal(atoms: Sequence[Atom], i: int, before: int) -> Value | None:
    """ "point two five" at ``i``, behind the whole number ``before``."""
    if text_at(atoms, i) != "point":
        return None
    digits, end = "", i + 1
    while end < len(atoms) and (end == i + 1 or goes_on(atoms, end)):
        word = text_at(atoms, end)
        if word in ONES or word in ("zero", "oh", "o"):
            digits += str(ONES.get(word, 0))
        elif not digits and word in {**TENS, **TEENS}:
            got = below_hundred(atoms, end)
            assert got is not None
            digits, end = str(got[0]), got[1] - 1
        elif not digits and word.isdecimal():
            digits = word
        else:
            break
        end += 1
    if not digits:
        return None
    return _of(Fraction(f"{before}.{digits}"), end, "words", len(digits))


def value_at(atoms: Sequence[Atom], i: int) -> Value | None:
    """One number (no range) at ``i``, or None. "a" and "another" are one, with the form "article"."""
    word = text_at(atoms, i)
    if not word or not (word in FIRST_WORDS or word[0].isdecimal() or word in GLYPHS):
        return None  # nearly always
    if word == "point":
        return _decimal(atoms, i, 0)
    if word in ("zero", "oh") and text_at(atoms, i + 1) == "point":
        return _decimal(atoms, i + 1, 0)
    if word == "half" and text_at(atoms, i + 1) == "a" and text_at(atoms, i + 2) == "dozen":
        return _of(6, i + 3, "words")
    start = i + 1 if word == "a" else i
    if word in ("a", "couple") and text_at(atoms, start) == "couple":
        end = start + 1
        if text_at(atoms, end) == "of" and goes_on(atoms, end):
            end += 1
        if text_at(atoms, end) == "hundred" and goes_on(atoms, end):
            return replace(_of(200, end + 1, "words"), vague=True)
        return replace(_of(2, end, "words"), vague=True)
    if word == "a" and text_at(atoms, i + 1) == "few":
        return Value(Number(Fraction(3), Fraction(5)), i + 2, "words", vague=True)
    if part := fraction_at(atoms, i):
        return _of(part[0], part[1], "figures" if word[0].isdecimal() or word in GLYPHS else "words", -1)
    whole = _figures(atoms, i) if word[0].isdecimal() else _whole(atoms, i)
    if whole is None:
        if word in ("a", "an", "another"):
            if word == "a" and text_at(atoms, i + 1) == "dozen":
                half = text_at(atoms, i + 2) == "and" and [a.text for a in atoms[i + 3 : i + 5]] == ["a", "half"]
                return _of(18, i + 5, "words") if half and goes_on(atoms, i + 2) else _of(12, i + 2, "words")
            return _of(1, i + 1, "article")
        return None
    if text_at(atoms, whole.end) == "dozen" and goes_on(atoms, whole.end):
        return _of(whole.single * 12, whole.end + 1, whole.form)
    return _mixed(atoms, whole)


def _figures(atoms: Sequence[Atom], i: int) -> Value | None:
    word = text_at(atoms, i)
    got = read_number(word)
    if got is None or got[1] != len(word) or got[0].low != got[0].high or text_at(atoms, i + 1) == "%":
        return None
    number, end = got[0], i + 1
    scale = {"hundred": 100, "thousand": 1000}.get(text_at(atoms, end))
    if scale and goes_on(atoms, end):
        value, end = number.low * scale, end + 1
        if more := _rest(atoms, end):
            value, end = value + more[0], more[1]
        return _of(value, end, "figures")
    return Value(number, end, "figures")


def _broken(atoms: Sequence[Atom], i: int) -> Fraction | None:
    """ "1 1 2 cups": a machine's 1 1/2."""
    part = _BROKEN.get((text_at(atoms, i), text_at(atoms, i + 1)))
    if part is None or not (goes_on(atoms, i + 1) and goes_on(atoms, i + 2)):
        return None
    return part if text_at(atoms, i + 2)[:3] in ("cup", "tea", "tab", "tbs", "tsp") else None


def _mixed(atoms: Sequence[Atom], whole: Value) -> Value:
    """A whole number that goes on with a fraction or decimals: "2 ½", "one and a half", "one three
    quarters"."""
    end = whole.end
    if not goes_on(atoms, end) or whole.single.denominator != 1:
        return whole
    if whole.single < 1000 and (got := _decimal(atoms, end, int(whole.single))):
        return got  # "two point five", and "2 point 5" as machines write it
    here = text_at(atoms, end)
    if whole.form == "figures" and (broken := _broken(atoms, end)) is not None:
        return _of(whole.single + broken, end + 2, "figures", -1)
    joined = here in ("and", "&", "+") and goes_on(atoms, end + 1)
    joined = joined or (here == "an" and text_at(atoms, end + 1) == "a" and goes_on(atoms, end + 1))  # misheard
    if here == "in" and text_at(atoms, end + 1) == "a" and text_at(atoms, end + 2) in PARTS and goes_on(atoms, end + 1):
        joined = whole.single < 20  # "two in a half cups", misheard
    part = fraction_at(atoms, end + 1) if joined else fraction_at(atoms, end)
    if part is None or part[0] >= 1:
        return whole
    if not joined:
        figure = text_at(atoms, end)[0].isdecimal() or text_at(atoms, end) in GLYPHS
        # "two half cups" are two of them, and "a hundred a half" is nobody's number.
        lost = here == "a" and whole.single < 20 and goes_on(atoms, part[1]) and text_at(atoms, part[1]) in _PLURALS
        if not figure and not lost and (part[0].numerator < 2 or here in ("a", "an")):
            return whole  # but "three a quarter cups" has lost an "and"
    return _of(whole.single + part[0], part[1], whole.form, -1)


def typed(value: Fraction) -> str:
    """A number as it would be typed: "2 3/4", "1.5", "650"."""
    if value.denominator == 1:
        return str(value.numerator)
    if value.denominator in (2, 3, 4, 5, 6, 8, 16):
        whole, rest = divmod(value, 1)
        return f"{whole} {rest}" if whole else str(rest)
    return str(float(value))
