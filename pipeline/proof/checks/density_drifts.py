"""One ingredient at two different weights per cup inside one recipe."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations

from pipeline.measure.amount import Interval
from pipeline.measure.pair import compare
from pipeline.measure.units import factor, unit
from pipeline.measure.weighing import interval
from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.names import words
from pipeline.proof.statements import Pair, Stated, pairs

ID = "density-drifts"


def run(bench: Bench) -> Iterable[Finding]:
    seen: dict[str, list[tuple[Pair, Stated, Stated]]] = {}
    for pair in bench.once(pairs):
        for weight, volume in _measured(pair):
            key = f"{pair.row.name}, {pair.row.state}" if pair.row else " ".join(words(pair.name))
            seen.setdefault(key, []).append((pair, weight, volume))
    for name, every in seen.items():
        found = [one for one in every if not _wrong(one, bench)] if len(every) > 1 else []
        for other in found[1:]:
            if not _per_ml(found[0], bench).meets(_per_ml(other, bench)):
                yield _finding(name.strip(", "), found[0], other, bench)
                break


def _measured(pair: Pair) -> Iterator[tuple[Stated, Stated]]:
    """The first (weight, volume) of a pair whose ingredient is known."""
    for a, b in combinations(pair.stated, 2):
        kinds = (a.amount.unit.kind, b.amount.unit.kind)
        if set(kinds) == {"mass", "volume"} and pair.name != "this":
            weight, volume = (a, b) if kinds[0] == "mass" else (b, a)
            if volume.amount.unit.name not in ("pinch", "dash") and weight.amount.high and volume.amount.low:
                yield weight, volume
            return


def _wrong(measured: tuple[Pair, Stated, Stated], bench: Bench) -> bool:
    """Whether the pair is an error already and says nothing of how a cup is filled."""
    pair, weight, volume = measured
    return compare(weight.amount, volume.amount, pair.row, pair.size, bench.channel.cup).status == "disagrees"


def _per_ml(measured: tuple[Pair, Stated, Stated], bench: Bench) -> Interval:
    """Grams per ml that this pair can mean, with easy-going rounding on both sides."""
    _, weight, volume = measured
    grams = interval(weight.amount, "honest", bench.channel.cup)
    ml = interval(volume.amount, "honest", bench.channel.cup)
    return Interval(grams.low / max(ml.high, Fraction(1, 1000)), grams.high / max(ml.low, Fraction(1, 1000)))


def _cup(measured: tuple[Pair, Stated, Stated], bench: Bench) -> str:
    _, weight, volume = measured
    grams = interval(weight.amount, "stated", bench.channel.cup).middle()
    ml = interval(volume.amount, "stated", bench.channel.cup).middle()
    return f"{round(float(grams / ml * factor(unit('cup'), bench.channel.cup)))} g"


def _finding(
    name: str, first: tuple[Pair, Stated, Stated], other: tuple[Pair, Stated, Stated], bench: Bench
) -> Finding:
    _, weight, volume = other
    here, there = _cup(other, bench), _cup(first, bench)
    return Finding(
        ID,
        "warning",
        volume.span if volume.span.start > weight.span.start else weight.span,
        f"a cup of {name} weighs {here} here and {there} before",
        why=(
            f"{weight.amount.text} for {volume.amount.text} here, {first[1].amount.text} for {first[2].amount.text} "
            "before: both may be true of some cup, but not of the same one"
        ),
        fixes=(Fix(f"fill the cup one way in the whole recipe: {there} or {here}"),),
        second=first[2].span,
    )


CHECK = Check(
    id=ID,
    question="Does a cup of an ingredient weigh the same all through the recipe?",
    reason=(
        "Flour is 120 g a cup when it is spooned and 150 g when it is scooped. Each may be true, but a recipe that "
        "uses both gives one half of the audience another dough than the other half."
    ),
    good="""\
title: Buns
yield: 8 buns
components:
  dough:
    - 360 g or 3 cups all-purpose flour
    - 240 ml milk
  topping:
    - 60 g or 1/2 cup all-purpose flour
    - 60 g butter
steps:
  - dough: Knead {flour} with {milk}.
  - topping: Rub {butter} into {flour}.
""",
    bad="""\
title: Buns
yield: 8 buns
components:
  dough:
    - 360 g or 3 cups all-purpose flour
    - 240 ml milk
  topping:
    - 300 g or 2 cups all-purpose flour
    - 60 g butter
steps:
  - dough: Knead {flour} with {milk}.
  - topping: Rub {butter} into {flour}.
""",
    run=run,
)
