"""A recipe that is neither a draft nor dated."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix

ID = "date-missing"


def run(bench: Bench) -> Iterable[Finding]:
    recipe = bench.recipe
    if recipe.published is None and not recipe.draft:
        yield Finding(
            ID,
            "note",
            recipe.title.span,
            "the recipe is no draft, but has no date",
            why="the feed and the archive are sorted by date, and search results show it",
            fixes=(Fix("add `published: 2026-11-01` with its date, or `draft: true` while it is not finished"),),
        )


CHECK = Check(
    id=ID,
    question="Does a recipe that goes out have its date?",
    reason="Without a date a recipe has no place in the feed, where the newest comes first.",
    good="""\
title: Popcorn
published: 2026-10-30
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
""",
    bad="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
""",
    run=run,
)
