"""Figures in speech, cheaply: only so well as two figures must be compared. No amount is read from here.

"six hundred and fifty grams" and "650 g" both become the token ``#650g``; "two and three quarter cups" is
``#2.75cup``, "half an hour" ``#1800s``, "four fifty" ``#450``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

_ONES = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
    "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_SMALL = {word: n for n, word in enumerate(_ONES)}
_TEN = {word: 10 * (n + 2) for n, word in enumerate(_TENS)}
_PARTS = {
    "half": 0.5, "halves": 0.5, "quarter": 0.25, "quarters": 0.25, "third": 0.333, "thirds": 0.333,
    "eighth": 0.125, "eighths": 0.125,
}  # fmt: skip
_GLYPHS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 0.333, "⅔": 0.667, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
#: What a word of measure is called inside a token, and how many of it one is.
UNITS: dict[str, tuple[str, float]] = {
    **dict.fromkeys(("g", "gram", "grams", "gramme", "grammes"), ("g", 1.0)),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), ("g", 1000.0)),
    **dict.fromkeys(
        ("ml", "mil", "mils", "mls", "milliliter", "milliliters", "millilitre", "millilitres"), ("ml", 1.0)
    ),
    **dict.fromkeys(("l", "liter", "liters", "litre", "litres"), ("ml", 1000.0)),
    **dict.fromkeys(("cup", "cups"), ("cup", 1.0)),
    **dict.fromkeys(("tbsp", "tablespoon", "tablespoons"), ("tbsp", 1.0)),
    **dict.fromkeys(("tsp", "teaspoon", "teaspoons"), ("tsp", 1.0)),
    **dict.fromkeys(("oz", "ounce", "ounces"), ("oz", 1.0)),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), ("lb", 1.0)),
    **dict.fromkeys(("stick", "sticks"), ("stick", 1.0)),
    **dict.fromkeys(("clove", "cloves"), ("clove", 1.0)),
    **dict.fromkeys(("can", "cans", "tin", "tins"), ("can", 1.0)),
    **dict.fromkeys(("sprig", "sprigs"), ("sprig", 1.0)),
    **dict.fromkeys(("second", "seconds", "sec", "secs"), ("s", 1.0)),
    **dict.fromkeys(("minute", "minutes", "min", "mins"), ("s", 60.0)),
    **dict.fromkeys(("hour", "hours", "hr", "hrs"), ("s", 3600.0)),
    **dict.fromkeys(("day", "days"), ("s", 86400.0)),
    **dict.fromkeys(("degree", "degrees", "f", "c", "fahrenheit", "celsius", "°f", "°c"), ("°", 1.0)),
}
_DIGITS = re.compile(r"[$£€]?(\d+(?:[.,]\d+)?)(?:/(\d+))?([½¼¾⅓⅔⅛⅜⅝⅞])?(°?[a-z]{1,3})?\Z")
# "A second", "a day" are seldom measured.
_LOOSE = frozenset({"second", "sec", "day"})
# What a machine writes for "two" and "four" before a measure.
_MISHEARD = {"to": 2.0, "too": 2.0, "for": 4.0, "ate": 8.0, "won": 1.0}


def token(value: float | Fraction, unit: str = "") -> str:
    """The token of a figure: at most three significant decimals, so that thirds meet."""
    return f"#{round(float(value), 2):g}{unit}"


def figures(words: Sequence[str]) -> list[str]:
    """The tokens of the figures in ``words`` (bare, lower case): each with its measure, and without."""
    return [token for _, _, token in spans_of(words)]


def spans_of(words: Sequence[str]) -> list[tuple[int, int, str]]:
    """The same tokens, each behind the indices of its first and last word."""
    found: list[tuple[int, int, str]] = []
    i, count = 0, len(words)
    while i < count:
        value, after, tail = _number(words, i)
        if value is None:
            word = words[i]
            if word in _MISHEARD and i + 1 < count and UNITS.get(words[i + 1], ("°",))[0] != "°":
                value, after = _MISHEARD[word], i + 1
            elif word in ("a", "an") and i + 1 < count and words[i + 1] in UNITS and words[i + 1] not in _LOOSE:
                value, after = 1.0, i + 1
            else:
                i += 1
                continue
        unit = UNITS.get(tail) if tail else None
        at = after
        if unit is None:
            while at < count and at < after + 2 and words[at] in ("a", "an", "of"):
                at += 1
            unit = UNITS.get(words[at]) if at < count else None
            if unit is not None:
                at += 1
        if unit is not None:
            # "an hour and a half", "a cup and a quarter"
            more = _and_part(words, at)
            if more is not None:
                value, at = value + more[0], more[1]
            found.append((i, at - 1, token(value * unit[1], unit[0])))
        if value >= 10 or (unit is None and value != 1):
            found.append((i, max(after - 1, i), token(value)))
        i = max(at if unit is not None else after, i + 1)
    return found


def _number(words: Sequence[str], i: int) -> tuple[float | None, int, str]:
    """(value, index behind it, a measure written onto it) of the number at ``i``; (None, i, "") where there is
    none."""
    count = len(words)
    word = words[i]
    match = _DIGITS.match(word)
    if match:
        value = (
            float(match[1].replace(",", "."))
            if match[1].count(",") == 0 or len(match[1].split(",")[1]) < 3
            else float(match[1].replace(",", ""))
        )
        if match[2]:
            value = value / float(match[2]) if float(match[2]) else value
        if match[3]:
            value += _GLYPHS[match[3]]
        tail = match[4] or ""
        if tail and tail not in UNITS:
            return None, i, ""
        i += 1
        if not tail and i < count:
            again = re.match(r"(\d)/(\d)\Z", words[i])
            if again and again[2] != "0":
                return value + float(again[1]) / float(again[2]), i + 1, ""
            if words[i] in _GLYPHS:
                return value + _GLYPHS[words[i]], i + 1, ""
            more = _and_part(words, i)
            if more is not None:
                return value + more[0], more[1], ""
        return value, i, tail
    if word in _GLYPHS:
        return _GLYPHS[word], i + 1, ""
    if word in ("half", "quarter", "third"):
        return _PARTS[word], i + 1, ""
    if word in ("couple", "dozen"):
        return (2.0 if word == "couple" else 12.0), i + 1, ""
    if word == "a" and i + 1 < count and words[i + 1] in ("hundred", "half", "quarter", "third"):
        i += 1
        if words[i] != "hundred":
            return _PARTS[words[i]], i + 1, ""
        whole, at = 1, i
    elif word in _SMALL or word in _TEN or ("-" in word and word.split("-")[0] in _TEN):
        whole, at = _below_hundred(words, i)
    else:
        return None, i, ""
    if at < count and words[at] == "hundred":
        whole, at = whole * 100, at + 1
        low, behind = _below_hundred(words, at + 1 if at < count and words[at] == "and" else at)
        if low:
            whole, at = whole + low, behind
    elif at < count and words[at] == "thousand":
        whole, at = whole * 1000, at + 1
    elif 1 <= whole <= 9 and at < count:
        # "four fifty", "three seventy five"
        low, behind = _below_hundred(words, at)
        if low >= 10:
            whole, at = whole * 100 + low, behind
    if at + 1 < count and words[at] == "point" and words[at + 1] in _SMALL and _SMALL[words[at + 1]] < 10:
        return whole + _SMALL[words[at + 1]] / 10, at + 2, ""
    if at < count and words[at] in _PARTS:
        return float(whole * _PARTS[words[at]]), at + 1, ""
    more = _and_part(words, at)
    if more is not None:
        return whole + more[0], more[1], ""
    return float(whole), at, ""


def _below_hundred(words: Sequence[str], i: int) -> tuple[int, int]:
    if i >= len(words):
        return 0, i
    word = words[i]
    if "-" in word:
        tens, _, ones = word.partition("-")
        return _TEN.get(tens, 0) + _SMALL.get(ones, 0), i + 1
    if word in _TEN:
        if i + 1 < len(words) and 0 < _SMALL.get(words[i + 1], 0) < 10:
            return _TEN[word] + _SMALL[words[i + 1]], i + 2
        return _TEN[word], i + 1
    if word in _SMALL:
        return _SMALL[word], i + 1
    return 0, i


def _and_part(words: Sequence[str], i: int) -> tuple[float, int] | None:
    """ "and a half", "and three quarters" at ``i``, and the index behind it."""
    if i + 1 >= len(words) or words[i] != "and":
        return None
    at, times = i + 1, 1.0
    if words[at] in ("a", "an"):
        at += 1
    elif words[at] in _SMALL and _SMALL[words[at]] < 10:
        times, at = float(_SMALL[words[at]]), at + 1
    if at < len(words) and words[at] in _PARTS:
        return times * _PARTS[words[at]], at + 1
    return None
