"""The words, as they were said, on which a mark rests."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.align.evidence import Evidence
from pipeline.film.align.figures import spans_of
from pipeline.film.align.folds import bare, fold, kin
from pipeline.film.align.moments import Moment, mended
from pipeline.film.transcript import Transcript

_MOST = 5
# What says less than this (natural log) convinces nobody.
_LEAST = 0.5


def witnesses(
    transcript: Transcript,
    film: Sequence[Moment],
    evidence: Evidence,
    near: dict[str, str],
    step: int,
    stretch: range,
) -> tuple[str, ...]:
    """Up to five words or figures of the moments in ``stretch`` that speak for the step, the strongest first."""
    found: dict[str, float] = {}
    for m in stretch:
        reasons = {token: gain for gain, token in evidence.why[m].get(step, ())}
        if not reasons:
            continue
        moment = film[m]
        words = [word.text for word in transcript.words[moment.first : moment.last]]
        plain = [bare(word) for word in words]
        for first, last, token in spans_of(plain):
            if token in reasons:
                _keep(found, " ".join(plain[first : last + 1]), reasons[token])
        for word in plain:
            folded = mended(fold(word), near)
            gain = reasons.get(folded, 0.0)
            if not gain:
                gain = max((reasons.get(family, 0.0) for family in kin().get(folded, ())), default=0.0)
            _keep(found, word, gain)
    ranked = sorted((word for word in found if found[word] >= _LEAST), key=lambda word: -found[word])
    whole = [word for word in ranked if not any(word != other and word in other.split() for other in ranked)]
    return tuple(whole[:_MOST])


def _keep(found: dict[str, float], word: str, gain: float) -> None:
    if gain > found.get(word, 0.0):
        found[word] = gain
