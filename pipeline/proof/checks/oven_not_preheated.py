"""Something goes into an oven that nobody has heated."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.oven import oven_events

ID = "oven-not-preheated"


def run(bench: Bench) -> Iterable[Finding]:
    events = oven_events(bench.recipe)
    bake = next((e for e in events if e.kind == "bake"), None)
    if bake is None or any(e.kind == "cold" for e in events):
        return
    lit = [e for e in events if e.kind == "preheat"]
    first = lit[0] if lit else None
    if first is None:
        yield Finding(
            ID,
            "warning",
            bake.span,
            f"step {bake.step + 1} uses the oven, but no step heats it",
            why="an oven takes a quarter of an hour or more to get hot (common practice)",
            fixes=(Fix("add a step before it: `Heat the oven to {350 F or 180 C}.`, with your heat"),),
        )
    elif (first.step, first.offset) > (bake.step, bake.offset):
        yield Finding(
            ID,
            "warning",
            first.span,
            f"the oven is heated in step {first.step + 1}, after step {bake.step + 1} has already used it"
            if first.step != bake.step
            else f"step {bake.step + 1} uses the oven before it says to heat it",
            why="an oven takes a quarter of an hour or more to get hot (common practice)",
            fixes=(Fix(f"heat the oven before step {bake.step + 1}"),),
            second=bake.span,
        )
    elif not first.heat and bake.heat:
        yield Finding(
            ID,
            "note",
            first.span,
            f"the oven is heated in step {first.step + 1}, but how hot is only said in step {bake.step + 1}",
            why="who follows the steps one by one cannot set the dial",
            fixes=(Fix("say the heat where the oven is heated, too"),),
            second=bake.span,
        )


CHECK = Check(
    id=ID,
    question="Is the oven hot before something goes into it?",
    reason=(
        "A dough that waits for the oven rises too far, and a roast that starts in a cold one takes longer than the "
        "recipe says. A recipe that means to start cold says so (`a cold oven`), and is left alone."
    ),
    good="""\
title: Toasted nuts
yield: 2 cups
ingredients:
  - 240 g walnuts
steps:
  - Heat the oven to {350 F or 180 C}.
  - Spread {walnuts} on a tray and bake for {8 min}.
""",
    bad="""\
title: Toasted nuts
yield: 2 cups
ingredients:
  - 240 g walnuts
steps:
  - Spread {walnuts} on a tray and bake at {350 F or 180 C} for {8 min}.
""",
    run=run,
)
