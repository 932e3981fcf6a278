"""An ingredient whose amount the steps never print, because they name it in plain words only."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import explains_itself, say
from pipeline.proof.usage import Usage, usages

ID = "ingredient-unmarked"


def run(bench: Bench) -> Iterable[Finding]:
    found = bench.once(usages)
    marked = sum(bool(use.marks) for use in found)
    bare = [use for use in found if _bare(use)]
    if not bare or marked < len(bare):
        return  # a recipe that marks few or none is written so on purpose
    names = say(str(use.line.name) for use in bare)
    yield Finding(
        ID,
        "note",
        bare[0].line.name.span,
        f"the steps name {names} in plain words only, so no step prints the amount",
        why="the other ingredients are marked; a mark prints the amount in both measures where it is needed",
        fixes=tuple(Fix(f"write `{{{use.line.key}}}` in step {use.worded[0] + 1}") for use in bare[:3]),
    )


def _bare(use: Usage) -> bool:
    line = use.line
    if use.marks or use.whole or not use.worded or not line.amounts:
        return False
    return not (line.to_taste or line.optional or explains_itself(line))


CHECK = Check(
    id=ID,
    question="Where other ingredients are marked in the steps, is this one?",
    reason=(
        "Steps that print some amounts and not others send the reader back to the list. A recipe that marks few "
        "ingredients or none is left alone."
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
