"""An ingredient whose amount the steps never print, because they name it in plain words only."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import explains_itself
from pipeline.proof.usage import usages

ID = "ingredient-unmarked"


def run(bench: Bench) -> Iterable[Finding]:
    found = usages(bench)
    if not any(use.marks for use in found):
        return  # a recipe that marks nothing is written so on purpose
    for use in found:
        line = use.line
        if use.marks or use.whole or not use.worded or not line.amounts:
            continue
        if line.to_taste or line.optional or explains_itself(line):
            continue
        yield Finding(
            ID,
            "note",
            line.name.span,
            f"{line.name} is named only in plain words (step {use.worded[0] + 1}), so no step prints its amount",
            why="a mark prints the amount in both measures where it is needed",
            fixes=(Fix(f"write `{{{line.key}}}` there"),),
        )


CHECK = Check(
    id=ID,
    question="Where other ingredients are marked in the steps, is this one?",
    reason=(
        "Steps that print some amounts and not others send the reader back to the list. A recipe without any marks "
        "is left alone."
    ),
    good="""\
title: Vinaigrette
yield: 1/2 cup
ingredients:
  - 90 ml olive oil
  - 30 ml red wine vinegar
steps:
  - Whisk {olive oil} into {vinegar}.
""",
    bad="""\
title: Vinaigrette
yield: 1/2 cup
ingredients:
  - 90 ml olive oil
  - 30 ml red wine vinegar
steps:
  - Whisk {olive oil} into the vinegar.
""",
    run=run,
)
