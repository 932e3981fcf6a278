"""Chapter marks that the film's platform would drop."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.film.chapters import BREAKS, chapter_problems
from pipeline.proof.finding import Bench, Check, Finding, Fix, Severity
from pipeline.recipe.span import Span

ID = "chapter-rules"

# Numbers that contradict each other stop publishing; marks that are only refused, or only hard to use, do not.
_CONTRADICTS = frozenset({"beyond-end", "before-start"})


def run(bench: Bench) -> Iterable[Finding]:
    recipe = bench.recipe
    for problem in chapter_problems(recipe, bench.channel.chapters):
        severity: Severity = "note"
        if problem.code == "descending":  # a film may well tell a step before its turn: this may be a slip, or none
            severity = "warning"
        elif problem.code in BREAKS:
            severity = "error" if problem.code in _CONTRADICTS else "warning"
        step = None if problem.step is None else recipe.steps[problem.step]
        yield Finding(
            ID,
            severity,
            _place(bench, problem.step),
            problem.message,
            why="one mark against the rules and the platform shows none" if problem.code in BREAKS else "",
            fixes=(Fix("mend `at`, or take it out: two steps may share a chapter"),) if step else (),
            at=step.at if step else None,
        )


def _place(bench: Bench, index: int | None) -> Span:
    """Where the moment was typed; for all marks together the film, else the first moment."""
    recipe = bench.recipe
    if index is not None:
        return recipe.steps[index].at_span or recipe.steps[index].span
    first = next((s.at_span for s in recipe.steps if s.at_span is not None), None)
    return first or (recipe.video.span if recipe.video else recipe.title.span)


CHECK = Check(
    id=ID,
    question="Do the chapter marks keep the platform's rules?",
    reason=(
        "The first mark stands at 0:00, they ascend, there are at least three and each lasts at least ten seconds "
        "(limits in channel.yaml). Where one breaks a rule, a platform shows none at all."
    ),
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
  - {at: 1:40, title: Pop, text: "Pop {popcorn} in it."}
  - {at: 1:30, title: Season, text: "Season it."}
video:
  address: https://video.example/popcorn
  length: 2:10
  captions: captions.vtt
""",
    run=run,
)
