"""Numbers as cooks type them: 650, 1.5, 1,5, 1,000, ½, 1½, 1 1/2, 1-1/2, half, 2–3, 2 to 3."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

GLYPHS: dict[str, Fraction] = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
    "⅐": Fraction(1, 7), "⅑": Fraction(1, 9), "⅒": Fraction(1, 10),
}  # fmt: skip
# The same for a pattern's square brackets: as two stretches they compile in a tenth of the time that a list of them
# takes, and patterns that know fractions are many.
GLYPH_RANGE = "¼-¾⅐-⅞"

WORDS: dict[str, Fraction] = {
    "one": Fraction(1), "two": Fraction(2), "three": Fraction(3), "four": Fraction(4), "five": Fraction(5),
    "six": Fraction(6), "seven": Fraction(7), "eight": Fraction(8), "nine": Fraction(9), "ten": Fraction(10),
    "eleven": Fraction(11), "twelve": Fraction(12), "a half": Fraction(1, 2), "one half": Fraction(1, 2),
    "half": Fraction(1, 2), "a quarter": Fraction(1, 4), "one quarter": Fraction(1, 4),
    "quarter": Fraction(1, 4), "a third": Fraction(1, 3), "one third": Fraction(1, 3),
    "two thirds": Fraction(2, 3), "three quarters": Fraction(3, 4), "a couple of": Fraction(2),
    "one and a half": Fraction(3, 2), "two and a half": Fraction(5, 2), "an": Fraction(1), "a": Fraction(1),
}  # fmt: skip

# Denominators that a card may have; "14/400" is not a fraction. Nothing divides by 0: see no_number().
_DENOMINATORS = frozenset((*range(2, 17), 20, 24, 32))
_BY_NOTHING = re.compile(r"\d+ ?[/⁄] ?0+(?![\d.,]*[1-9])")

_SP = r"[^\S\r\n]"
_ONE = re.compile(
    rf"(?P<w1>\d+)(?:{_SP}?|-|{_SP}(?:and|&|\+){_SP})(?P<glyph1>[{GLYPH_RANGE}])"
    rf"|(?P<w2>\d+)(?:{_SP}+|-|{_SP}(?:and|&|\+){_SP})(?P<n2>\d+)[/⁄](?P<d2>\d+)(?![\d/⁄])"
    r"|(?P<n3>\d+) ?[/⁄] ?(?P<d3>\d+)(?![\d/⁄])"
    rf"|(?P<glyph4>[{GLYPH_RANGE}])"
    r"|(?P<thousands>[1-9]\d{0,2}(?:[,\u00a0\u202f]\d{3})+(?:\.\d+)?)(?![\d,])"
    r"|(?P<decimal>\d*[.,]\d+)(?![\d])"
    r"|(?P<whole>\d+)"
)
_WORD = re.compile(
    "(?:" + "|".join(w.replace(" ", "[ -]") for w in sorted(WORDS, key=len, reverse=True)) + r")(?![\w'-])",
    re.IGNORECASE,
)
_RANGE = re.compile(r"\s*(?:-|–|—|‒|‑)(?!\s*to\b)\s*|-?\s+(?:to|or)\s+", re.IGNORECASE)


class Number(NamedTuple):
    """A number as typed: ``low`` and ``high`` are equal unless it is a range.

    ``places`` is how many decimals were written, -1 where it was written as a fraction.
    """

    low: Fraction
    high: Fraction
    places: int = 0


def _single(text: str, pos: int, words: bool) -> tuple[Fraction, int, int] | None:
    m = _ONE.match(text, pos)
    if m is None:
        if words and (w := _WORD.match(text, pos)):
            value = WORDS[w.group().lower().replace("-", " ")]
            end = w.end()
            if value.denominator > 1 and (more := re.compile(r" (?:of )?(?:an?|the)(?= )").match(text, end)):
                end = more.end()
            return value, -1, end
        return None
    end = m.end()
    if end - pos > 40:  # no cook's number; int() refuses thousands of digits
        return None
    if m["glyph1"]:
        return int(m["w1"]) + GLYPHS[m["glyph1"]], -1, end
    if m["d2"]:
        n, d = int(m["n2"]), int(m["d2"])
        if d in _DENOMINATORS and n < d:
            return int(m["w2"]) + Fraction(n, d), -1, end
        return Fraction(int(m["w2"])), 0, m.end("w2")
    if m["d3"]:
        n, d = int(m["n3"]), int(m["d3"])
        if d in _DENOMINATORS and n < 100:
            return Fraction(n, d), -1, end
        return Fraction(n), 0, m.end("n3")
    if m["glyph4"]:
        return GLYPHS[m["glyph4"]], -1, end
    if m["thousands"]:
        digits = re.sub("[,\u00a0\u202f]", "", m["thousands"])
        return Fraction(digits), len(digits.partition(".")[2]), end
    if m["decimal"]:
        digits = m["decimal"].replace(",", ".")
        return Fraction(digits), len(digits.partition(".")[2]), end
    return Fraction(int(m["whole"])), 0, end


def no_number(text: str) -> tuple[int, int] | None:
    """Where a fraction of nothing stands ("1/0"), which is no number at all; None where none does."""
    if "/0" not in text and "/ 0" not in text and "⁄" not in text:
        return None
    m = _BY_NOTHING.search(text)
    return m.span() if m else None


def read_number(text: str, pos: int = 0, words: bool = False) -> tuple[Number, int] | None:
    """The number or range that begins at ``pos``, and where it ends; None if none does.

    ``words`` lets small number words in ("half a", "two"). A percentage is not an amount, nor is an absurdly long
    run of digits (over 9).
    """
    first = _single(text, pos, words)
    if first is None or first[0] >= 10**9:
        return None
    low, places, end = first
    if text[end : end + 1] == "%" or text[end : end + 2] == " %":
        return None
    gap = _RANGE.match(text, end)
    if gap:
        second = _single(text, gap.end(), words)
        wide = "or" in gap.group().lower()
        if (
            second
            and low < second[0] < 10**9
            and text[second[2] : second[2] + 1] != "%"
            and (not wide or second[0] <= 2 * low + 1)
        ):
            return Number(low, second[0], max(places, second[1])), second[2]
    return Number(low, low, places), end
