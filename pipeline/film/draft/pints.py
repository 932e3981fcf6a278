"""Whose pints a film's are: who says "a quarter of a pint, five fluid ounces" means the imperial one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from pipeline.film.spoken.said import Spoken
from pipeline.measure.amount import Amount
from pipeline.measure.record import replace
from pipeline.measure.units import Standard, factor, named

# A pint's size is told so many words behind it.
_NEAR = 15
# Two measures so much apart are of one amount.
_ALMOST = Fraction(6, 100)


def with_own_pints(heard: Sequence[Spoken]) -> list[Spoken]:
    """What was heard; its pints are imperial ones where most that is said of them beside fits those."""
    votes = [whose for told in _beside(heard) if (whose := _whose(*told)) is not None]
    if votes.count("imperial") <= votes.count("us"):
        return list(heard)
    return [replace(one, amounts=tuple(_imperial(a) for a in one.amounts)) for one in heard]


def _imperial(amount: Amount) -> Amount:
    unit = named(amount.unit, "imperial") if amount.unit.name == "pint" and amount.unit.whose is None else None
    return replace(amount, unit=unit) if unit is not None else amount


def _beside(heard: Sequence[Spoken]) -> Iterator[tuple[Amount, Amount]]:
    """Each amount in pints with each volume that is said with it or right behind it."""
    for n, one in enumerate(heard):
        later = [o for o in heard[n + 1 : n + 2] if o.first - one.last < _NEAR and o.kind == "amount"]
        volumes = [b for o in (one, *later) for b in o.amounts if b.unit.kind == "volume" and b.unit.name != "pint"]
        yield from ((a, b) for a in one.amounts if a.unit.name == "pint" for b in volumes)


def _whose(pint: Amount, other: Amount) -> Standard | None:
    """The standard by which both mean one amount, None where neither does or both do."""
    fit: list[Standard] = []
    for standard in ("us", "imperial"):
        ours, theirs = pint.value * factor(pint.unit, standard), other.value * factor(other.unit, standard)
        if abs(ours - theirs) < _ALMOST * theirs:
            fit.append(standard)
    return fit[0] if len(fit) == 1 else None
