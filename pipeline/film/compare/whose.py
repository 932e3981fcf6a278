"""Whose number it is: how much speaks for it that a number which is not the page's is none of this recipe's.

Each sign by itself is weak: a cook also says "my aunt does the same" of her own butter. Together they tell. In the
marked films seven in ten numbers of this recipe have no sign at all beside them, of others' numbers three in ten.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from pipeline.film.compare.excuses import left_open
from pipeline.film.compare.film import Best, Film
from pipeline.film.compare.plain import here, plain_slip
from pipeline.film.compare.telling import Sign, telling
from pipeline.film.spoken.said import Spoken

#: From so much doubt on a number is not surely wrong, and from so much on it is nobody's business. Our own judgement,
#: tried on the marked films.
DOUBT, DISMISS = 1.0, 3.5
#: So much speaks for it that a number is what a slip makes of the one written where the film is.
LIKELY = 2.0

_HERE: dict[Sign, float] = {
    "others": 2.5, "ratio": 2.5, "story": 2, "quoted": 2, "otherwise": 1.5, "past": 1.5, "might": 1, "asked": 1,
}  # fmt: skip
_BEFORE: dict[Sign, float] = {
    "others": 1, "story": 1, "asked": 1, "otherwise": 1, "past": 0.5, "might": 0.5,
}  # fmt: skip
# Without stops nobody knows where a sentence begins.
_FLAT = 0.7
# Powers of e apart: seven times as much is seldom a slip, twenty times hardly ever, unless it is the same number of
# something else ("two cups" for two tablespoons).
_FAR, _FARTHEST = 1.9, 3.0
# Words ahead in which who has misspoken says it right; and back, in which who has said it says what it is not.
_SOON = 30
# Words within which two amounts are of one batch.
_SAME_BATCH = 14
_TAKEN_BACK = re.compile(
    r"\b(?:no|nah|nope|sorry|wait|hang on|hold on|tell a lie|i lie|i mean|actually|what am i|correction|"
    r"oops|ope|whoops|let me (?:look|check|see|read)|"
    r"i'm thinking of|not (?:a|an|\w+)|scratch that|excuse me|did i say)\b"
)


def talk_doubt(film: Film, index: int, chosen: Mapping[int, Best]) -> float:
    """What the talk around something said speaks for it being another's."""
    utterance = film.utterances[index]
    parted = film.utterances[index - 1].said.last if index else 0
    known = _words_of(film.recipe.source)
    signs = telling(film.speech, utterance.said, _since(film, index, chosen), parted, known)
    doubt = sum(_HERE[s] for s in signs.here) * (_FLAT if film.speech.flat else 1)
    return doubt + sum(_BEFORE.get(s, 0) for s in signs.before - signs.here)


@lru_cache(maxsize=8)
def _words_of(source: str) -> frozenset[str]:
    return frozenset(re.findall(r"[\w']+", source.lower()))


def doubt(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> float:
    """The same of an amount laid beside a line: what else was said of it, how far apart the two are, and whether the
    film is where the line is used."""
    utterance = film.utterances[index]
    found = talk_doubt(film, index, chosen)
    place = best.candidate.listed.place
    right = [
        film.utterances[i].said
        for i, b in chosen.items()
        if i != index and b.candidate.listed.place == place and b.rank == 0 and film.utterances[i].scope == "use"
    ]
    just = [other for other in right if 0 <= utterance.said.first - other.last <= _SOON]
    again = any(_alike(other, utterance.said) for other in just)
    if just and not again:
        # the same told in the other measure: "four grams. That'd be one and a quarter tablespoons."
        found = max(found - DOUBT, 0)
    elif right and utterance.scope in ("use", "repeat"):
        found += 2.5 if again else 1.5
    soon = [gap for other in right if 0 <= (gap := other.first - utterance.said.last) <= _SOON]
    if soon:
        between = film.speech.text(utterance.said.last, utterance.said.last + min(soon))
        found += DISMISS if _TAKEN_BACK.search(between) else 1
    if not _same_number(best):
        found += DISMISS if best.gap > _FARTHEST and utterance.scope == "use" else 1.5 if best.gap > _FAR else 0
    if not here(film, utterance, best):
        found += 1
    if not utterance.said.ingredient:
        found *= 2  # of nothing named: what else was told weighs twice
    if best.judged is not None and not best.judged.direct:
        found += 0.5
    if utterance.aside:
        found += 1
    if _scaled(film, index, best, chosen):
        found += 2.5
    if film.speech.flat and left_open(film, index, utterance, best, chosen):
        found += 1
    elif plain_slip(film, index, best, chosen):
        found = max(found - LIKELY, 0)
    return found


def _alike(one: Spoken, other: Spoken) -> bool:
    """Whether both measure in the same kind of unit."""
    return bool({a.unit.kind for a in one.amounts} & {a.unit.kind for a in other.amounts})


def _scaled(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether another line right before or behind it is said at so many times what is written, too: "half of this is
    half a pound of beef and seven ounces of noodles"."""
    mine = _times_written(best)
    if mine is None:
        return False
    said = film.utterances[index].said
    for n in (index - 1, index + 1):
        other = chosen.get(n)
        if other is None or other.candidate.listed.place == best.candidate.listed.place:
            continue
        there = film.utterances[n].said
        if max(there.first - said.last, said.first - there.last) <= _SAME_BATCH and _times_written(other) == mine:
            return True
    return False


def _times_written(best: Best) -> Fraction | None:
    """How many times the written amount is said, where it is said outright and not as it is written."""
    judged = best.judged
    if judged is None or not judged.direct or judged.target is None or best.rank == 0 or not judged.target.value:
        return None
    if judged.said.unit != judged.target.unit:
        return None
    times = judged.said.value / judged.target.value
    return times if times.numerator == 1 or times.denominator <= 2 else None


def _same_number(best: Best) -> bool:
    judged = best.judged
    if judged is None or judged.target is None or best.target is None:
        return False
    return any(judged.said.low == a.low for a in best.target.amounts)


def _since(film: Film, index: int, chosen: Mapping[int, Best]) -> int:
    """Where the last amount that is said as written ends: what was told before it is over."""
    for i in range(index - 1, -1, -1):
        best = chosen.get(i)
        if best is None or best.rank or best.judged is None or not best.judged.direct:
            continue
        if film.utterances[i].said.ingredient and film.utterances[i].scope != "apart":
            return film.utterances[i].said.last
    return 0
