"""What the page says that a spoken amount may rightly be: a line's total, the part that a step takes, what is left."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from pipeline.film.compare.names import Listed
from pipeline.measure.amount import Amount
from pipeline.measure.record import replace
from pipeline.measure.units import Standard, factor
from pipeline.recipe.model import Recipe, Use
from pipeline.recipe.span import Span


class Target(NamedTuple):
    """``amounts`` are alternatives; ``step`` takes them (None: the list). ``spans`` are where each was typed, () where
    it was not typed but worked out."""

    amounts: tuple[Amount, ...]
    step: int | None
    spans: tuple[Span, ...] = ()
    total: bool = False


class Written(NamedTuple):
    """All targets of one line (the list's total first) and the steps that use it, in order."""

    listed: Listed
    targets: tuple[Target, ...]
    steps: tuple[int, ...]

    @property
    def divided(self) -> bool:
        return self.listed.line.divided or len(self.steps) > 1 or len(self.targets) > 1


def written(recipe: Recipe, lines: Sequence[Listed], standard: Standard) -> tuple[Written, ...]:
    """The targets of every line, in the order of the lines."""
    uses: dict[tuple[int, int], list[tuple[int, Use]]] = {}
    for index, step in enumerate(recipe.steps):
        for piece in step.pieces:
            if isinstance(piece, Use) and piece.component is not None and piece.line is not None:
                uses.setdefault((piece.component, piece.line), []).append((index, piece))
    return tuple(_of(one, uses.get(one.place, []), standard) for one in lines)


def _of(one: Listed, uses: Sequence[tuple[int, Use]], standard: Standard) -> Written:
    line = one.line
    targets = [Target(line.amounts, None, line.item_spans, True)] if line.amounts else []
    taken: list[tuple[Amount, ...]] = []
    for step, use in uses:
        if use.amounts:
            spans = (use.whole.span,) if len(use.amounts) == 1 else ()
            targets.append(Target(use.amounts, step, spans))
            taken.append(use.amounts)
        elif use.rest and taken:
            left = tuple(a for amount in line.amounts if (a := _left(amount, taken, one, standard)))
            if left:
                targets.append(Target(left, step))
        elif line.amounts and len(uses) > 1 and not taken:
            targets.append(Target(line.amounts, step, line.item_spans))
    return Written(one, tuple(targets), tuple(dict.fromkeys(step for step, _ in uses)))


def _left(total: Amount, taken: Sequence[Sequence[Amount]], one: Listed, standard: Standard) -> Amount | None:
    """``total`` less what was taken, in its own unit; None where that cannot be told."""
    gone = Fraction(0)
    width = total.near
    for part in taken:
        got = next((g for a in part if (g := _in(a, total, one, standard)) is not None), None)
        if got is None:
            return None
        gone += got
        width += max((a.near for a in part if a.unit == total.unit), default=total.near)
    if total.high <= gone:
        return None
    # The rest carries the rounding of all that it was worked out from.
    return replace(
        total,
        low=max(total.low - gone, Fraction(0)),
        high=total.high - gone,
        near=width,
        far=max(width, total.far),
        text="",
    )


def _in(amount: Amount, like: Amount, one: Listed, standard: Standard) -> Fraction | None:
    if amount.unit == like.unit:
        return amount.value
    if "count" in (amount.unit.kind, like.unit.kind):
        return None
    value = amount.value * factor(amount.unit, standard) / factor(like.unit, standard)
    if amount.unit.kind == like.unit.kind:
        return value
    density = one.row.density() if one.row else None
    if density is None or {amount.unit.kind, like.unit.kind} != {"mass", "volume"}:
        return None
    return value * density.typical if like.unit.kind == "mass" else value / density.typical
