"""Marks from chances: where each step's mark goes, how sure it is, what it rests on and what else it may be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pipeline.film.align.chain import Begin
from pipeline.film.align.evidence import Evidence
from pipeline.film.align.fit import ANOTHER, UNSURE
from pipeline.film.align.moments import Moment
from pipeline.film.clock import say_moment
from pipeline.film.mark import Mark, Other
from pipeline.film.transcript import Transcript

#: A mark within so many ms of the true beginning helps a viewer: he hears the step begin.
NEAR = 10_000
#: A mark of less confidence is not made: it is oftener wrong than right.
WEAK = 0.35
#: A mark of less confidence is asked about.
DOUBTFUL = 0.7
# No mark is surer than this in a film that may be another recipe's.
_UNSURE = 0.6
# Evidence (natural log) of a step's talk that its words seldom have by chance: in films of other recipes two steps of
# three stay below it, in the right film one of thirteen does.
_CHANCE = 4.0
# Evidence is summed over so many ms at most: longer talk makes no step more certain. Not over so many moments, for some
# cooks say three words to a sentence.
_LONG = 45_000
_SHOWN = 12  # words of a mark that are shown


@dataclass(frozen=True, slots=True)
class Placed:
    """One step's best moment (index), its chance, how much evidence stands behind it (up to moment ``last``, one
    behind), and other moments with their chances."""

    step: int
    at: int
    last: int
    chance: float
    strength: float
    others: tuple[tuple[int, float], ...]


def placed(film: Sequence[Moment], evidence: Evidence, found: Sequence[Begin]) -> list[Placed]:
    """The moment of least expected error for each step whose beginning has any chance."""
    firsts: list[tuple[Begin, int, float, tuple[tuple[int, float], ...]]] = []
    for begin in found:
        ranked = _ranked(film, begin.chances)
        if ranked:
            firsts.append((begin, ranked[0][0], ranked[0][1], tuple(ranked[1:])))
    moments = sorted(at for _, at, _, _ in firsts)
    result: list[Placed] = []
    for begin, at, chance, others in firsts:
        until = min([m for m in moments if m > at], default=len(film))
        last = next((m for m in range(at, until) if film[m].start - film[at].start > _LONG), until)
        strength = sum(max(evidence.gain[m].get(begin.step, 0.0), 0.0) for m in range(at, last))
        result.append(Placed(begin.step, at, last, chance, strength, others))
    return result


def _ranked(film: Sequence[Moment], chances: Sequence[tuple[int, float]]) -> list[tuple[int, float]]:
    """Up to three moments more than NEAR apart, the best first, each with the chance that the beginning is near it.

    The best is not the likeliest moment but the one with most chance around it, near moments counting more."""
    found: list[tuple[int, float]] = []
    times = [film[i].start for i, _ in chances]
    weights = []
    for time in times:
        weights.append(sum(c * max(0.0, 1 - abs(t - time) / NEAR) for t, (_, c) in zip(times, chances, strict=True)))
    open_ = set(range(len(chances)))
    counted: set[int] = set()
    while open_ and len(found) < 3:
        best = max(open_, key=lambda n: (weights[n], -times[n]))
        near = [n for n in range(len(chances)) if n not in counted and abs(times[n] - times[best]) <= NEAR]
        chance = sum(chances[n][1] for n in near)
        if found and chance < 0.02:
            break
        found.append((chances[best][0], min(chance, 1.0)))
        counted.update(near)
        open_ -= {n for n in open_ if abs(times[n] - times[best]) <= NEAR}
    return found


def mark_of(transcript: Transcript, film: Sequence[Moment], one: Placed, rests: tuple[str, ...], own: float) -> Mark:
    """The step's mark, or the reason why there is none. ``rests`` are the words it rests on, ``own`` is how much the
    film is of this recipe at all (fit.py)."""
    confidence = round(one.chance * min(1.0, (one.strength + 1.0) / _CHANCE), 3)
    others = tuple(_other(transcript, film, at, chance) for at, chance in one.others)
    words = _words(transcript, film[one.at])
    at: int | None = film[one.at].start
    if own < ANOTHER:
        reason, confidence = "the film's words are not this recipe's", 0.0
    elif confidence < WEAK:
        reason = f"too little speaks for any moment; the likeliest is {say_moment(at or 0)}"
    else:
        reason = f"rests on {_listed(rests)}" if rests else "stands between its neighbours, by no word of its own"
    if own < ANOTHER or confidence < WEAK:
        others = (Other(film[one.at].start, round(one.chance, 3), words), *others)[:3]
        at = None
    elif own < UNSURE:
        confidence = min(confidence, _UNSURE)
    return Mark(one.step, at, confidence, words, rests, others, reason)


def _listed(words: Sequence[str]) -> str:
    return ", ".join(f"“{word}”" for word in words)


def _other(transcript: Transcript, film: Sequence[Moment], at: int, chance: float) -> Other:
    return Other(film[at].start, round(chance, 3), _words(transcript, film[at]))


def _words(transcript: Transcript, moment: Moment) -> str:
    """What is said from a moment on, about a line of it."""
    shown = transcript.words[moment.first : moment.first + _SHOWN]
    more = "…" if moment.first + _SHOWN < len(transcript.words) else ""
    return " ".join(word.text for word in shown) + more
