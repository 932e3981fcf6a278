"""A step that carries its own number."""

from __future__ import annotations

import re
from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix

ID = "step-numbered"

_NUMBER = re.compile(r"\s*(?:step\s+\d{1,2}\s*[.:)–-]?|\d{1,2}\s*[.:)](?!\d))\s+", re.IGNORECASE)


def run(bench: Bench) -> Iterable[Finding]:
    for index, step in enumerate(bench.recipe.steps):
        m = _NUMBER.match(step.text)
        if m:
            span = step.text.part(*m.span())
            typed = bench.recipe.source[span.start : span.end] == m.group()
            yield Finding(
                ID,
                "note",
                span,
                f"step {index + 1} begins with its own number",
                why="the page numbers the steps, and search results do, too, so the number would stand there twice",
                fixes=(Fix("take the number out", (Edit(span, ""),) if typed else ()),),
            )


CHECK = Check(
    id=ID,
    question="Do the steps leave their numbers to the page?",
    reason="Steps are numbered where they are shown. A typed number is wrong as soon as a step is put in between.",
    good="""\
title: Popcorn
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
  - 1. Pop {popcorn}.
""",
    run=run,
)
