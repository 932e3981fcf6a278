"""Steps without a moment in the film, where others have one."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import say

ID = "step-unmarked"


def run(bench: Bench) -> Iterable[Finding]:
    steps = bench.recipe.steps
    bare = [index for index, step in enumerate(steps) if step.at is None]
    if bare and len(bare) < len(steps):
        numbers = say(str(index + 1) for index in bare)
        yield Finding(
            ID,
            "note",
            steps[bare[0]].span,
            f"{f'step {numbers} has' if len(bare) == 1 else f'steps {numbers} have'} no moment in the film",
            why="the other steps have one; a step without shares the chapter of the step before it",
            fixes=(Fix("add `at:` with the moment, as in `at: 1:05`, if the step begins a chapter"),),
        )


CHECK = Check(
    id=ID,
    question="If some steps have a moment in the film, do all?",
    reason="A step that was left out by oversight has no link to its moment. It may be meant, so this is a note only.",
    good="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
  - 30 ml sunflower oil
  - salt to taste
steps:
  - {at: 0:00, title: Heat, text: "Heat {sunflower oil}."}
  - {at: 0:40, title: Pop, text: "Pop {popcorn} in it."}
  - {at: 1:30, title: Season, text: "Season it."}
video:
  address: https://video.example/popcorn
  length: 2:10
  captions: captions.vtt
""",
    bad="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
  - 30 ml sunflower oil
  - salt to taste
steps:
  - {at: 0:00, title: Heat, text: "Heat {sunflower oil}."}
  - {title: Pop, text: "Pop {popcorn} in it."}
  - {at: 1:30, title: Season, text: "Season it."}
video:
  address: https://video.example/popcorn
  length: 2:10
  captions: captions.vtt
""",
    run=run,
)
