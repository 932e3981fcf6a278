"""A number that has lost its unit, or an amount that has lost its ingredient."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.measure.ingredients import Row
from pipeline.measure.units import EACH
from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import nameless
from pipeline.recipe.model import IngredientLine

ID = "unit-missing"

# More pieces of one thing than this and a weight was meant. Common practice, no source.
_MANY = 60


def run(bench: Bench) -> Iterable[Finding]:
    for component in bench.recipe.components:
        for line in component.ingredients:
            if nameless(line):
                yield Finding(
                    ID,
                    "error",
                    line.text.span,
                    f"`{line.text}` of what? The line names no ingredient",
                    why="no step can call it, and nobody knows what to measure",
                    fixes=(Fix("write the name after the amount, or take the line out"),),
                )
                continue
            for amount, span in zip(line.amounts, line.item_spans, strict=True):
                if amount.unit == EACH and not line.size and _odd(line, bench.row(line)):
                    number = amount.text or str(amount.value)
                    yield Finding(
                        ID,
                        "warning",
                        span,
                        f"{number} what of {line.name}? The number has no unit",
                        why="nobody can count it, so a weight or a volume is meant",
                        fixes=(Fix(f"write the unit: `{number} g` or `{number} ml`, `{number} cups`"),),
                    )


def _odd(line: IngredientLine, row: Row | None) -> bool:
    """Whether the line's bare number cannot be a count of pieces."""
    if len(line.amounts) > 1:
        return False  # another statement beside it says what is meant
    value = line.amounts[0].value
    if row is None or row.counts:
        return value >= _MANY and (row is None or value >= 2 * _MANY)
    if row.form == "liquid":
        return True
    return value >= _MANY or (value.denominator > 1 and row.form == "dry")


CHECK = Check(
    id=ID,
    question="Does every number in the list have its unit?",
    reason="`650 water` is clear to the cook who wrote it. The audience asks: grams, or milliliters?",
    good="""\
title: Porridge
yield: serves 2
ingredients:
  - 650 g water
  - 100 g rolled oats
steps:
  - Simmer {oats} in {water}.
""",
    bad="""\
title: Porridge
yield: serves 2
ingredients:
  - 650 water
  - 100 g rolled oats
steps:
  - Simmer {oats} in {water}.
""",
    run=run,
)
