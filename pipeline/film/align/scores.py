"""What each way to lay the steps along a film is worth, moment by moment (natural log).

A film is laid out as the talk before the cooking, a stretch of talk for each step that it tells, and the talk after it.
A stretch is worth the evidence for its step that is heard in it; what it does not explain (other steps' words, a story,
a look back) costs nothing, since any other stretch would have to bear it as well. A beginning is worth what a listener
goes by: a silence, a word that turns to something new, what is heard in the half minute that follows, and that the
step before has been left. The shares below were found on fifteen marked films, by hand beside a fit of the same sums,
and held on nine that were marked later; somewhat more or less of any gives marks as good.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from pipeline.film.align.evidence import Evidence
from pipeline.film.align.moments import Moment

# How much of a moment's evidence counts for the stretch that it stands in, and the most of it.
_ON, _ON_MOST = 0.7, 6.0
# A beginning: how much of the evidence of so many ms from it on counts, of what of it stands early in the step's text,
# and of the time behind that, each up to _MOST; and that there is any at all.
_SOON, _LATER = 10_000, 25_000
_LEAD_SOON, _LEAD_EARLY, _LEAD_LATER, _LEAD_ANY, _MOST = 0.12, 0.25, 0.15, 1.0, 8.0
# Leaving a step: what is still to be heard of it right after, and what was heard right before.
_LEFT_SOON, _LEFT_JUST, _LEFT_MOST = 0.2, 0.2, 6.0
# A moment's beginning: its turning words and silence; talk of another kind in it, and in what ends with it.
_TURN, _ASIDE, _ASIDE_MOST, _BACK = 1.5, 0.6, 3.0, 0.3
# The talk before and after the cooking: its own phrases, a share of what speaks for talk that goes from step to step,
# and talk of another kind.
_HELLO, _HELLO_WHOLE, _HELLO_ASIDE = 1.1, 0.5, 0.45
_BYE, _BYE_WHOLE, _BYE_ASIDE = 1.0, 0.5, 0.9
_WHOLE_MOST = 6.0
# Of other talk and looks back only so many ms from the film's beginning and its end speak for the talk before and after
# the cooking: in an hour there is so much of either that a cook seemed to have taken his leave in the middle of it.
_NEAR = 300_000
#: The price of the cooking's end.
END = 1.0
# Evidence of less than this is none.
_ANY = 0.5


@dataclass(frozen=True, slots=True)
class Scores:
    """For each moment: ``on``, for each step that it speaks for, the worth of standing in that step's stretch;
    ``turn``, the worth of anything's beginning there, ``lead`` what is added for each step, ``left`` what is added
    where the step is the one that ends there; ``hello`` and ``bye`` the worth of standing before and after the
    cooking."""

    on: list[dict[int, float]]
    turn: list[float]
    lead: list[dict[int, float]]
    left: list[dict[int, float]]
    hello: list[float]
    bye: list[float]


def scores(film: Sequence[Moment], evidence: Evidence) -> Scores:
    """The scores of a film's evidence."""
    on = [{step: min(_ON * gain, _ON_MOST) for step, gain in gains.items()} for gains in evidence.gain]
    lead, left = _windows(film, evidence)
    turn, hello, bye = [], [], []
    before = 0.0
    for moment, aside, whole in zip(film, evidence.aside, evidence.whole, strict=True):
        back = _BACK * min(before, _ASIDE_MOST) if aside < _ANY else 0.0
        turn.append(_TURN * moment.turn - _ASIDE * min(aside, _ASIDE_MOST) + back)
        before = aside
        told, talk = min(whole, _WHOLE_MOST), moment.talk
        early, late = moment.start - film[0].start < _NEAR, film[-1].end - moment.end < _NEAR
        hello.append(
            _HELLO * (talk.get("hello", 0.0) + talk.get("list", 0.0))
            + (_HELLO_WHOLE * told + _HELLO_ASIDE * aside) * early
        )
        bye.append(_BYE * talk.get("bye", 0.0) + (_BYE_WHOLE * told + _BYE_ASIDE * aside) * late)
    return Scores(on, turn, lead, left, hello, bye)


def _windows(film: Sequence[Moment], evidence: Evidence) -> tuple[list[dict[int, float]], list[dict[int, float]]]:
    """``lead`` and ``left`` of each moment, from the evidence heard around it."""
    starts = [moment.start for moment in film]
    soon: list[dict[int, float]] = [{} for _ in film]
    later: list[dict[int, float]] = [{} for _ in film]
    just: list[dict[int, float]] = [{} for _ in film]
    first: list[dict[int, float]] = [{} for _ in film]
    for i, gains in enumerate(evidence.gain):
        at = starts[i]
        near, far = bisect_left(starts, at - _SOON + 1), bisect_left(starts, at - _LATER + 1)
        past = bisect_left(starts, at + _SOON + 1)
        for step, gain in gains.items():
            value = min(gain, _ON_MOST)
            begun = min(evidence.early[i][step], _ON_MOST)
            for sums, since, until, more in (
                (soon, near, i + 1, value),
                (first, near, i + 1, begun),
                (later, far, near, value),
                (just, i + 1, past, value),
            ):
                for m in range(since, until):
                    sums[m][step] = sums[m].get(step, 0.0) + more
    lead: list[dict[int, float]] = []
    left: list[dict[int, float]] = []
    for now, begins, then, was in zip(soon, first, later, just, strict=True):
        found = {step: _LEAD_LATER * min(value, _MOST) for step, value in then.items()}
        for step, value in now.items():
            some = _LEAD_ANY if value > _ANY else 0.0
            early = _LEAD_EARLY * min(begins[step], _MOST)
            found[step] = found.get(step, 0.0) + _LEAD_SOON * min(value, _MOST) + early + some
        lead.append(found)
        gone = {step: -_LEFT_SOON * min(value, _LEFT_MOST) for step, value in now.items()}
        for step, value in was.items():
            gone[step] = gone.get(step, 0.0) - _LEFT_JUST * min(value, _LEFT_MOST)
        left.append(gone)
    return lead, left
