"""A pair that cannot be checked, because nobody knows what a cup of it weighs."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from pipeline.measure.pair import compare
from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.statements import Pair, pairs

ID = "ingredient-unknown"


def run(bench: Bench) -> Iterable[Finding]:
    told: set[str] = set()
    for pair in bench.once(pairs):
        name = pair.name.casefold()
        if pair.where == "words" or name in told:
            continue  # in running words the name is our guess
        if unproven := _unproven(pair, bench):
            told.add(name)
            yield unproven


def _unproven(pair: Pair, bench: Bench) -> Finding | None:
    """A weight and a volume that no row holds together. Cans and bunches come in any size and prove nothing."""
    if pair.row is not None and pair.row.cup is not None:
        return None
    for a, b in combinations(pair.stated, 2):
        if {a.amount.unit.kind, b.amount.unit.kind} != {"mass", "volume"}:
            continue
        verdict = compare(a.amount, b.amount, pair.row, pair.size, bench.channel.cup)
        if verdict.status == "unknown":
            near = bench.table.near(pair.name)
            known = (Fix(f"if it is one of these, write it so: {', '.join(f'`{n}`' for n in near)}"),) if near else ()
            add = Fix(f"add a row for `{pair.name}` to content/ingredients.yaml: its name and the grams in one cup")
            message = f"nothing is known of {pair.name}, so {a.amount.text} and {b.amount.text} stand unproven"
            if pair.row is not None:
                known = ()
                message = (
                    f"no cup weight is known of {pair.name}, so {a.amount.text} and {b.amount.text} stand unproven"
                )
            return Finding(ID, "warning", a.span, message, why=verdict.why, fixes=(*known, add), second=b.span)
    return None


CHECK = Check(
    id=ID,
    question="Is it known what a cup of each ingredient with two measures weighs?",
    reason=(
        "Without its weight per cup, a pair cannot be proven and the missing measure cannot be printed. An unknown "
        "ingredient is asked about and never taken for its nearest neighbour: coconut milk is not milk."
    ),
    good="""\
title: Sweet water
yield: 2 glasses
ingredients:
  - 100 g or 1/2 cup sugar
  - 480 ml water
steps:
  - Stir {sugar} into {water}.
""",
    bad="""\
title: Sweet water
yield: 2 glasses
ingredients:
  - 100 g or 1/2 cup moonblossom crystals
  - 480 ml water
steps:
  - Stir {moonblossom crystals} into {water}.
""",
    run=run,
)
