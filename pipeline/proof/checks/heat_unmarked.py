"""A heat in a step's plain words, which the page can print on one scale only."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix
from pipeline.proof.heats import heats
from pipeline.recipe.model import HeatMark, TimeMark, Use

ID = "heat-unmarked"


def run(bench: Bench) -> Iterable[Finding]:
    pieces = [piece for step in bench.recipe.steps for piece in step.pieces]
    if not any(isinstance(piece, (Use, HeatMark, TimeMark)) for piece in pieces):
        return  # a recipe that marks nothing is written so on purpose
    for place in heats(bench.recipe):
        if place.marked or place.step is None:
            continue
        text = place.text.strip()
        if text.count("(") > text.count(")"):
            continue  # cut off inside a parenthesis: what belongs together is for a person to say
        span = place.whole
        stands = bench.recipe.source[span.start : span.end] == text
        yield Finding(
            ID,
            "note",
            span,
            f"{text} stands in plain words, so the page prints it as it is",
            why="a marked heat is printed in °F and °C, and as a gas mark where the channel wants it",
            fixes=(Fix(f"write `{{{text}}}`", (Edit(span, f"{{{text}}}"),) if stands else ()),),
        )


CHECK = Check(
    id=ID,
    question="Are the heats in the steps marked?",
    reason="`350 F` in plain words stays Fahrenheit; `{350 F}` is printed on both scales.",
    good="""\
title: Toasted oats
yield: 4 cups
ingredients:
  - 400 g rolled oats
steps:
  - Preheat the oven to {350 F}.
  - Toast {oats} for {15 min}.
""",
    bad="""\
title: Toasted oats
yield: 4 cups
ingredients:
  - 400 g rolled oats
steps:
  - Preheat the oven to 350 F.
  - Toast {oats} for {15 min}.
""",
    run=run,
)
