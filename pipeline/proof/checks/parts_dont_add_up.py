"""Parts of an ingredient, used in several steps, that do not make up what the list says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from pipeline.measure.express import expressed, say_amount
from pipeline.measure.record import replace
from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix, Severity
from pipeline.proof.names import say
from pipeline.proof.parts import Sum, add_up
from pipeline.proof.prose import flat
from pipeline.proof.usage import Usage, usages
from pipeline.recipe.model import Use
from pipeline.recipe.names import fruit_parts, part_called
from pipeline.recipe.span import Span

ID = "parts-dont-add-up"

# "until {butter} has melted" speaks of what is in the pan already.
_SPEAKS_OF = re.compile(r"\b(?:until|when|once|while|if|as soon as|after|before|like|from)\b[^.;]*$", re.IGNORECASE)


def run(bench: Bench) -> Iterable[Finding]:
    for usage in bench.once(usages):
        if usage.line.amounts and usage.marks:
            for marks in _by_part(usage):
                yield from _judge(replace(usage, marks=marks), bench)


def _by_part(usage: Usage) -> Iterator[tuple[tuple[int, Use], ...]]:
    """The marks, apart for a fruit's juice and its zest: who grates a lemon in one step may press it in another."""
    if not fruit_parts(usage.line):
        yield usage.marks
        return
    called = [(part_called(usage.line, use.name), step, use) for step, use in usage.marks]
    for part in dict.fromkeys(part for part, _, _ in called):
        # How much juice a fruit gives stands in no list: parts of it cannot be added up.
        yield tuple((step, use) for name, step, use in called if name == part and not (part and use.amounts))


def _judge(usage: Usage, bench: Bench) -> Iterator[Finding]:
    used = [(step, use) for step, use in usage.marks if not _speaks_of(step, use, bench)]
    parts = [use for _, use in used if use.amounts]
    whole = [(step, use) for step, use in used if not use.amounts and not use.rest]
    rests = [(step, use) for step, use in used if use.rest]
    if parts:
        yield from _sums(usage, parts, bool(whole), bool(rests), bench)
        if whole and not rests:
            yield _again(usage, whole, "after parts of it", bench)
    elif len({step for step, _ in whole}) > 1 and not usage.line.divided:
        yield _again(usage, whole[1:], "twice", bench)
    if len({step for step, _ in rests}) > 1:
        step, use = rests[-1]
        message = f"the rest of the {usage.line.name} is used twice, the second time in step {step + 1}"
        why = "after the first `rest` nothing is left"
        fixes = (Fix("write the amount of the first part"),)
        yield Finding(ID, "warning", use.whole.span, message, why, fixes, second=rests[0][1].whole.span)


def _speaks_of(step: int, use: Use, bench: Bench) -> bool:
    """Whether a mark without an amount only refers to what is already there."""
    words = flat(bench.recipe.steps[step], bench.recipe)
    start = next(s for s, _, piece in words.pieces if piece is use)
    sentence = words.text[:start].rpartition(". ")[2]
    return not use.amounts and not use.rest and bool(_SPEAKS_OF.search(sentence))


def _again(usage: Usage, whole: Sequence[tuple[int, Use]], how: str, bench: Bench) -> Finding:
    step, use = whole[0]
    name = usage.line.name
    first = next(u for _, u in usage.marks if u is not use)
    return Finding(
        ID,
        "warning",
        use.whole.span,
        f"all of the {name} is used {how}: step {step + 1} prints the whole amount again",
        why=f"a bare `{{{use.name}}}` stands for everything that the list has",
        fixes=(
            Fix(f"`{{{use.name}: rest}}` for what is left", (Edit(use.whole.span, f"{use.name}: rest"),)),
            Fix(f"the plain word, where step {step + 1} only speaks of it"),
        ),
        second=first.whole.span,
    )


def _sums(usage: Usage, parts: Sequence[Use], whole: bool, rests: bool, bench: Bench) -> Iterator[Finding]:
    line = usage.line
    total = add_up(line, parts, bench.row(line), bench.channel.cup)
    if total is None:
        return
    said = say(_said(use) for use in parts)
    listed = line.amounts[total.listed].text
    span, last = line.item_spans[total.listed], parts[-1].whole.span
    if total.over == "wide":
        message = f"the steps use {said} of the {line.name}, more than the {listed} in the list"
        yield _finding("error", message, total, usage, span, last, bench)
    elif rests and total.nothing_left:
        message = f"nothing is left of the {listed} {line.name} for `rest`: the steps before it use {said}"
        yield _finding("warning", message, total, usage, span, last, bench)
    elif total.under and _rest_in_words(usage, bench):
        return
    elif not rests and not whole and total.under == "wide":
        message = f"the steps use {said} of the {line.name}, less than the {listed} in the list"
        yield _finding("note" if usage.worded else "warning", message, total, usage, span, last, bench)
    elif not rests and not whole and "narrow" in (total.over, total.under):
        message = f"{said} of the {line.name} make {listed} only loosely"
        yield _finding("note", message, total, usage, span, last, bench)


def _rest_in_words(usage: Usage, bench: Bench) -> bool:
    """Whether a step takes what is left in plain words: "the rest of the sugar", "the remaining flour"."""
    last = re.escape(str(usage.line.key).rpartition(" ")[2])
    left = re.compile(
        rf"\b(?:(?:rest|remainder) of|remaining|leftover|left)\s+(?:[\w-]+\s+){{0,3}}?{last}", re.IGNORECASE
    )
    return any(left.search(flat(bench.recipe.steps[step], bench.recipe).text) for step in usage.worded)


def _said(use: Use) -> str:
    """A part as it was typed: an amount, or the share that it is of the whole ("30%")."""
    return use.amounts[0].text if use.share is None else str(use.whole).strip("{} ").rpartition(":")[2].strip()


def _finding(
    severity: Severity, message: str, total: Sum, usage: Usage, span: Span, last: Span, bench: Bench
) -> Finding:
    line = usage.line
    like = line.amounts[total.listed]
    row, cup = bench.row(line), bench.channel.cup
    if total.direct and like.unit.kind == "count" and total.parts.low == total.parts.high:
        size = "" if line.size == "fruit" else line.size
        made: str | None = say_amount(replace(like, low=total.parts.low, high=total.parts.low), cup, size)
    else:
        made = expressed(total.parts, like, row, line.size, cup, total.direct and like.unit.kind != "mass")
    fixes = [Fix(f"`{made}` in the list, if the steps are right")] if made and total.parts.low > 0 else []
    return Finding(
        ID,
        severity,
        last,
        message,
        why=f"the parts make {made}" if made else "the parts are not the whole",
        fixes=(*fixes, Fix("mend a part, or write `rest` for the last one")),
        second=span,
    )


CHECK = Check(
    id=ID,
    question="Do the parts used in the steps make up the amount in the list?",
    reason=(
        "Who weighs out the list and then follows the steps is left with too much or too little. Parts are compared "
        "in the list's own measure where all have it, else by weight; rounding is forgiven."
    ),
    good="""\
title: Lemonade
yield: 1 liter
ingredients:
  - 800 ml water, divided
  - 150 g sugar
steps:
  - "Warm {water: 200 ml} with {sugar} until clear."
  - "Add {water: rest}."
""",
    bad="""\
title: Lemonade
yield: 1 liter
ingredients:
  - 800 ml water, divided
  - 150 g sugar
steps:
  - "Warm {water: 200 ml} with {sugar} until clear."
  - "Add {water: 700 ml}."
""",
    run=run,
)
