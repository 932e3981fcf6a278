"""An ingredient that stands twice in one list."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import explains_itself, nameless, words
from pipeline.recipe.model import IngredientLine

ID = "ingredient-repeated"


def run(bench: Bench) -> Iterable[Finding]:
    for component in bench.recipe.components:
        seen: dict[tuple[tuple[str, ...], tuple[str, ...]], IngredientLine] = {}
        for line in component.ingredients:
            if line.to_taste or line.optional or explains_itself(line) or nameless(line) or not line.amounts:
                continue
            first = seen.setdefault((words(str(line.name)), words(line.note)), line)
            if first is line:
                continue
            yield Finding(
                ID,
                "warning",
                line.name.span,
                f"the same list has {line.name} twice",
                why=f"a mark such as `{{{line.key}}}` cannot tell which of the two is meant",
                fixes=(
                    Fix("add the two up in one line, and write `divided`"),
                    Fix("say after a comma what tells them apart"),
                ),
                second=first.name.span,
            )


CHECK = Check(
    id=ID,
    question="Does each ingredient stand once in its list?",
    reason="Two lines for one thing are easily weighed once, and often one of them was meant to go.",
    good="""\
title: Custard
yield: serves 4
ingredients:
  - 500 ml milk, divided
  - 30 g cornstarch
steps:
  - "Stir {cornstarch} into {milk: 100 ml}."
  - "Boil {milk: rest} and whisk that in."
""",
    bad="""\
title: Custard
yield: serves 4
ingredients:
  - 100 ml milk
  - 30 g cornstarch
  - 400 ml milk
steps:
  - Stir {cornstarch} into {milk}.
  - Boil the rest of the milk and whisk that in.
""",
    run=run,
)
