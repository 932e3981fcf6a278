"""The pair check: do two statements of one amount agree?

A stated number stands for the interval that rounds to it; the ingredient's weight per cup is an interval; the pair
agrees if careful intervals meet, is loose if only easy-going ones do, and disagrees otherwise.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount, Interval
from pipeline.measure.express import also, expressed
from pipeline.measure.ingredients import Row, Weight
from pipeline.measure.readings import say_grams
from pipeline.measure.slips import Slip, likely_slip
from pipeline.measure.units import EACH, Standard, Unit
from pipeline.measure.weighing import grams, interval, piece

_METRIC_CUP = 0.058  # 250 ml is 5.7 % more than a US cup (NIST Handbook 44, Appendix C)

# British tables count an ounce as 25 or 30 g, and print 25, 50, 75, 100 or 125 g beside one to four whole ounces.
# Common practice, no source.
_ROUND_OUNCES, _ROUND_GRAMS = 4, (25, 30)
_ROUND_OUNCE = Slip("round-ounce", "an ounce rounded to 25 or 30 g, as British tables have it")

# What cards in countries with a cup of 250 ml print beside parts of one, in ml. Common practice, no source.
_CARD_ML = {Fraction(1, 4): 60, Fraction(1, 3): 75, Fraction(2, 3): 150, Fraction(3, 4): 175}

Status = Literal["agrees", "loose", "disagrees", "unknown"]


class Verdict(NamedTuple):
    """What a pair check found.

    ``off``: how much more the first says than the second, relative to the second (0.32 is 32 % more), at typical
    weights. ``fixes``: the corrected pair with the first kept, then with the second kept. ``row``: the table row that
    it rests on, None where none was needed or found. ``why``: one sentence.
    """

    status: Status
    off: float
    slip: Slip | None
    fixes: tuple[str, ...]
    row: Row | None
    why: str


def compare(a: Amount, b: Amount, row: Row | None, size: str = "", standard: Standard = "us") -> Verdict:
    """Compares two statements of one amount of one ingredient. Never raises for amounts that the grammar reads."""
    direct = a.unit.kind == b.unit.kind and a.unit.kind != "count"
    sides = []
    for x in (a, b):
        if direct:
            sides.append([interval(x, w, standard) for w in ("stated", "careful", "honest")])
        else:
            found = [grams(x, row, w, size, standard) for w in ("stated", "careful", "honest")]
            sides.append([f for f in found if f is not None])
    if not all(sides):
        return Verdict("unknown", 0.0, None, (), row, _cannot(a, b, row))
    (mid_a, near_a, far_a), (mid_b, near_b, far_b) = sides
    off = float(mid_a.middle() / mid_b.middle() - 1) if mid_b.middle() > 0 else 0.0
    used = None if direct else row
    why = _why(used, a, b, size)
    if near_a.meets(near_b) or (standard in ("metric", "australian") and (_on_a_card(a, b) or _on_a_card(b, a))):
        return Verdict("agrees", off, None, (), used, why)
    loose = far_a.meets(far_b)
    slip = likely_slip(a, b, used, size, standard, loose)
    # Half a litre is two cups in many a kitchen: a metric cup for a US one is loose, however large the amount.
    loose = loose or (slip is not None and slip.id == "cup-standard" and abs(off) < _METRIC_CUP)
    if slip is None and (_round_ounce(a, b) or _round_ounce(b, a)):
        loose, slip = True, _ROUND_OUNCE

    def put(base: Interval, of: Amount, like: Amount) -> str | None:
        same = also(base.low, like, of, standard) if direct and base.low == base.high else None
        return same or expressed(base, like, used, size, standard, direct)

    said_a, said_b = _said(a, size), _said(b, size)
    typed = _pair(said_a, said_b)
    fixes = (_pair(said_a, put(mid_a, a, b)), _pair(put(mid_b, b, a), said_b))
    new = tuple(f for f in fixes if f and _close(f) != _close(typed))
    return Verdict("loose" if loose else "disagrees", off, slip, new, used, why)


def _on_a_card(cups: Amount, ml: Amount) -> bool:
    """Whether these are cups of 250 ml and what a card prints beside them: 1/3 cup and 75 ml, 1 3/4 cups and 425."""
    if (cups.unit.name, ml.unit.name) != ("cup", "milliliter") or cups.low != cups.high or ml.low != ml.high:
        return False
    whole, part = divmod(cups.low, 1)
    return part in _CARD_ML and ml.low == 250 * whole + _CARD_ML[part]


def _round_ounce(grams: Amount, ounces: Amount) -> bool:
    """Whether this is one of those round pairs: 25 g / 1 oz, 30 g / 1 oz, 100 g / 4 oz, 125 g / 4 oz."""
    if (grams.unit.name, ounces.unit.name) != ("gram", "ounce") or ounces.low != ounces.high or grams.low != grams.high:
        return False
    whole = (
        ounces.low.denominator == 1 and ounces.low <= _ROUND_OUNCES and any(grams.low % g == 0 for g in _ROUND_GRAMS)
    )
    return bool(whole and abs(grams.stated().middle() / ounces.stated().middle() - 1) < Fraction(1, 8))


def _close(words: str | None) -> str:
    return "".join((words or "").split()).casefold()


# Counted things of about one size; cans, bunches and packets come in any.
_OF_ONE_SIZE = ("", "stick", "clove", "leaf", "stalk", "slice", "ear", "drop")


def of_one_size(unit: Unit) -> bool:
    return unit.name in _OF_ONE_SIZE


def comparable(a: Amount, b: Amount) -> bool:
    """Whether two statements of one line can check each other. What a line says of a can or a bunch is the only thing
    known of it, and two counts ("1 head (10 cloves)") are no weights."""
    if "length" in (a.unit.kind, b.unit.kind) and a.unit.kind != b.unit.kind:
        return False
    units = [x.unit for x in (a, b) if x.unit.kind == "count"]
    return len(units) < 2 and all(map(of_one_size, units))


def _said(amount: Amount, size: str) -> str:
    return f"{amount.text} {size}" if amount.unit is EACH and size not in ("", "fruit") else amount.text


def _pair(a: str | None, b: str | None) -> str | None:
    """Both halves of a corrected pair; one where the other would only say it again."""
    if not a or not b:
        return None
    return a if a == b else f"{a} or {b}"


def _cannot(a: Amount, b: Amount, row: Row | None) -> str:
    if row is None:
        return "the ingredient table has no such ingredient"
    x = a if a.unit.kind == "count" else b
    if x.unit.kind == "count":
        return f"the table does not say what one {x.unit.name or 'piece'} of {row.name} weighs"
    return f"the table does not say what a cup of {row.name} weighs"


def _why(row: Row | None, a: Amount, b: Amount, size: str) -> str:
    """What the verdict rests on: a cup's weight, or a piece's, and its source."""
    if row is None:
        return "both measure the same thing, so no ingredient weight is needed"
    grounds = []
    if "volume" in (a.unit.kind, b.unit.kind) and row.cup:
        grounds.append(f"one US cup of {row.name}{f', {row.state}' if row.state else ''} weighs {spread(row.cup)}")
    counted = next((x.unit for x in (a, b) if x.unit.kind == "count"), None)
    if counted is not None and (weight := piece(row, counted, size)):
        what = " ".join(w for w in (size if size != "fruit" else "", counted.name or "piece") if w)
        grounds.append(f"one {what} of {row.name} weighs {spread(weight)}")
    return f"{' and '.join(grounds)} ({row.source})"


@lru_cache(maxsize=2048)
def spread(weight: Weight) -> str:
    """A weight in words: "115 to 155 g, usually 137 g"."""
    low, typical, high = (say_grams(x).text for x in (weight.low, weight.typical, weight.high))
    return typical if low == high else f"{low.removesuffix(' g')} to {high}, usually {typical}"
