"""A recipe that does not say how much it makes."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix

ID = "yield-missing"


def run(bench: Bench) -> Iterable[Finding]:
    recipe = bench.recipe
    if recipe.yield_ is None:
        yield Finding(
            ID,
            "warning",
            recipe.title.span,
            "the recipe does not say how much it makes",
            why="without a yield nobody can scale it, and search results leave it out",
            fixes=(Fix("add a line such as `yield: 4 loaves` or `yield: serves 6`"),),
        )


CHECK = Check(
    id=ID,
    question="Does the recipe say how much it makes?",
    reason="A cook decides by the yield whether to make it once, twice or by half; schema.org calls it recipeYield.",
    good="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
""",
    bad="""\
title: Popcorn
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
""",
    run=run,
)
