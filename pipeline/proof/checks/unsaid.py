"""An amount that is written and never said, in a film that says nearly all others."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding
from pipeline.proof.saying import findings

ID = "unsaid"


def run(bench: Bench) -> Iterable[Finding]:
    return findings(bench, ID, "unsaid")


CHECK = Check(
    id=ID,
    question="Is every amount of the list said in a film that says nearly all of them?",
    reason=(
        "A film may leave its numbers to the page. One that speaks nearly all of them and leaves one out has most "
        "likely forgotten it. Captions made by a machine drop words, so their silence proves nothing."
    ),
    good="""\
title: Batter
yield: 8 pancakes
ingredients:
  - 250 g or 2 cups all-purpose flour
  - 2 tsp (9 g) baking powder
  - 1/2 tsp (3 g) salt
  - 2 tbsp (25 g) sugar
  - 1 large egg
  - 1 cup (244 g) milk
steps:
  - Whisk {flour}, {baking powder}, {salt}, {sugar}, {egg} and {milk}.
""",
    bad="""\
title: Batter
yield: 8 pancakes
ingredients:
  - 250 g or 2 cups all-purpose flour
  - 2 tsp (9 g) baking powder
  - 1/2 tsp (3 g) salt
  - 2 tbsp (25 g) sugar
  - 1 large egg
  - 1 cup (244 g) milk
  - 1 tsp (4 g) vanilla extract
steps:
  - Whisk {flour}, {baking powder}, {salt}, {sugar}, {egg}, {vanilla extract} and {milk}.
""",
    run=run,
    good_captions="""\
[0:00] Two cups of flour, 250 grams, and two teaspoons of baking powder.
[0:10] Half a teaspoon of salt. Two tablespoons of sugar. One egg.
[0:20] And a cup of milk. Whisk it till it's smooth, and leave it to stand.
""",
    bad_captions="""\
[0:00] Two cups of flour, 250 grams, and two teaspoons of baking powder.
[0:10] Half a teaspoon of salt. Two tablespoons of sugar. One egg.
[0:20] And a cup of milk. Whisk it till it's smooth, and leave it to stand.
""",
)
