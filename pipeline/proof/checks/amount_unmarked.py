"""An amount in a step's plain words, which the page can print in one measure only."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix
from pipeline.proof.statements import Found, amounts_in_words
from pipeline.recipe.model import Use

ID = "amount-unmarked"


def run(bench: Bench) -> Iterable[Finding]:
    marked = any(isinstance(piece, Use) for step in bench.recipe.steps for piece in step.pieces)
    if not marked:
        return  # a recipe that marks nothing is written so on purpose
    for found in bench.once(amounts_in_words):
        if found.step is None or found.line is None:
            continue
        said = " or ".join(read.amount.text for read in found.reads)
        mark = f"{{{found.name}: {said}}}"
        span = found.text.part(found.reads[0].start, found.reads[-1].end)
        yield Finding(
            ID,
            "note",
            span,
            f"{said} of {found.name} stands in plain words, so the page cannot print the other measure",
            why="a mark prints both measures, and is held against the list",
            fixes=(Fix(f"write `{mark}`", _edit(found, mark, bench)),),
        )


def _edit(found: Found, mark: str, bench: Bench) -> tuple[Edit, ...]:
    """The edit, where nothing but the amount and the name would be replaced."""
    start, amount_end = found.reads[0].start, found.reads[-1].end
    at = found.text.find(found.name, amount_end) if found.name else -1
    if at < 0 or len(found.reads) > 1 or found.text[amount_end:at].strip() not in ("", "of", "of the", "the"):
        return ()
    span = found.text.part(start, at + len(found.name))
    whole = str(found.text)[start : at + len(found.name)]
    return (Edit(span, mark),) if bench.recipe.source[span.start : span.end] == whole else ()


CHECK = Check(
    id=ID,
    question="Are the amounts in the steps marked?",
    reason=(
        "`200 g flour` in plain words stays grams; `{flour: 200 g}` is printed in both measures and counted against "
        "the list. A recipe without any marks is left alone."
    ),
    good="""\
title: Pancakes
yield: 8 pancakes
ingredients:
  - 200 g all-purpose flour, divided
  - 300 ml milk
steps:
  - "Whisk {flour: 150 g} into {milk}. Dust the pan with {flour: 50 g}."
""",
    bad="""\
title: Pancakes
yield: 8 pancakes
ingredients:
  - 200 g all-purpose flour, divided
  - 300 ml milk
steps:
  - "Whisk {flour: 150 g} into {milk}. Dust the pan with 50 g flour."
""",
    run=run,
)
