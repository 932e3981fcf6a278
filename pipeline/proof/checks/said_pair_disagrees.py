"""Two measures said of one thing that are not the same amount."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding
from pipeline.proof.saying import findings

ID = "said-pair-disagrees"


def run(bench: Bench) -> Iterable[Finding]:
    return findings(bench, ID, "pair")


CHECK = Check(
    id=ID,
    question="Are the two measures that are said of one thing the same?",
    reason=(
        "Who says it twice says it once for each half of the audience. Where the two disagree, one half cooks "
        "another recipe. They are compared as the page's own pairs are: a number stands for all that a cook rounds "
        "to it, a cup for all ways of filling it."
    ),
    good="""\
title: Loaf
yield: 1 loaf
ingredients:
  - 600 g (4 1/3 cups) bread flour
  - 390 g (1 2/3 cups) water
steps:
  - Knead {bread flour} with {water}.
""",
    bad="""\
title: Loaf
yield: 1 loaf
ingredients:
  - 600 g (4 1/3 cups) bread flour
  - 390 g (1 2/3 cups) water
steps:
  - Knead {bread flour} with {water}.
""",
    run=run,
    good_captions="""\
[0:00] Six hundred grams of bread flour, that's four and a third cups, into the bowl.
[0:06] Then 390 grams of water, and knead it until it's smooth.
""",
    bad_captions="""\
[0:00] Six hundred grams of bread flour, that's two cups, into the bowl.
[0:06] Then 390 grams of water, and knead it until it's smooth.
""",
)
