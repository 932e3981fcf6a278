"""Times at the head of the recipe that cannot be true beside each other or beside the steps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pipeline.measure.duration import say_duration
from pipeline.measure.heat import Duration
from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix, Severity
from pipeline.proof.phrases import Phrases
from pipeline.proof.times import times
from pipeline.recipe.span import Span

ID = "times-dont-add-up"

# A time near these words says how long something keeps or may wait, not how long a step takes.
_KEEPING = Phrases(r"""
    keeps?|kept|stores?|stored|lasts?|leftovers?|freez\w+
    up to|within|ahead|in advance|before (?:serving|you)|the day before|overnight if|longer
    if you (?:have|like|can)|optional\w*
""")


def run(bench: Bench) -> Iterable[Finding]:
    recipe = bench.recipe
    yield from _parts(bench)
    total, span = recipe.times.get("total"), recipe.time_spans.get("total")
    if total is None or span is None:
        return
    for place in times(recipe):
        if not place.marked or place.step is None or _KEEPING.search(place.sentence):
            continue
        longest = max(place.times, key=lambda t: t.low)
        if longest.low - longest.near > total.high + total.near:
            yield Finding(
                ID,
                "warning",
                place.whole,
                f"step {place.step + 1} takes {longest.text}, but the whole recipe is said to take {total.text}",
                why="no step takes longer than the recipe",
                fixes=(Fix("make `total` longer, or mend the step's time"),),
                second=span,
            )


def _parts(bench: Bench) -> Iterator[Finding]:
    """The total against its parts. Preparing and cooking follow each other; resting may go on beside either."""
    said = bench.recipe.times
    total, span = said.get("total"), bench.recipe.time_spans.get("total")
    if total is None or span is None:
        return
    prep, cook, rest = said.get("prep"), said.get("cook"), said.get("rest")
    both = [t for t in (prep, cook) if t is not None]
    if both and _short(total, both):
        names = " and ".join(n for n, t in (("prep", prep), ("cook", cook)) if t is not None)
        yield _total(total, both, names, span, "warning")
    elif rest is not None and both and _short(total, [*both, rest]):
        yield _total(total, [*both, rest], "prep, cook and rest" if len(both) == 2 else "its parts", span, "note")


def _short(total: Duration, parts: list[Duration]) -> bool:
    return total.high + total.near < sum(p.low - p.near for p in parts)


def _total(total: Duration, parts: list[Duration], names: str, span: Span, severity: Severity) -> Finding:
    low, high = sum(p.low for p in parts), sum(p.high for p in parts)
    words = say_duration(low) if low == high else f"{say_duration(low)} to {say_duration(high)}"
    return Finding(
        ID,
        severity,
        span,
        f"the total of {total.text} is less than {names}, which take {words}",
        why="what is prepared first and cooked then takes the sum of both"
        if severity == "warning"
        else "unless the rest goes on while you prepare or cook something else",
        fixes=(Fix(f"`total: {words}`", (Edit(span, words),)),),
    )


CHECK = Check(
    id=ID,
    question="Can the recipe be done in the time it says?",
    reason=(
        "A total shorter than preparing and cooking, or shorter than one of its steps, cannot be kept, and supper is "
        "late. Work that goes on side by side is normal and is not complained of."
    ),
    good="""\
title: Rice
yield: serves 4
times: {prep: 5 min, cook: 20 min, total: 25 min}
ingredients:
  - 300 g long-grain white rice
steps:
  - Rinse {rice}, then simmer it for {18 min}.
""",
    bad="""\
title: Rice
yield: serves 4
times: {prep: 15 min, cook: 40 min, total: 30 min}
ingredients:
  - 300 g long-grain white rice
steps:
  - Rinse {rice}, then simmer it for {18 min}.
""",
    run=run,
)
