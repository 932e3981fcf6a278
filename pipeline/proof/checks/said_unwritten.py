"""An amount of something that the list does not have."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding
from pipeline.proof.saying import findings

ID = "said-unwritten"


def run(bench: Bench) -> Iterable[Finding]:
    return findings(bench, ID, "unwritten")


CHECK = Check(
    id=ID,
    question="Is every ingredient that is said with an amount on the list?",
    reason=(
        "Who shops by the list stands at the stove without it. What every kitchen has at hand, and what the "
        "captions may have misheard, is only a note."
    ),
    good="""\
title: Sauce
yield: serves 2
ingredients:
  - 400 g tomatoes
  - 2 tbsp (27 g) olive oil
  - 1 tsp (2 g) smoked paprika
steps:
  - Cook {tomatoes} in {olive oil} with {smoked paprika}.
""",
    bad="""\
title: Sauce
yield: serves 2
ingredients:
  - 400 g tomatoes
  - 2 tbsp (27 g) olive oil
steps:
  - Cook {tomatoes} in {olive oil}.
""",
    run=run,
    good_captions="""\
[0:00] 400 grams of tomatoes, chopped, into the pan with two tablespoons of olive oil.
[0:10] A teaspoon of smoked paprika goes in now, and let it bubble.
""",
    bad_captions="""\
[0:00] 400 grams of tomatoes, chopped, into the pan with two tablespoons of olive oil.
[0:10] A teaspoon of smoked paprika goes in now, and let it bubble.
""",
)
