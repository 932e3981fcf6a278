"""Why a number that is not the page's may be right all the same: a part, a sum, another line of that name."""

from __future__ import annotations

import re
from collections.abc import Mapping

from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.names import Listed
from pipeline.film.compare.parts import by_article, ended, more_in_all, of_a_part, of_several, only_mention, sums_up
from pipeline.film.compare.plain import here, plain_slip
from pipeline.film.compare.stating import beside
from pipeline.measure.amount import Amount
from pipeline.measure.grammar import read_amount
from pipeline.measure.phrase import tokens

# Measures that nobody fills to a line: what the page gives in another unit is not contradicted by them.
_LOOSE = frozenset(
    """
    pinch dash handful knob drop bunch sprig piece bag box bottle carton jar packet scoop splash glug slice sheet
    block head leaf stalk strip wedge bowl can
    """.split()  # noqa: SIM905
)


_WEIGHS = re.compile(r"\b(?:weighs?|should weigh|weighed)\b")
# "A cup of flour is a hundred and twenty five grams": what one is, not how much goes in.
_IS = re.compile(r"^(?:an?|one|each|every) \w+(?: of (?:\w+ ){1,3}| )(?:is|are|holds|comes? to)\b")
# A name that fits less is too weak to call a number wrong.
_FITS = 0.5
# Powers of e apart from which an amount that no name goes with is of something else: eight times as much.
_FAR = 2.1
# Words on either side in which another ingredient may have been named.
_NEAR_BACK, _NEAR_AHEAD = 30, 12
# Words before an amount among which the name of a thing stands whose amounts follow it.
_RIGHT_BEFORE = 5
# Words back in which a thing was named that a number without a name is of, and ahead in which another may be.
_NAMED_BACK, _NAMED_AHEAD = 12, 4
# Words within which two amounts are of one and the same use.
_SAME_BREATH = 12


