"""Amounts as cooks type them: a number, a unit, the words around them, and sums such as "1 tbsp + 1 tsp"."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.numbers import Number, read_number
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, WHOSE, Unit, factor, find_unit, named, unit

F = Fraction

_ABOUT = r"about|approximately|approx\.?|roughly|around|circa|ca\.|c\.(?=\s?\d)|nearly|almost|~|≈|∼"
_LESS = r"scant|barely|just under|(?:a (?:little|bit|touch)|slightly) (?:under|less than)|<|≤"
_MORE = r"generous|just over|(?:a (?:little|bit|touch)|slightly) (?:over|more than)|good|>=?|≥"
_HEAP = r"heaped|heaping|rounded|mounded"
_QUALIFIER = re.compile(
    rf"(?:(?P<about>{_ABOUT})|(?P<less>{_LESS})|(?P<more>{_MORE})|(?P<heap>{_HEAP})|(?P<plain>level(?:led)?|exactly"
    r"|at least|up to|full|an additional|another))(?:\s*(?=\.?[\d¼-¾⅐-⅞])|\s+)",
    re.IGNORECASE,
)
_STATE = re.compile(r"(?:(?:lightly|firmly|loosely|tightly|well)[ -])?(?:packed|sifted)\s+", re.IGNORECASE)
_WORDISH = re.compile(r"[^\W\d_]+\.?|[″\"]|#(?!\d)")  # 2# of beef are pounds
_TWO_WORDS = re.compile(
    r"(?P<fluid>(?:(?:fl|fluid|liquid)\.?\s+|fl\.)(?:oz|ounce)s?\b\.?)"
    r"|(?P<spoon>table|tea|dessert)[ -]spoon(?:ful)?s?\b"
    r"|c(?:uill?)?\.?\s*à\s*(?P<table>s(?:oupe)?\b\.?)|c(?:uill?)?\.?\s*à\s*(?P<tea>c(?:af[ée])?\b\.?)",
    re.IGNORECASE,
)
_WHOSE = re.compile(
    rf"(?P<word>{'|'.join(re.escape(w) for w in sorted(WHOSE, key=len, reverse=True))})[ -]+(?=[a-z])", re.IGNORECASE
)
_WHOSE_AFTER = re.compile(r"\s*\((?P<word>us|u\.s\.|metric|australian|imperial|uk|british)\)", re.IGNORECASE)
_ARTICLE = re.compile(r"an?\s+", re.IGNORECASE)
_AND_MORE = re.compile(r"\+(?=\s*[a-z])", re.IGNORECASE)
_TO = re.compile(r"\s*[-–—]\s*(?=\d)|\s+to\s+(?=\d)", re.IGNORECASE)
_OF_A = re.compile(r"\s+(?:of\s+)?an?(?=\s)", re.IGNORECASE)
_AND_PART = re.compile(
    r"\s+and\s+(?:an?\s+|one[ -])?(?P<part>half|quarter|third|two[ -]thirds|three[ -]quarters)\b"
    r"|\s+and\s+(?P<typed>[1-7]/[2-8]\b|[¼-¾⅐-⅞])",
    re.IGNORECASE,
)
_PARTS = {
    "half": F(1, 2), "quarter": F(1, 4), "third": F(1, 3), "two thirds": F(2, 3), "three quarters": F(3, 4),
}  # fmt: skip
_HEAT = re.compile(r"\s?c\b(?!\s+[^\W\d_])", re.IGNORECASE)
_HOT = 15  # "80 g water, 26C": so many cups are said in full, if ever
_OR_TWO = re.compile(r"\s+or (?P<more>two|three|so)\b", re.IGNORECASE)
_FROM_TO = re.compile(r"between\s+(?=[\d¼-¾⅐-⅞])", re.IGNORECASE)
_DOZEN = re.compile(r"\s*(?:dozen|do?z\b\.?)(?!\w)", re.IGNORECASE)
_JOIN = re.compile(r"\s*(?:\+|&)\s*|\s+(?:plus|and)\s+", re.IGNORECASE)
_LESSEN = re.compile(r"\s*−\s*|\s+(?:minus|less)\s+", re.IGNORECASE)


def read_unit(text: str, pos: int) -> tuple[Unit, int] | None:
    """The unit that begins at ``pos`` (after a space, a hyphen or nothing), and where it ends."""
    start = pos
    while text[start : start + 1] in (" ", "\u00a0", "\u202f"):
        start += 1
    hyphen = text[start : start + 1] in ("-", "‑") and start == pos
    if hyphen:
        start += 1
    if start > pos and (m := _WHOSE.match(text, start)):  # "1 metric cup", "2 Australian tablespoons"
        got = read_unit(text, m.end() - 1)
        theirs = named(got[0], m["word"]) if got else None
        return (theirs, got[1]) if got and theirs else None
    got = _unit_word(text, start, hyphen)
    if got and got[0].kind == "volume" and (m := _WHOSE_AFTER.match(text, got[1])):  # "1 pint (imperial)"
        theirs = named(got[0], m["word"])
        return (theirs, m.end()) if theirs else got
    return got


def _unit_word(text: str, start: int, hyphen: bool) -> tuple[Unit, int] | None:
    if m := _TWO_WORDS.match(text, start):
        spoon = m["spoon"] or ("table" if m["table"] else "tea")
        return unit("fluid ounce" if m["fluid"] else f"{spoon.lower()}spoon"), m.end()
    m = _WORDISH.match(text, start)
    if not m:
        return None
    word, end = m.group(), m.end()
    if text[end : end + 1].isalnum() and not text[end : end + 1].isdigit() and word[-1] != ".":  # "1 tsp.vanilla"
        return None
    glued = start > 0 and text[start - 1].isdigit()
    if word.lower() == "in" and not hyphen and not glued:  # 1in and 1-in are inches, "2 in the pan" is not
        return None
    found = find_unit(word)
    if found is None and word.endswith("."):
        word, end = word[:-1], end - 1
        found = find_unit(word)
    if found is None or (found.kind == "count" and text[end : end + 1] == "-" and text[end + 1 : end + 2].isalpha()):
        return None  # "1 thumb-sized piece"
    if word.endswith(".") and end == len(text) and len(word) > 4:  # a sentence's full stop, not an abbreviation's
        end -= 1
    return found, end


def _and_part(text: str, number: Number, pos: int) -> tuple[Number, int] | None:
    """``a cup and a half``, ``1 cup and 1/2``: the whole number, and where it ends; None where a unit comes after, for
    that is a sum."""
    m = _AND_PART.match(text, pos) if number.low == number.high and number.low.denominator == 1 else None
    if m is None or read_unit(text, m.end()) or _OF_A.match(text, m.end()):
        return None
    typed = read_number(text, m.start("typed")) if m["typed"] else None
    value = number.low + (typed[0].low if typed else _PARTS[" ".join(re.split(r"[ -]", m["part"].lower()))])
    return Number(value, value, -1), m.end()


def or_two(text: str, pos: int) -> tuple[Fraction, int] | None:
    """``or two`` after one of something ("a handful or two"): the most of it, and where it ends."""
    m = _OR_TWO.match(text, pos)
    return (F({"two": 2, "three": 3}.get(m["more"].lower(), 1)), m.end()) if m else None


def _from_to(text: str, pos: int) -> tuple[Number, int] | None:
    """``between 2 and 3``, and where it ends."""
    m = _FROM_TO.match(text, pos)
    low = read_number(text, m.end()) if m else None
    between = re.compile(r"\s+and\s+").match(text, low[1]) if low else None
    high = read_number(text, between.end()) if between else None
    return (replace(low[0], high=high[0].high), high[1]) if low and high and high[0].low > low[0].high else None


class Read(NamedTuple):
    """An amount found in a text: ``state`` holds words such as "packed" that stood before the unit."""

    amount: Amount
    start: int
    end: int
    state: str = ""


def read_single(text: str, pos: int, words: bool = True, bare: bool = False) -> Read | None:
    """One number and its unit at ``pos``, with words such as "about" or "heaped"; None if there is none.

    ``bare`` lets a number without a unit stand, as a count of things.
    """
    qualifier, state, start = "", "", pos
    if (m := _ARTICLE.match(text, pos)) and _QUALIFIER.match(text, m.end()):  # "a scant 1/2 cup"
        lead = read_single(text, m.end(), words=False, bare=bare)
        if lead is not None:
            return replace(lead, start=start, amount=replace(lead.amount, text=text[start : lead.end].strip()))
    while m := _QUALIFIER.match(text, pos):
        qualifier = next((k for k in ("about", "less", "more", "heap") if m[k]), qualifier)
        pos = m.end()
    got = _from_to(text, pos) or read_number(text, pos, words)
    if got is None:
        return None
    number, end = got
    if m := _DOZEN.match(text, end):
        number, end = replace(number, low=number.low * 12, high=number.high * 12), m.end()
    if number.high < 1 and (m := _OF_A.match(text, end)) and read_unit(text, m.end()):
        end = m.end()  # "1/2 a teaspoon"
    if m := _AND_MORE.match(text, end):  # "2+ cups"
        qualifier, end = "more", m.end()
    after = end
    while text[after : after + 1] in (" ", "\u00a0"):
        after += 1
    while (m := _QUALIFIER.match(text, after)) and after > end:
        qualifier = next((k for k in ("about", "less", "more", "heap") if m[k]), qualifier)
        after = m.end()
        end = after - 1
    if (m := _STATE.match(text, after)) and after > end and read_unit(text, m.end()):
        state, end = m.group().strip(), m.end() - 1
    unit = None if number.low >= _HOT and _HEAT.match(text, end) else read_unit(text, end)
    if unit is None:
        if not bare or (text[end : end + 1].isupper() and not text[start:end].isalpha()):  # "7UP"
            return None
        # "a" or "an" alone counts only at the very start of a line; the caller says so with `bare`
        return Read(amount_of(number, EACH, text[start:end].strip(), qualifier), start, end, state)
    if part := _and_part(text, number, unit[1]):
        number, unit = part[0], (unit[0], part[1])
    if number.low == number.high == 1 and (most := or_two(text, unit[1])):
        number, unit = replace(number, high=most[0]), (unit[0], most[1])
    if number.low == number.high and unit[0].kind != "count" and (m := _TO.match(text, unit[1])):
        # "500 g - 600 g": one amount, though its unit is said twice
        other = read_number(text, m.end())
        again = read_unit(text, other[1]) if other else None
        if other and again and again[0] == unit[0] and other[0].low > number.low:
            number, unit = replace(number, high=other[0].high), again
    return Read(amount_of(number, unit[0], text[start : unit[1]].strip(), qualifier), start, unit[1], state)


def _sum(a: Amount, b: Amount, sign: int, text: str) -> Amount:
    ratio = F(1) if a.unit == b.unit else factor(b.unit) / factor(a.unit)
    low = max(a.low + sign * b.low * ratio, F(0))
    high = max(a.high + sign * b.high * ratio, low)
    mixed = a.parts or (a.unit != b.unit and a.unit.kind == "volume")
    parts = (*(a.parts or ((a.value, a.unit),)), (sign * b.value, b.unit)) if mixed else ()
    return replace(
        a,
        low=low,
        high=high,
        near=a.near + b.near * ratio,
        far=a.far + b.far * ratio,
        about=a.about or b.about,
        text=text,
        parts=parts,
    )


def read_amount(text: str, pos: int = 0, words: bool = True, bare: bool = False) -> Read | None:
    """An amount at ``pos``: one number and unit, or a sum ("1 tbsp + 1 tsp", "1 lb 2 oz", "1 cup less 1 tbsp")."""
    first = read_single(text, pos, words, bare)
    if first is None:
        return None
    while first.amount.unit.kind in ("mass", "volume"):
        kind = first.amount.unit.kind
        sign, start = 1, first.end
        if m := _JOIN.match(text, first.end):
            start = m.end()
        elif m := _LESSEN.match(text, first.end):
            sign, start = -1, m.end()
        elif kind == "mass" and text[start : start + 1] == " ":
            start += 1
        elif kind == "mass" and text[start : start + 1].isdigit():  # "1lb4oz"
            pass
        else:
            break
        more = read_single(text, start, words and bool(m))
        if more is None or more.amount.unit.kind != kind:
            break
        if not m and not (first.amount.unit.name == "pound" and more.amount.unit.name == "ounce"):
            break
        if sign < 0 and factor(more.amount.unit) * more.amount.high >= factor(first.amount.unit) * first.amount.low:
            break
        whole = text[first.start : more.end].strip()
        first = Read(_sum(first.amount, more.amount, sign, whole), first.start, more.end, first.state)
    return first


_SEPARATOR = re.compile(r"\s*(?:/|=|≈|\||;|·|,(?!\d))\s*|\s+or\s+|\s*\(\s*", re.IGNORECASE)


@lru_cache(maxsize=4096)
def read_statements(text: str) -> tuple[Read, ...] | None:
    """All statements in a text that holds nothing but amounts ("1 cup or 240 g", "14 oz / 400 g"), else None."""
    reads: list[Read] = []
    pos = len(text) - len(text.lstrip())
    while True:
        got = read_amount(text, pos)
        if got is None:
            return None
        reads.append(got)
        pos = got.end
        while text[pos : pos + 1] == ")":
            pos += 1
        if not text[pos:].strip(" ."):
            return tuple(reads)
        m = _SEPARATOR.match(text, pos)
        if m is None:
            return None
        pos = m.end()
