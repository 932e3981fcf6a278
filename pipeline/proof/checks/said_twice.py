"""One ingredient said with two numbers, and the page has none to settle it."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding
from pipeline.proof.saying import findings

ID = "said-twice"


def run(bench: Bench) -> Iterable[Finding]:
    return findings(bench, ID, "twice")


CHECK = Check(
    id=ID,
    question="Is an amount that the page does not settle said only in one way?",
    reason=(
        "Where the page says “to taste”, or has an ingredient only in another measure, what is said is all that "
        "there is. Said with two different numbers, nobody knows which to take."
    ),
    good="""\
title: Rice
yield: serves 4
ingredients:
  - 300 g rice
  - 1 l water
  - 2 tbsp (36 g) salt
steps:
  - Boil {rice} in {water} with {salt}.
""",
    bad="""\
title: Rice
yield: serves 4
ingredients:
  - 300 g rice
  - 1 l water
  - salt to taste
steps:
  - Boil {rice} in {water} with {salt}.
""",
    run=run,
    good_captions="""\
[0:00] Here's what you'll need. 300 grams of rice, a litre of water and two tablespoons of salt.
[0:12] So the water goes in the pan, and in goes the rice.
[0:40] And the salt goes in, two tablespoons of salt. Let it boil.
""",
    bad_captions="""\
[0:00] Here's what you'll need. 300 grams of rice, a litre of water and one teaspoon of salt.
[0:12] So the water goes in the pan, and in goes the rice.
[0:40] And the salt goes in, two tablespoons of salt. Let it boil.
""",
)
