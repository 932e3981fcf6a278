"""Two statements of one time that are not the same time."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from pipeline.measure.pair_heat import compare_time
from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.mending import Half, culprits, pair_fixes
from pipeline.proof.times import times

ID = "time-disagrees"


def run(bench: Bench) -> Iterable[Finding]:
    for place in times(bench.recipe):
        verdicts = {
            (i, j): compare_time(place.times[i], place.times[j]) for i, j in combinations(range(len(place.times)), 2)
        }
        wrong = [at for at, verdict in verdicts.items() if verdict.status == "disagrees"]
        for blamed, beside in culprits(len(place.times), wrong):
            i, j = min(blamed, beside), max(blamed, beside)
            a, b = (Half(place.times[n].text, place.spans[n]) for n in (i, j))
            fixes = pair_fixes(verdicts[i, j], a, b, bench.recipe.source)
            yield Finding(
                ID,
                "note" if place.choice else "error",
                place.spans[blamed],
                f"{a.text} and {b.text} are different times",
                why=verdicts[i, j].why,
                fixes=(*fixes, Fix(f"if either will do, say so: `{{{a.text}}}, or for longer {{{b.text}}}`")),
                second=place.spans[beside],
            )


CHECK = Check(
    id=ID,
    question="Are two statements of one time the same time?",
    reason=(
        "A time said twice (`{30 minutes or 1/2 hour}`) is a pair like any other: one half of the audience goes by "
        "one number, the other half by the other."
    ),
    good="""\
title: Boiled eggs
yield: 2 eggs
ingredients:
  - 2 large eggs
steps:
  - Boil {eggs} for {6 min}, then rest them for {30 minutes or 1/2 hour}.
""",
    bad="""\
title: Boiled eggs
yield: 2 eggs
ingredients:
  - 2 large eggs
steps:
  - Boil {eggs} for {6 min}, then rest them for {90 minutes or 1/2 hour}.
""",
    run=run,
)
