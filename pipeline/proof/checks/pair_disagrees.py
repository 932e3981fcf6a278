"""Two measures of one amount that are not the same amount."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from pipeline.measure.pair import Verdict, comparable, compare
from pipeline.proof.finding import Bench, Check, Finding, Fix, Severity
from pipeline.proof.mending import Half, apart, culprits, pair_fixes
from pipeline.proof.names import words
from pipeline.proof.statements import Pair, each, pairs, said

ID = "pair-disagrees"


def run(bench: Bench) -> Iterable[Finding]:
    for pair in bench.once(pairs):
        yield from _judge(pair, bench)


def _judge(pair: Pair, bench: Bench) -> Iterator[Finding]:
    verdicts = {
        (i, j): compare(pair.stated[i].amount, pair.stated[j].amount, pair.row, pair.size, bench.channel.cup)
        for i, j in combinations(range(len(pair.stated)), 2)
        if comparable(pair.stated[i].amount, pair.stated[j].amount)
    }
    for status in ("disagrees", "loose"):
        wrong = [at for at, verdict in verdicts.items() if verdict.status == status]
        for blamed, beside in culprits(len(pair.stated), wrong):
            i, j = min(blamed, beside), max(blamed, beside)
            yield _finding(pair, i, j, blamed, verdicts[i, j], bench)
        if wrong:
            return  # a loose half beside a wrong one says nothing new


def _severity(pair: Pair, i: int, j: int, verdict: Verdict) -> Severity:
    """Things that grow (a large onion) weigh what her scale says; there only a gross slip is an error."""
    if verdict.status != "disagrees":
        return "note"
    counted = any(pair.stated[n].amount.unit.kind == "count" for n in (i, j))
    made = any(pair.stated[n].amount.unit.name == "stick" for n in (i, j)) or "egg" in words(pair.name)
    return "warning" if counted and not made and 0.4 < 1 + verdict.off < 2.5 else "error"


def _finding(pair: Pair, i: int, j: int, blamed: int, verdict: Verdict, bench: Bench) -> Finding:
    a, b = pair.stated[i], pair.stated[j]
    first, second, gap = said(a, pair.size), said(b, pair.size), apart(verdict.off)
    severity = _severity(pair, i, j, verdict)
    if severity != "note":
        message = f"{first} and {second} are different amounts of {pair.name}: {gap}"
    else:
        message = f"{first} and {second} of {pair.name} agree only loosely: {gap}"
    why = "; ".join(filter(None, (verdict.why, verdict.slip.words if verdict.slip else "")))
    return Finding(
        ID,
        severity,
        pair.stated[blamed].span,
        message,
        why=why,
        fixes=_fixes(pair, i, j, verdict, bench),
        second=pair.stated[i + j - blamed].span,
    )


def _fixes(pair: Pair, i: int, j: int, verdict: Verdict, bench: Bench) -> tuple[Fix, ...]:
    a, b = pair.stated[i], pair.stated[j]
    if each(a) or each(b):
        return (Fix("mend one of the two: what is said of one thing is held together with what all of them make"),)
    halves = [Half(s.amount.text, s.span, said(s, pair.size)) for s in (a, b)]
    return pair_fixes(verdict, halves[0], halves[1], bench.recipe.source)


CHECK = Check(
    id=ID,
    question="Are the two measures of an ingredient the same amount?",
    reason=(
        "Half of the audience weighs and half of it fills cups. Where the two disagree, one half bakes another "
        "recipe. A number stands for all that a cook rounds to it and a cup for all ways of filling it, so that "
        "only what cannot be the same amount is an error; what is barely the same is a note."
    ),
    good="""\
title: Flatbread
yield: 4 flatbreads
ingredients:
  - 250 g or 2 cups all-purpose flour
  - 160 g (2/3 cup) water
steps:
  - Knead {flour} with {water}.
""",
    bad="""\
title: Flatbread
yield: 4 flatbreads
ingredients:
  - 250 g or 1 cup all-purpose flour
  - 160 g (2/3 cup) water
steps:
  - Knead {flour} with {water}.
""",
    run=run,
)