def excused(film: Film, index: int, utterance: Utterance, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether a number that is not the page's is right all the same."""
    said = utterance.said
    assert best.judged is not None and best.target is not None
    if any(a.unit.name in _LOOSE and not _written_so(a, best) for a in said.amounts):
        return True
    plain = plain_slip(film, index, best, chosen)
    untold = film.speech.flat and not _told_of(film, index, best, chosen)
    if not plain and not said.ingredient and (best.gap > _FAR or untold):
        return True  # of nothing named: no ground to call it wrong
    if said.guessed and len(said.amounts) == 1:
        return True  # its very unit was not said
    if best.judged.status == "loose" and (not said.ingredient or not best.judged.direct):
        return True
    if _IS.match(said.words.lower()) and best.gap > 0:
        return True
    if _WEIGHS.search(f"{said.words.lower()} {film.speech.around(said).behind[:40]}"):
        return True  # "a cup of flour weighs 120 grams"
    if len(said.amounts) > 1 and _of_another(film, index, utterance, best, chosen):
        return True  # "the cabbage is two pounds, two apples"
    if film.speech.flat and not plain and left_open(film, index, utterance, best, chosen):
        return True
    if any(a.unit.kind != "count" and " and" in a.text and a.low > 20 and a.low.denominator == 2 for a in said.amounts):
        return True  # "240 millilitres and half a cup of water"
    if film.speech.flat and (_last_of_sum(film, best) or (best.gap > _FAR and not utterance.strong and not plain)):
        return True
    if best.candidate.fit < _FITS or _elsewhere(film, index, best, chosen):
        return True
    rivals = [b for b in utterance.lines if b is not best and b.candidate.fit > best.candidate.fit - 0.3]
    if any(
        b.rank == 0 and not (_taken(film, index, b, chosen) and _only_here(film, utterance, best, b)) for b in rivals
    ):
        return True  # it is what another line of that name says
    if of_several(film, utterance, best):
        return True  # "three eggs": two and a yolk
    less = _less(best)
    if less and said.whole is not None:
        total = best.written.targets[0].amounts
        if beside(said.whole, total, best.candidate.listed.row, "", film.standard).rank <= 1:
            return True
    if less and of_a_part(film, index, utterance):
        if only_mention(film, index, best) and not by_article(utterance):
            return False  # of what else would it be a part?
        return not more_in_all(film, index, best, chosen)
    return sums_up(film, index, best, chosen)


def _told_of(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether, without stops, a number is of the line that was named last: nothing else was said between the two, and
    no other name follows that has not an amount of its own."""
    assert best.judged is not None
    said, mine = film.utterances[index].said, best.candidate.listed
    if not best.judged.direct or (not mine.words):
        return False
    since = tokens(film.speech.text(max(ended(film, index), said.first - _NAMED_BACK), said.first))
    last = chosen.get(index - 1)
    goes_on = last is not None and last.candidate.listed.place == mine.place and last.rank == 0
    goes_on = goes_on and ended(film, index) == said.first
    if mine.words[-1] not in since and not goes_on:
        return False
    behind = tokens(film.speech.text(said.last, said.last + _NAMED_AHEAD))
    follows = any(one.listed.words[-1:] and one.listed.words[-1] in behind for one in film.written)
    if not follows:
        return True
    after = film.utterances[index + 1].said if index + 1 < len(film.utterances) else None
    return after is not None and after.first - said.last <= _NAMED_AHEAD and not after.words.lower().count(" of ")


def left_open(film: Film, index: int, utterance: Utterance, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether captions without stops leave it open whose amount it is."""
    return _of_another(film, index, utterance, best, chosen) or _strays(film, utterance, best)


def _strays(film: Film, utterance: Utterance, best: Best) -> bool:
    """Whether the film is in no step that uses the line, and the name is not surely this number's own."""
    tied = utterance.strong and re.search(r"\bof\b", utterance.said.words.lower()) is not None
    return not tied and not here(film, utterance, best)


def _of_another(film: Film, index: int, utterance: Utterance, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether it is what another ingredient of the page has that was named near it, or whose name ends
    alike ("browned sugar" for brown sugar); or whether, without stops, too little ties it to this one."""
    assert best.judged is not None
    said = utterance.said
    near = frozenset(tokens(film.speech.text(said.first - _NEAR_BACK, said.last + _NEAR_AHEAD)))
    mine = best.candidate.listed
    measured = not film.speech.flat and all(a.unit.kind != "count" for a in said.amounts)
    for one in film.written:
        other = one.listed
        if other.place == mine.place or not other.words:
            continue
        alike = other.words[-1:] == mine.words[-1:]
        tied = utterance.strong and len(said.amounts) == 1
        if not alike and not near & frozenset(other.words):
            continue
        if not alike and tied and not _named_before(film, index, other, best.judged.said, chosen):
            continue
        for target in one.targets:
            # two measures are another's only together
            every = said.amounts if measured else (best.judged.said,)
            judged = [beside(a, target.amounts, other.row, said.size or other.line.size, film.standard) for a in every]
            if all(j.rank == 0 for j in judged) and any(j.direct for j in judged):
                return True
    return film.speech.flat and not utterance.strong and not best.judged.direct


def _named_before(film: Film, index: int, other: Listed, said: Amount, chosen: Mapping[int, Best]) -> bool:
    """Whether another ingredient was named right before this, and was not yet said in this measure ("honey two
    tablespoons forty two grams cider vinegar")."""
    first = film.utterances[index].said.first
    low = max(first - _RIGHT_BEFORE, ended(film, index))
    if not frozenset(tokens(film.speech.text(low, first))) & frozenset(other.words):
        return False
    return not any(
        b.candidate.listed.place == other.place and any(a.unit == said.unit for a in film.utterances[i].said.amounts)
        for i, b in chosen.items()
        if i < index and film.utterances[i].scope == "use"
    )


def _last_of_sum(film: Film, best: Best) -> bool:
    """Whether a sum was heard where there is none ("flour two cups and a teaspoon of salt")."""
    assert best.judged is not None and best.target is not None
    _, joined, tail = best.judged.said.text.rpartition(" and ")
    read = read_amount(tail) if joined else None
    if read is None or read.amount.unit.kind == "count":
        return False
    line = best.candidate.listed
    return beside(read.amount, best.target.amounts, line.row, line.line.size, film.standard).rank == 0


def _elsewhere(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether the line is said as written elsewhere in the film's run and the film is in none of its steps now: then
    this is a story about eggs, not the eggs."""
    utterance = film.utterances[index]
    if utterance.scope not in ("use", "repeat"):
        return False
    place = best.candidate.listed.place
    done = sum(
        b.rank == 0 and b.candidate.listed.place == place and film.utterances[i].scope == "use"
        for i, b in chosen.items()
        if abs(film.utterances[i].said.first - utterance.said.first) > _SAME_BREATH
    )
    if done < max(len(best.written.steps), 1):
        return False
    steps = film.course.steps(utterance.said.start)
    return steps is None or not here(film, utterance, best)


def _only_here(film: Film, utterance: Utterance, best: Best, rival: Best) -> bool:
    """Whether the film is in a step that uses this line and in none that uses the other, or the other is said by way
    of its weight only."""
    if rival.judged is not None and not rival.judged.direct:
        return True
    steps = film.course.steps(utterance.said.start) or frozenset()
    return bool(steps & frozenset(best.written.steps)) and not steps & frozenset(rival.written.steps)


def _taken(film: Film, index: int, rival: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether another line was said as written already, in the same run."""
    place, scope = rival.candidate.listed.place, film.utterances[index].scope
    return any(
        i != index and b.rank == 0 and b.candidate.listed.place == place and film.utterances[i].scope == scope
        for i, b in chosen.items()
    )


def _written_so(amount: Amount, best: Best) -> bool:
    return any(a.unit == amount.unit for t in best.written.targets for a in t.amounts)


def _less(best: Best) -> bool:
    """Whether less is said than the list has in all."""
    assert best.judged is not None
    return best.judged.off < 0
