"""From any amount to grams: through an ingredient's weight per cup or per piece."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from pipeline.measure.amount import Amount, Interval
from pipeline.measure.ingredients import Row, Weight
from pipeline.measure.units import EACH, Standard, Unit

Width = Literal["stated", "careful", "honest"]


def interval(amount: Amount, width: Width, standard: Standard = "us") -> Interval:
    """The amount in g, ml or mm, as narrow or wide as asked. Raises ValueError for a count."""
    if width == "stated":
        return amount.stated(standard)
    return amount.careful(standard) if width == "careful" else amount.honest(standard)


def piece(row: Row, unit: Unit, size: str = "") -> Weight | None:
    """Grams of one piece ("1 large egg", "1 clove"), or None where the table has none.

    Without a size, all sizes that the row has count, and the usual one is typical.
    """
    counts = row.counts
    if unit is not EACH and unit.name:
        return counts.get(f"{size} {unit.name}".strip()) or counts.get(unit.name)
    if size in counts:
        return counts[size]
    if size and size not in ("fruit", "fat", "plump", "thick", "thin", "big", "tiny"):
        return counts.get("")
    sized = {k: w for k, w in counts.items() if k in ("small", "medium", "large")}
    if "" in counts or not sized:
        return counts.get("")
    usual = sized.get("large" if "egg" in row.name else "medium") or next(iter(sized.values()))
    return Weight(min(w.low for w in sized.values()), usual.typical, max(w.high for w in sized.values()))


def grams(amount: Amount, row: Row | None, width: Width, size: str = "", standard: Standard = "us") -> Interval | None:
    """The amount in grams, or None where the table can't tell.

    ``stated`` takes the row's typical weight, ``careful`` and ``honest`` its whole range.
    """
    if amount.unit.kind == "mass":
        return interval(amount, width, standard)
    if row is None:
        return None
    if amount.unit.kind == "volume":
        per, volume = row.density(), interval(amount, width, standard)
    elif amount.unit.kind == "count":
        per, volume = piece(row, amount.unit, size), _count(amount, width)
    else:
        return None
    if per is None:
        return None
    if width == "stated":
        return Interval(volume.low * per.typical, volume.high * per.typical)
    return volume.times(Interval(per.low, per.high))


def _count(amount: Amount, width: Width) -> Interval:
    extra = {"stated": Fraction(0), "careful": amount.near, "honest": amount.far}[width]
    return Interval(max(amount.low - extra, Fraction(0)), amount.high + extra)
