"""The sum of an ingredient's parts beside what the list says."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount, Interval
from pipeline.measure.express import is_metric
from pipeline.measure.ingredients import Row
from pipeline.measure.units import Standard
from pipeline.measure.weighing import Width, grams, interval
from pipeline.recipe.model import IngredientLine, Use

Gap = Literal["", "narrow", "wide"]


class Sum(NamedTuple):
    """Parts against the list. ``listed`` indexes the line's statement that was compared.

    ``direct`` is True where no ingredient weight was needed; ``parts`` is the sum at typical weights, in the base of
    that measure (g, ml or pieces) or in g. ``over`` and ``under``: "wide" where even easy-going rounding cannot
    explain it, "narrow" where only that can. ``nothing_left`` is True where no rest remains.
    """

    listed: int
    direct: bool
    parts: Interval
    over: Gap
    under: Gap
    nothing_left: bool


def add_up(line: IngredientLine, parts: Sequence[Use], row: Row | None, standard: Standard) -> Sum | None:
    """The sum, or None where the parts and the list have no measure in common.

    The list's own measures come first, in the order written; weights by way of the table only where none will do.
    """
    for direct in (True, False):
        for index, total in enumerate(line.amounts):
            chosen = [_fitting(use.amounts, total, direct) for use in parts]
            if all(chosen):
                got = _sum(total, [c for c in chosen if c], direct, row, line.size, standard)
                if got is not None:
                    return Sum(index, direct, *got)
    return None


def _fitting(amounts: Sequence[Amount], total: Amount, direct: bool) -> Amount | None:
    """The statement of a part that can be compared with the total's."""
    if not direct:
        return amounts[0]
    kind = total.unit.kind
    return next((a for a in amounts if a.unit.kind == kind and (kind != "count" or a.unit == total.unit)), None)


def _sum(
    total: Amount, parts: Sequence[Amount], direct: bool, row: Row | None, size: str, standard: Standard
) -> tuple[Interval, Gap, Gap, bool] | None:
    found: dict[Width, tuple[Interval, Interval]] = {}
    widths: tuple[Width, ...] = ("stated", "careful", "honest")
    for width in widths:
        whole = _base(total, width, direct, row, size, standard)
        each = [_base(p, width, direct, row, size, standard) for p in parts]
        known = [e for e in each if e is not None]
        if whole is None or len(known) < len(each):
            return None
        found[width] = (whole, Interval(_add(e.low for e in known), _add(e.high for e in known)))
    (stated_whole, stated), (near_whole, near), (far_whole, far) = (found[w] for w in widths)
    if direct and all(a.low == a.high and is_metric(a.unit) and not a.about for a in (total, *parts)):
        slack = 1 + len(parts) + stated_whole.high / 100  # what is weighed in parts is written to the gram
        near_whole, near = stated_whole, Interval(max(stated.low - slack, Fraction(0)), stated.high + slack)
    over: Gap = "wide" if far.low > far_whole.high else "narrow" if near.low > near_whole.high else ""
    under: Gap = "wide" if far.high < far_whole.low else "narrow" if near.high < near_whole.low else ""
    return stated, over, under, stated.low >= stated_whole.high


def _add(values: Iterable[Fraction]) -> Fraction:
    return sum(values, Fraction(0))


def _base(
    amount: Amount, width: Width, direct: bool, row: Row | None, size: str, standard: Standard
) -> Interval | None:
    if not direct:
        return grams(amount, row, width, size, standard)
    if amount.unit.kind == "count":
        extra = {"stated": Fraction(0), "careful": amount.near, "honest": amount.far}[width]
        return Interval(max(amount.low - extra, Fraction(0)), amount.high + extra)
    return interval(amount, width, standard)
