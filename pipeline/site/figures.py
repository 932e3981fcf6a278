"""The numbers of a recipe as words: amounts in both measures, what is left of an ingredient, heats, times."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.both import Shown, both
from pipeline.measure.express import is_metric
from pipeline.measure.ingredients import Row
from pipeline.measure.lookup import Table
from pipeline.measure.readings import scale_grams
from pipeline.measure.record import replace
from pipeline.measure.scaling import Scalable, growing
from pipeline.measure.units import Standard
from pipeline.recipe.model import IngredientLine, Recipe, Use
from pipeline.recipe.row import match_of
from pipeline.site.terms import Terms
from pipeline.site.view import Said


class Figures(NamedTuple):
    """An amount in both measures. ``scale`` is what a scale reads; ``cup`` what is counted or measured;
    ``source`` is what a juice or zest comes out of ("from 1 lemon")."""

    scale: tuple[Said, ...] = ()
    cup: tuple[Said, ...] = ()
    counted: bool = False
    source: str = ""
    # The same as amounts that can grow, piece for piece; ``fruits`` those of ``source``.
    grows: tuple[tuple[Scalable, ...], tuple[Scalable, ...]] = ((), ())
    fruits: tuple[Scalable, ...] = ()

    def ordered(self, weight_first: bool, brief: bool = False) -> tuple[Said, ...]:
        """For a line of text: a count ("1 can") comes first whatever leads, as people say it.

        ``brief``: one statement of each measure, for running text.
        """
        scale, cup = (self.scale[:1], self.cup[:1]) if brief else (self.scale, self.cup)
        return (*cup, *scale) if self.counted or not weight_first else (*scale, *cup)

    def words(self, weight_first: bool) -> str:
        """ "650 g (2¾ cups)", "2 large (100 g)", "" where nothing is stated."""
        first, *rest = [said.words() for said in self.ordered(weight_first)] or [""]
        return f"{first} ({', '.join(rest)})" if rest else first


def row_of(line: IngredientLine, table: Table) -> Row | None:
    """The table's row for a line's words: with its note first, since "melted" can change what a cup holds."""
    match = match_of(line, table.find)
    return match.row if match else None


def _said(shown: Shown | None) -> tuple[Said, ...]:
    """One measure, a piece for each statement of it; where it is in part worked out, that is the first piece."""
    if shown is None:
        return ()
    first, *rest = shown.text.split(" / ")
    return (Said(first, shown.derived, f"about {first}" if shown.derived else ""), *map(Said, rest))


def retold(shown: Figures, terms: Terms, size: str = "") -> Figures:
    """The same in the words of a catalogue; ``size`` is the cook's word between a number and its unit."""
    if terms.plain:
        return shown

    def told(said: Said) -> Said:
        return Said(terms.amount(said.text, size), said.derived, terms.amount(said.about, size))

    return replace(
        shown,
        scale=tuple(map(told, shown.scale)),
        cup=tuple(map(told, shown.cup)),
        source=terms.amount(shown.source),
    )


def figures(
    amounts: Sequence[Amount], row: Row | None, size: str, standard: Standard, name: str = "", note: str = ""
) -> Figures:
    """What the two columns print for these statements of the ingredient ``name``, of which ``note`` is said."""
    if not amounts:
        return Figures()
    dual = both(amounts, row, size, standard, f"{name}, {note}")
    grows = growing(dual, amounts, row, size, standard)
    # What fingers take, nobody weighs.
    fingers = all(a.unit.name in ("pinch", "dash") for a in amounts)
    scale = () if fingers and dual.weight and dual.weight.derived else _said(dual.weight)
    volume = _said(dual.volume)
    if dual.count is None:
        return Figures(scale, volume, grows=(grows.weight if scale else (), grows.volume))
    if size == "fruit":  # "juice of 1 lemon": the fruit is where it comes from, not how it is measured
        fruit = name.rpartition(" ")[0]
        fruits = next((a.high for a in amounts if a.unit.kind == "count"), Fraction(1))
        source = f"{dual.count.text} {fruit}{'s' if fruit and fruits > 1 else ''}".strip()
        many = grows.counted._replace(one=fruit, many=f"{fruit}s" if fruit else "") if grows.counted else None
        return Figures(
            scale,
            volume,
            source=source,
            grows=(grows.weight if scale else (), grows.volume),
            fruits=(many,) if many else (),
        )
    # A counted thing is measured by counting; worked-out cups would only be a third number to read.
    if scale and scale[0].derived and scale[0].text.startswith("0."):  # nobody weighs two bay leaves
        scale = ()
    cups = [v for v in grows.volume if not v.derived]
    return Figures(
        scale,
        (Said(dual.count.text), *(v for v in volume if not v.derived)),
        True,
        grows=(grows.weight if scale else (), (*((grows.counted,) if grows.counted else ()), *cups)),
    )


def _in_kind(amounts: Iterable[Amount], like: Amount, row: Row | None, standard: Standard) -> Fraction | None:
    """The statement in the unit of ``like``: as stated, else over the row's typical density; None if neither."""
    kind = like.unit.kind
    for amount in amounts:
        if kind == "count":
            if amount.unit.name == like.unit.name:
                return amount.value
        elif amount.unit.kind == kind:
            return amount.value * amount.one(standard) / like.one(standard)
    density = row.density() if row else None
    if density is None or kind == "count":
        return None
    for amount in amounts:
        if kind == "mass" and amount.unit.kind == "volume":
            return amount.value * amount.one(standard) * density.typical / like.one(standard)
        if kind == "volume" and amount.unit.kind == "mass":
            return amount.value * amount.one(standard) / density.typical / like.one(standard)
    return None


def rest_of(
    total: Sequence[Amount], parts: Sequence[Sequence[Amount]], row: Row | None, standard: Standard
) -> tuple[Amount, ...]:
    """What is left of ``total`` after ``parts``, in each of the total's own units; () where it cannot be told.

    A range leaves a range: 1 of "2-3 tbsp" leaves 1 to 2.
    """
    left: list[Amount] = []
    for amount in total:
        gone = [_in_kind(part, amount, row, standard) for part in parts]
        taken = sum((g for g in gone if g is not None), Fraction(0))
        if None in gone or amount.high <= taken:
            continue
        low, high = max(amount.low - taken, Fraction(0)), amount.high - taken
        if amount.unit.kind == "mass" and is_metric(amount.unit):
            one = amount.one(standard)
            low, high = scale_grams(low * one) / one, scale_grams(high * one) / one
        left.append(replace(amount, low=low, high=high, text=""))
    return tuple(left)


def uses_before(recipe: Recipe, component: int, line: int) -> list[list[Use]]:
    """For each step, the uses of one ingredient line in it, in order."""
    return [
        [p for p in step.pieces if isinstance(p, Use) and (p.component, p.line) == (component, line)]
        for step in recipe.steps
    ]


def use_amounts(recipe: Recipe, use: Use, table: Table, standard: Standard) -> tuple[Amount, ...]:
    """The amount that a mark in a step stands for: the part said, the rest, or the whole line's."""
    if use.component is None or use.line is None:
        return use.amounts
    line = recipe.components[use.component].ingredients[use.line]
    if not use.rest:
        return use.amounts or line.amounts
    parts: list[tuple[Amount, ...]] = []
    for uses in uses_before(recipe, use.component, use.line):
        for other in uses:
            if other is use:
                return rest_of(line.amounts, parts, row_of(line, table), standard)
            if other.amounts:
                parts.append(other.amounts)
    return ()
