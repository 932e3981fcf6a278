"""Whether two statements mean one amount, which of two is more, and what two parts come to."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import word_set
from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import compare
from pipeline.measure.units import EACH, factor

# Exact amounts that are so much apart are two.
_ALMOST = Fraction(103, 100)
CONTAINERS = word_set("can jar packet bag box bottle carton block")


def agree(one: Sequence[Amount], other: Sequence[Amount], row: Row | None, size: str = "") -> bool:
    """Whether all that can be compared of two statements means one amount (at least one pair of them can)."""
    known = False
    for b in other:
        if b.unit is not EACH and any(a.unit == b.unit and (a.low, a.high) == (b.low, b.high) for a in one):
            return True  # whatever a second measure says
        for a in one:
            if a.unit.kind == b.unit.kind == "count":
                if a.unit != b.unit and EACH not in (a.unit, b.unit):
                    continue
                if a.unit == b.unit:
                    if (a.low, a.high) != (b.low, b.high):
                        return False
                    known = True
                continue
            if {a.unit.name, b.unit.name} & CONTAINERS:
                continue  # a can weighs what is printed on it
            status = compare(a, b, row, size).status
            if status == "disagrees" or _in_one_measure(a, b):
                return False
            known = known or status in ("agrees", "loose")
    return known


def _in_one_measure(a: Amount, b: Amount) -> bool:
    """Whether two exact amounts in one measure differ: four cups are not three and three quarters."""
    if a.unit != b.unit or a.about or b.about:
        return False
    return max(a.value, b.value) > min(a.value, b.value) * _ALMOST


def size_of(amounts: Sequence[Amount], row: Row | None) -> tuple[str, Fraction] | None:
    """A number to compare amounts of one thing by, and of what it is: grams, else millilitres, else a count."""
    for kind in ("mass", "volume", "count"):
        for amount in amounts:
            if amount.unit.kind != kind:
                continue
            if kind == "count":
                return "count", amount.value
            value = amount.value * factor(amount.unit)
            density = row.density() if row else None
            if kind == "mass":
                return "g", value
            return ("g", value * density.typical) if density else ("ml", value)
    return None


def _family(amount: Amount) -> str:
    """Metric or not, weight or volume: a line has one statement of each."""
    if amount.unit.kind == "count":
        return amount.unit.name
    if amount.unit.kind == "mass":
        return "metric" if amount.unit.name in ("gram", "kilogram", "milligram") else "ounces"
    return "jug" if amount.unit.symbol in ("ml", "cl", "dl", "l") else "cups"


def with_measures(told: Sequence[Amount], amounts: Sequence[Amount]) -> list[Amount]:
    """The statements, and those of ``amounts`` in a measure in which there is none yet."""
    known = {_family(a) for a in told}
    result = list(told)
    for amount in amounts:
        if _family(amount) not in known and amount.unit is not EACH:
            result.append(amount)
            known.add(_family(amount))
    return result


def total_of(one: Sequence[Amount], other: Sequence[Amount]) -> list[Amount] | None:
    """Two parts added, in each measure that both were said in; None where there is none."""
    added: list[Amount] = []
    for a in one:
        b = next((b for b in other if b.unit == a.unit), None)
        if b is not None:
            near, far = a.near + b.near, a.far + b.far
            added.append(Amount(a.low + b.low, a.high + b.high, a.unit, near, far, a.about or b.about))
    return added or None


def adds_up(parts: Sequence[Sequence[Amount]], whole: Sequence[Amount]) -> bool:
    """Whether two or more parts come to the whole, in some measure that all were said in."""
    if len(parts) < 2:
        return False
    total: Sequence[Amount] | None = parts[0]
    for part in parts[1:]:
        total = total_of(total, part) if total is not None else None
    if total is None:
        return False
    return any(a.unit == b.unit and (a.low, a.high) == (b.low, b.high) for a in total for b in whole)
