"""What a slip of the tongue looks like: the written number with a word, a digit or the unit changed.

Somebody else's number is anything; a slip is near the number that it is a slip of, not in size but in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.compare.misheard import misheard
from pipeline.measure.amount import Amount
from pipeline.measure.heat import Duration, Heat

# Below this much as good as any number is near another. Our own judgement, tried on the marked films.
_FEW = 10


def slip_of_number(said: Fraction, written: Fraction) -> bool:
    """Whether ``said`` may be a slip for ``written`` in the same unit: a teen for a ten, a ten or a hundred more or
    less, a figure lost or gained, two that changed places, a half for one and a half."""
    if said == written or said <= 0 or written <= 0:
        return False
    if misheard(said, written) or misheard(written, said):
        return True
    gap = abs(said - written)
    if said.denominator > 1 and said.denominator == written.denominator:
        return gap.denominator == 1 and gap <= 2
    if said.denominator > 1 or written.denominator > 1:
        return False
    mine, theirs = str(said), str(written)
    if max(said, written) < _FEW:
        return False
    if said == written * 10 or written == said * 10:
        return True
    if len(mine) == len(theirs):
        if sorted(mine) == sorted(theirs):
            return True
        off = [n for n in range(len(mine)) if mine[n] != theirs[n]]
        return len(off) == 1 and (len(mine) > 2 or (gap in (10, 20) and mine[1] != "0"))
    long, short = sorted((mine, theirs), key=len, reverse=True)
    return len(long) == len(short) + 1 and any(long[:n] + long[n + 1 :] == short for n in range(len(long)))


def slip_of_ends(low: Fraction, high: Fraction, other_low: Fraction, other_high: Fraction) -> bool:
    """The same of a range, or of a number that is one of its ends, too."""
    if low < high and high - low == other_high - other_low and abs(low - other_low) in (10, 20, 30):
        return True
    lows = low == other_low or slip_of_number(low, other_low)
    highs = high == other_high or slip_of_number(high, other_high)
    return lows and highs and (low, high) != (other_low, other_high)


def slip_of_time(said: Duration, written: Duration) -> bool:
    """Seconds for minutes, minutes for hours, or a slip in the number of either."""
    for by in (60, 24):
        if (said.low, said.high) in ((written.low * by, written.high * by), (written.low // by, written.high // by)):
            return True
    for unit in (1, 60, 3600):
        if written.low % unit == 0 and said.low % unit == 0 and max(said.low, written.low) >= unit:
            ends = (Fraction(n, unit) for n in (said.low, said.high, written.low, written.high))
            if max(said.high, written.high) < 200 * unit and slip_of_ends(*ends):
                return True
    return False


def slip_of_heat(said: Heat, written: Heat) -> bool:
    """A heat of the other scale, or a slip in the number."""
    if said.scale != written.scale:
        return (said.low, said.high) == (written.low, written.high)
    return slip_of_ends(said.low, said.high, written.low, written.high)


def slip_of_amount(said: Amount, written: Sequence[Amount]) -> bool:
    """The same number of another unit of that kind, or a slip in the number."""
    for one in written:
        if one.unit == said.unit:
            if slip_of_ends(said.low, said.high, one.low, one.high):
                return True
        elif one.unit.kind == said.unit.kind != "count" and (said.low, said.high) == (one.low, one.high):
            return True
    return False
