"""Numbers that sound like another: "fifteen" for fifty, "to" for two, a word that the captions dropped."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from pipeline.measure.amount import Amount
from pipeline.measure.heat import Duration, Heat

How = Literal["", "sounds", "dropped"]

_ONES = """
    zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen
    eighteen nineteen
    """.split()  # noqa: SIM905
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_PARTS = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 8: "eighth"}
# Pairs that ears and machine captions take for each other: from memory.
_ALIKE = frozenset(
    frozenset(pair)
    for pair in (
        ("nine", "five"), ("seven", "eleven"), ("thirteen", "thirty"), ("fourteen", "forty"), ("fifteen", "fifty"),
        ("sixteen", "sixty"), ("seventeen", "seventy"), ("eighteen", "eighty"), ("nineteen", "ninety"),
    )
)  # fmt: skip


def spelt(number: Fraction) -> tuple[str, ...]:
    """A number's words, one for each that is said ("two hundred seventy eight"); () for one that nobody says so."""
    whole, part = divmod(number, 1)
    words = list(_whole(int(whole))) if whole else []
    if whole >= 10_000:
        return ()
    if part:
        below = part.denominator
        if below in _PARTS:
            words += [_ONES[part.numerator], _PARTS[below]] if part.numerator > 1 else [_PARTS[below]]
        else:
            digits = f"{float(part):.2f}".rstrip("0")[2:]
            words += ["point", *(_ONES[int(d)] for d in digits)]
    return tuple(words)


def _whole(n: int) -> list[str]:
    words: list[str] = []
    if n >= 1000:
        words += [*_whole(n // 1000), "thousand"]
        n %= 1000
    if n >= 100:
        words += [_ONES[n // 100], "hundred"]
        n %= 100
    if n >= 20:
        words.append(_TENS[n // 10])
        n %= 10
    if n:
        words.append(_ONES[n])
    return words


def misheard(said: Fraction, written: Fraction) -> How:
    """Whether ``said`` may be ``written`` misheard ("sounds") or with a word lost ("dropped")."""
    mine, theirs = spelt(said), spelt(written)
    if not mine or not theirs or mine == theirs:
        return ""
    if len(mine) == len(theirs):
        off = [frozenset(pair) for pair in zip(mine, theirs, strict=True) if pair[0] != pair[1]]
        if len(off) == 1 and off[0] in _ALIKE:
            return "sounds"
    if mine[0] in ("two", "four") and tuple(word for word in mine[1:] if word != "hundred") == theirs:
        return "sounds"  # "to forty grams"
    said_so = mine[1:] if len(mine) > 1 and mine[0] == "one" else mine  # "hundred grams" of four hundred
    return "dropped" if _within(said_so, theirs) else ""


def _within(short: Sequence[str], long: Sequence[str]) -> bool:
    """Whether ``short`` is ``long`` with one or more words left out."""
    rest = iter(long)
    return len(short) < len(long) and all(word in rest for word in short)


def amounts_alike(said: Amount, written: Sequence[Amount]) -> How:
    """The same for an amount beside those written: only in the unit that was said."""
    article = said.text.lower().startswith(("a ", "an "))
    many = next((w.low for w in written if w.unit.kind == "count" and w.low > 1), None)
    words = said.text.lower().split()
    if said.high < 1 and words and words[-1] == said.unit.plural:
        return "dropped"  # "a half cups": the number before it was lost
    for one in written:
        if article and one.unit == said.unit and said.low == 1 and one.high < 1:
            return "dropped"  # of "a quarter of a teaspoon" the end was caught
        if one.unit != said.unit:
            continue
        for by in (1, many) if many and one.unit.kind != "count" else (1,):  # "425 grams a can"
            if how := _ends(said.low, said.high, one.low / by, one.high / by):
                return how
    return ""


def times_alike(said: Duration, written: Duration) -> How:
    if said.text.lower().startswith("an hour") and said.low == said.high == 3600 and written.low == 1800:
        return "dropped"  # of "half an hour" the end was caught
    for seconds in (1, 60, 3600):
        how = _ends(*(Fraction(n, seconds) for n in (said.low, said.high, written.low, written.high)))
        if how and written.low % (seconds // 4 or 1) == 0:
            return how
    return ""


def heats_alike(said: Heat, written: Heat) -> How:
    return _ends(said.low, said.high, written.low, written.high) if said.scale == written.scale else ""


def _ends(low: Fraction, high: Fraction, other_low: Fraction, other_high: Fraction) -> How:
    if low == high and other_low != other_high:  # of a range only one end was caught
        return "dropped" if low in (other_low, other_high) else ""
    first, second = misheard(low, other_low), misheard(high, other_high)
    if first and (second or high == other_high or low == high):
        return first
    return second if second and low == other_low else ""
