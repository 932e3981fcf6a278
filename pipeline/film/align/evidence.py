"""How much each moment speaks for each step: log-likelihood ratios against the film's own talk.

A step's talk is taken as a mixture: so much of it comes from the step's profile, the rest from what is said
in this film anyway. A token's ratio is then log(1 - s + s * q / p), with ``q`` its share of the profile and
``p`` its share of the film: "dough" in a bread film says little, "turmeric" said once says much, and nothing
needs a list of which words matter (mixture language models: Ponte and Croft, SIGIR 1998; Zhai and Lafferty,
TOIS 22 (2), 2004 - from memory).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp, log

from pipeline.film.align.moments import Moment
from pipeline.film.align.profile import Profile

# The share of a step's talk that its profile explains; the page's words are a small part of what is said.
_SHARE = 0.3
# A profile of fewer weights than this is not taken to be complete.
_WHOLE = 12.0
# A word said again within so many ms speaks half as loud: it is the same thing still talked of.
_AGAIN = 10_000
# One word alone may be chance; words of a step come together. Alone, it speaks so much.
_ALONE = 0.5
_BESIDE = 4_000  # ms
# What was done out of sight ("I have made the balls already") is not shown: where phrases of this weight say so, a
# moment speaks for no step.
_DONE = 1.0
# Moments with much talk of another kind are that, whatever words of the recipe stand in them.
_KINDS = {"hello": 0.6, "list": 0.6, "bye": 0.6, "aside": 0.9, "past": 0.5, "later": 0.5}


@dataclass(frozen=True, slots=True)
class Evidence:
    """``gain[i]``: for each step that moment ``i`` speaks for, by how much (natural log); ``early[i]``: what of it
    stands early in the step's text; ``whole[i]``: what the moment is for talk that goes from step to step; ``aside[i]``
    (at least 0): how much it is talk of another kind; ``why[i]``: for each such step its tokens with their gains."""

    gain: list[dict[int, float]]
    early: list[dict[int, float]]
    whole: list[float]
    aside: list[float]
    why: list[dict[int, list[tuple[float, str]]]]


def weigh(film: Sequence[Moment], made: Sequence[Profile]) -> Evidence:
    """The evidence of each moment of the film for each step's profile."""
    ratios = _ratios(film, made)
    why: list[dict[int, list[tuple[float, str]]]] = []
    said: dict[str, int] = {}
    for moment in film:
        reasons: dict[int, list[tuple[float, str]]] = {}
        for token in moment.tokens if moment.talk.get("done", 0.0) < _DONE else ():
            steps = ratios.get(token)
            if steps is None:
                continue
            loud = 0.5 if moment.start - said.get(token, -_AGAIN) < _AGAIN else 1.0
            said[token] = moment.start
            for step, ratio in steps.items():
                reasons.setdefault(step, []).append((loud * ratio, token))
        why.append(reasons)
    aside = [sum(min(m.talk.get(kind, 0.0), 3.0) * share for kind, share in _KINDS.items()) for m in film]
    gain: list[dict[int, float]] = []
    early: list[dict[int, float]] = []
    for i, reasons in enumerate(why):
        gains: dict[int, float] = {}
        firsts: dict[int, float] = {}
        for step, found in reasons.items():
            share = 1.0 if _together(film, why, i, step) else _ALONE
            late = made[step].late
            gains[step] = share * sum(ratio for ratio, _ in found)
            firsts[step] = share * sum(ratio * (1 - late.get(token, 0.0)) for ratio, token in found)
        gain.append(gains)
        early.append(firsts)
    return Evidence(gain, early, [_any(gains, len(made)) for gains in gain], aside, why)


def _any(gains: Mapping[int, float], steps: int) -> float:
    """What a moment is for talk that goes from step to step, as a list or a look back does: any step may be meant, each
    as likely, and as often none."""
    ways = 2 * steps
    return log(max((ways - len(gains) + sum(exp(gain) for gain in gains.values())) / ways, 1.0))


def _together(film: Sequence[Moment], why: Sequence[dict[int, list[tuple[float, str]]]], i: int, step: int) -> bool:
    """Whether two words speak for the step in moment ``i`` and what is said right before and after it."""
    words: set[str] = set()
    for m in range(max(i - 1, 0), min(i + 2, len(film))):
        if abs(film[m].start - film[i].start) <= _BESIDE:
            words.update(token for _, token in why[m].get(step, ()) if token[0] != "~")
    return len(words) > 1


def _ratios(film: Sequence[Moment], made: Sequence[Profile]) -> dict[str, dict[int, float]]:
    """Each token's ratio for each step that has it."""
    counts = Counter(token for moment in film for token in moment.tokens)
    total = max(sum(counts.values()), 200)
    ratios: dict[str, dict[int, float]] = {}
    for step, profile in enumerate(made):
        full = max(sum(weight for token, weight in profile.weights.items() if token[0] != "~"), _WHOLE)
        for token, weight in profile.weights.items():
            said = counts.get(token, 0)
            if not said:
                continue
            q = weight / full
            p = (said + 1.0) / total
            ratio = log(1 - _SHARE + _SHARE * q / p)
            if ratio > 0.02:
                ratios.setdefault(token, {})[step] = ratio
    return ratios
