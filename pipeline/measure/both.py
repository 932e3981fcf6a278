"""Both measures of one ingredient: what the weight column and the volume column print."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pipeline.measure.amount import Amount, Interval
from pipeline.measure.express import is_metric, say_amount
from pipeline.measure.fractions import kitchen
from pipeline.measure.ingredients import Row
from pipeline.measure.readings import say_grams
from pipeline.measure.units import Standard
from pipeline.measure.weighing import grams
from pipeline.measure.whole import in_whole_pieces


class Shown(NamedTuple):
    """One measure as printed. ``derived`` where it was worked out, not stated; ``error`` by how much what is printed
    is more than what was stated, relative (rounding only)."""

    text: str
    derived: bool = False
    error: float = 0.0


class Dual(NamedTuple):
    """The two measures of one ingredient, and the count where it is counted ("2 large"). None where there is none."""

    weight: Shown | None
    volume: Shown | None
    count: Shown | None  # type: ignore[assignment]  # hides tuple.count, which nobody asks for


def both(
    amounts: Sequence[Amount], row: Row | None, size: str = "", standard: Standard = "us", words: str | None = None
) -> Dual:
    """Both measures of an ingredient from all that was stated of it.

    What was stated is printed as stated (metric first); what was not is worked out from the first statement that the
    table can weigh, at the typical weight, and marked ``derived``.
    Where ``words`` (the ingredient with what is said of it) are given and mean whole pieces too big for a cup, no cup
    is worked out.
    """
    amounts = in_order(amounts)
    masses = [a for a in amounts if a.unit.kind == "mass"]
    volumes = [a for a in amounts if a.unit.kind == "volume"]
    counts = [a for a in amounts if a.unit.kind in ("count", "length")]
    count = Shown(say_amount(counts[0], standard, "" if size == "fruit" else size)) if counts else None
    weight = Shown(" / ".join(say_amount(a, standard) for a in masses)) if masses else None
    volume = Shown(" / ".join(say_amount(a, standard) for a in volumes)) if volumes else None
    if weight is None:
        weight = _weight([*volumes, *counts], row, size, standard)
    elif not is_metric(masses[0].unit) and (in_grams := _weight(masses, row, size, standard)):
        weight = Shown(f"{in_grams.text} / {weight.text}", True, in_grams.error)
    spoons = any(not is_metric(a.unit) for a in volumes)
    whole = row is not None and words is not None and not volumes and in_whole_pieces(row, words)
    if not spoons and (volumes or masses) and not whole:
        derived = _volume(volumes or masses, row, standard)
        if derived and volume:
            volume = Shown(f"{derived.text} / {volume.text}", True, derived.error)
        elif derived and count is None:
            volume = derived
    return Dual(weight, volume, count)


def in_order(amounts: Sequence[Amount]) -> list[Amount]:
    """Weights, metric ones first; volumes, metric ones last; then what is counted."""
    masses = sorted((a for a in amounts if a.unit.kind == "mass"), key=lambda a: not is_metric(a.unit))
    volumes = sorted((a for a in amounts if a.unit.kind == "volume"), key=lambda a: is_metric(a.unit))
    return [*masses, *volumes, *(a for a in amounts if a.unit.kind in ("count", "length"))]


def _weight(amounts: Sequence[Amount], row: Row | None, size: str, standard: Standard) -> Shown | None:
    got = grams_of(amounts, row, size, standard)
    if got is None:
        return None
    ends = [say_grams(g) for g in ((got.low,) if got.low == got.high else (got.low, got.high))]
    return Shown(range_words([e.text for e in ends]), True, max((float(e.error) for e in ends), key=abs))


def _volume(amounts: Sequence[Amount], row: Row | None, standard: Standard) -> Shown | None:
    got = ml_of(amounts, row, standard)
    if got is None:
        return None
    ends = [kitchen(v, standard) for v in ((got.low,) if got.low == got.high else (got.low, got.high)) if v > 0]
    return Shown(range_words([e.text for e in ends]), True, max((float(e.error) for e in ends), key=abs))


def grams_of(amounts: Sequence[Amount], row: Row | None, size: str, standard: Standard) -> Interval | None:
    """The first statement that can be weighed, in g at the typical weight; None where there is none."""
    amount = weighable(amounts, row, size, standard)
    return grams(amount, row, "stated", size, standard) if amount else None


def weighable(amounts: Sequence[Amount], row: Row | None, size: str, standard: Standard) -> Amount | None:
    """The statement that a weight is worked out from: the first that can be weighed; None where there is none.

    Of several volumes the first that lies within what all of them allow; the metric one where none does, for that is
    the same everywhere ("500 ml / 18 fl oz": an imperial jug's 18 are 511 ml, an American one's 532).
    """
    volumes = [a for a in amounts if a.unit.kind == "volume"]
    if len(volumes) > 1:
        amounts = [*_agreeing(volumes, standard), *(a for a in amounts if a.unit.kind != "volume")]
    for amount in amounts:
        got = grams(amount, row, "stated", size, standard)
        if got is not None and got.high > 0:
            return amount
    return None


def _agreeing(volumes: Sequence[Amount], standard: Standard) -> list[Amount]:
    wide = [a.honest(standard) for a in volumes]
    low, high = max(w.low for w in wide), min(w.high for w in wide)
    inside = [a for a in volumes if low <= a.value * a.one(standard) <= high]
    return inside or sorted(volumes, key=lambda a: not is_metric(a.unit))


def ml_of(amounts: Sequence[Amount], row: Row | None, standard: Standard) -> Interval | None:
    """The first statement, a weight or a volume, in ml at the typical weight; None where the table can't tell."""
    if not amounts:
        return None
    got: Interval = amounts[0].stated(standard)
    if amounts[0].unit.kind == "mass":
        density = row.density() if row else None
        if density is None:
            return None
        got = Interval(got.low / density.typical, got.high / density.typical)
    return got if got.high > 0 else None


def range_words(ends: list[str]) -> str:
    """Two ends as one range; a unit that both share is said once."""
    if len(ends) == 1 or ends[0] == ends[1]:
        return ends[0]
    low, high = ends
    if " " not in low + high:  # bare numbers
        return f"{low}–{high}"
    head, _, unit = low.rpartition(" ")
    if head and " " not in head and high.endswith((f" {unit}", f" {unit}s")):
        return f"{head}–{high}"
    return f"{low} to {high}"
