"""A substitution for something that the recipe does not have."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import Mentions, words

ID = "substitution-unlisted"


def run(bench: Bench) -> Iterable[Finding]:
    if not bench.recipe.substitutions:
        return
    mentions = bench.once(Mentions)
    made = {w for c in bench.recipe.components for w in words(f"{c.title} {c.key}")}
    for one in bench.recipe.substitutions:
        if mentions.of(one.ingredient) or set(words(one.ingredient)) & made:
            continue
        yield Finding(
            ID,
            "warning",
            one.span,
            f"something stands in for {one.ingredient}, which the list does not have",
            why="the list may have changed since",
            fixes=(Fix("name an ingredient as the list has it, or take the substitution out"),),
        )


CHECK = Check(
    id=ID,
    question="Does every substitution stand in for a listed ingredient?",
    reason="A substitution for something that is not in the recipe is left over from another version of it.",
    good="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
  - 30 g butter
steps:
  - Pop {popcorn} in {butter}.
substitutions:
  butter: Sunflower oil.
""",
    bad="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
  - 30 g butter
steps:
  - Pop {popcorn} in {butter}.
substitutions:
  heavy cream: Coconut cream.
""",
    run=run,
)
