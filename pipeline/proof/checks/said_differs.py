"""An amount, a heat or a time that is said otherwise than it is written."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding
from pipeline.proof.saying import findings

ID = "said-differs"


def run(bench: Bench) -> Iterable[Finding]:
    return findings(bench, ID, "differs")


CHECK = Check(
    id=ID,
    question="Is every amount, heat and time said as it is written?",
    reason=(
        "Half of the audience cooks from the film and half from the page. A number that is clearly another one is "
        "an error; what is barely the same, or may be misheard by the captions, is a note, and where it is not "
        "certain what was meant, a warning. Parts that add up, stand-ins, bigger batches, pans and viewers' amounts "
        "are left alone."
    ),
    good="""\
title: Flatbread
yield: 4 flatbreads
ingredients:
  - 250 g or 2 cups all-purpose flour
  - 2 tsp (9 g) baking powder
  - 160 g (2/3 cup) water
steps:
  - Mix {flour} with {baking powder}.
  - Knead with {water}.
""",
    bad="""\
title: Flatbread
yield: 4 flatbreads
ingredients:
  - 250 g or 2 cups all-purpose flour
  - 1/2 tsp (2.3 g) baking powder
  - 160 g (2/3 cup) water
steps:
  - Mix {flour} with {baking powder}.
  - Knead with {water}.
""",
    run=run,
    good_captions="""\
[0:00] Two cups of flour, that's 250 grams, into the bowl.
[0:06] Then two teaspoons of baking powder, and stir.
[0:12] Now two thirds of a cup of water, and knead it until it's smooth.
""",
    bad_captions="""\
[0:00] Two cups of flour, that's 250 grams, into the bowl.
[0:06] Then two teaspoons of baking powder, and stir.
[0:12] Now two thirds of a cup of water, and knead it until it's smooth.
""",
)
