"""From a verdict on a pair to the ways of putting it right: words, and the exact edit where one can be told."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pipeline.measure.pair import Verdict
from pipeline.proof.finding import Edit, Fix
from pipeline.recipe.span import Span


class Half(NamedTuple):
    """One half of a pair. ``text`` is what was typed at ``span``; ``said`` is what a corrected pair calls it, which
    is longer for counts ("2" was typed, "2 large" is said)."""

    text: str
    span: Span
    said: str = ""


def pair_fixes(verdict: Verdict, a: Half, b: Half, source: str) -> tuple[Fix, ...]:
    """One way for each corrected pair. Which half is right, a person must say: both are shown, none is applied."""
    fixes: list[Fix] = []
    said_a, said_b = a.said or a.text, b.said or b.text
    for pair in verdict.fixes:
        first, _, second = pair.partition(" or ")
        if not second:
            fixes.append(Fix(f"`{pair}` alone, if it is right"))
        elif first in (a.text, said_a):
            fixes.append(Fix(f"`{pair}` if `{said_a}` is right", _edit(b, second, source)))
        elif second in (b.text, said_b):
            fixes.append(Fix(f"`{pair}` if `{said_b}` is right", _edit(a, first, source)))
        else:
            fixes.append(Fix(f"`{pair}`"))
    return tuple(fixes)


def _edit(changed: Half, text: str, source: str) -> tuple[Edit, ...]:
    """The edit of that half, unless what stands there is not just its words (a size told "each", a folded line)."""
    span = changed.span
    return (Edit(span, text),) if source[span.start : span.end] == changed.text else ()


def apart(off: float) -> str:
    """How far apart two statements are: "the first is 32 % more", "the second is 2 times as much"."""
    ratio = 1 + off
    if ratio >= 1.95:
        return f"the first is {_times(ratio)} times as much"
    if 0 < ratio <= 1 / 1.95:
        return f"the second is {_times(1 / ratio)} times as much"
    return f"the first is {abs(off) * 100:.2g} % {'more' if off > 0 else 'less'}"


def _times(ratio: float) -> str:
    return f"{ratio:.0f}" if ratio >= 9.5 else f"{ratio:.1f}".removesuffix(".0")


def culprits(count: int, wrong: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Which of ``count`` statements to blame, each once, given the pairs that do not agree: (blamed, beside) pairs.

    The statement in most disagreements is blamed first, the later one where that is a tie.
    """
    left, result = list(wrong), []
    while left:
        blamed = max(range(count), key=lambda i: (sum(i in pair for pair in left), i))
        beside = next(a + b - blamed for a, b in left if blamed in (a, b))
        result.append((blamed, beside))
        left = [pair for pair in left if blamed not in pair]
    return result
