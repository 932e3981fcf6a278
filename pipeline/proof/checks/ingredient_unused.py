"""An ingredient that is listed and never used."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import explains_itself, nameless
from pipeline.proof.usage import usages

ID = "ingredient-unused"


def run(bench: Bench) -> Iterable[Finding]:
    for use in bench.once(usages):
        line = use.line
        if use.marks or use.worded or use.whole or explains_itself(line) or nameless(line):
            continue
        seasoning = line.to_taste or line.optional
        yield Finding(
            ID,
            "note" if seasoning else "warning",
            line.name.span,
            f"no step uses {bench.called(line)}",
            why="it is listed: the audience measures out what the list says, and then wonders what it is for",
            fixes=(
                Fix(f"write `{{{line.key}}}` into the step that uses it"),
                Fix("take the line out of the list"),
            ),
        )


CHECK = Check(
    id=ID,
    question="Does some step use every listed ingredient?",
    reason=(
        "An ingredient that no step mentions was forgotten in the text, or should have left the list. A plain word "
        "counts as use, too (`season`, `the dry ingredients`, `a floured board`); only what is nowhere is reported."
    ),
    good="""\
title: Lemon rice
yield: serves 4
ingredients:
  - 300 g long-grain white rice
  - 1 lemon
  - salt to taste
steps:
  - Simmer {rice} for {18 min}. Squeeze {lemon} over it and season.
""",
    bad="""\
title: Lemon rice
yield: serves 4
ingredients:
  - 300 g long-grain white rice
  - 1 lemon
  - salt to taste
steps:
  - Simmer {rice} for {18 min} and season.
""",
    run=run,
)
