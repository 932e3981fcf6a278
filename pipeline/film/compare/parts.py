"""Whether what is said is a part of what the page has, or makes the whole with what is said beside it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.stating import beside
from pipeline.measure.amount import Amount
from pipeline.measure.phrase import tokens
from pipeline.measure.record import replace
from pipeline.measure.units import factor

# Words of a part: less than the whole is then no slip.
_PART = re.compile(
    r"\b(?:(?<!out )(?<!off )of (?:the|that|this|our|your|those)|some of|another|more|extra|first|rest|remaining|"
    r"left|other|half|third|quarter of|to start|to begin|aside|reserve|reserving|saved?|kept|keep|hold back|for now|"
    r"bit by bit|at a time|each|every|per|apiece|splash|spare|last)\b"
)
_PART_BEHIND = re.compile(
    r"^(?:\w+ ){0,4}?(?:of the|now|first|to start|to begin|at a time|each|apiece|per|for now|more|"
    r"for (?:dusting|greasing|brushing|rolling|frying|sprinkling|garnish|serving|"
    r"the (?:pan|tin|top|bowl|board|dish|tray|skillet|work))|"
    r"to (?:loosen|thin|grease|dust|finish|serve|help|coat|cover|slacken|brush|sprinkle)|on top|aside|back)\b"
)
_EGG_PARTS = frozenset(("yolk", "white"))
_OF_AN_EGG = frozenset(("egg", *_EGG_PARTS))
_OF_IT = re.compile(r"\b(?:of the|of that|of our|of your|of this|more|another|extra|each|other)\b")
_REST = re.compile(r"\b(?:the|that|this|my|our) (?:other|rest|remaining|last)\b")


def of_a_part(film: Film, index: int, utterance: Utterance) -> bool:
    around = film.speech.around(utterance.said)
    words = f"{utterance.said.words.lower()} "
    # an "and" begins something new: "one extra yolk and a tablespoon of oil"; so does what was said before
    gone = utterance.said.first - ended(film, index)
    before = around.before.split()
    before = before[len(before) - min(len(before), max(gone, 0)) :]
    near = " ".join(re.split(r"\band\b", " ".join(before))[-1].split()[-5:])
    if _OF_IT.search(words) or re.search(r"\blast\b", words) or _PART.search(near) or _PART_BEHIND.match(around.behind):
        return True
    counted = all(a.unit.kind == "count" for a in utterance.said.amounts)
    # "crack an egg": one of several, not a slip
    return counted and re.match(r"(?:an?|the|one|another|each)\b", words) is not None


def only_mention(film: Film, index: int, best: Best) -> bool:
    """Whether a line that is used in one go is named with an amount this once in the whole film."""
    place = best.candidate.listed.place
    if best.written.divided or not film.utterances[index].said.ingredient:
        return False
    return not any(
        n != index and any(b.candidate.listed.place == place for b in u.lines) for n, u in enumerate(film.utterances)
    )


def by_article(utterance: Utterance) -> bool:
    """Whether it is counted by an article only, or told to be a part of something."""
    words = utterance.said.words.lower()
    return re.match(r"(?:an?|the|another|each)\b", words) is not None or _OF_IT.search(words) is not None


def of_several(film: Film, utterance: Utterance, best: Best) -> bool:
    """Whether it is what several lines of one thing have together, or as many as those of one kind."""
    assert best.judged is not None
    said, mine = best.judged.said, best.candidate.listed
    counted = said.unit.kind == "count"
    egg = not frozenset(tokens(utterance.said.ingredient)) & _EGG_PARTS and frozenset(mine.words) & _OF_AN_EGG
    kinds = _OF_AN_EGG if egg else frozenset(mine.words[-1:])
    amounts = [
        one.targets[0].amounts
        for one in film.written
        if one.targets and (one.listed.words == mine.words or (counted and kinds & frozenset(one.listed.words[-1:])))
    ]
    summed = _sum(amounts, said) if len(amounts) > 1 else None
    return summed is not None and beside(said, [summed], mine.row, "", film.standard).rank == 0


def sums_up(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether it makes, with what was said of the same line before or after it, what the page has in all."""
    place = best.candidate.listed.place
    same = [
        i
        for i, b in chosen.items()
        if b.candidate.listed.place == place and film.utterances[i].scope in ("use", film.utterances[index].scope)
    ]
    same.sort()
    first = film.utterances[index].said.amounts[0]
    at = same.index(index)
    for low in range(at + 1):
        for high in range(max(at, low + 1), min(len(same), low + 4)):
            summed = _sum([film.utterances[i].said.amounts for i in same[low : high + 1]], first)
            if summed is None:
                continue
            for target in best.written.targets:
                if beside(summed, target.amounts, best.candidate.listed.row, "", film.standard).rank == 0:
                    return True
    return False


def more_in_all(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether it is said to be all that is left, and makes with what went before more than there is: "the other hundred
    grams" of 150, of which a hundred are in."""
    assert best.judged is not None
    said, listed = film.utterances[index].said, best.candidate.listed
    if not _REST.search(f"{film.speech.text(said.first - 3, said.first)} {said.words.lower()}"):
        return False
    total = best.written.targets[0].amounts
    parts = [
        film.utterances[i].said.amounts
        for i, b in sorted(chosen.items())
        if i <= index and b.candidate.listed.place == listed.place and film.utterances[i].scope == "use"
    ]
    parts = [p for p in parts if all(beside(a, total, listed.row, "", film.standard).rank for a in p)]
    summed = _sum(parts, best.judged.said) if len(parts) == 2 else None  # else something was told twice
    if summed is None:
        return False
    judged = beside(summed, total, listed.row, "", film.standard)
    return judged.rank == 3 and judged.off > 0


def _sum(said: Sequence[Sequence[Amount]], like: Amount) -> Amount | None:
    """The sum in the unit of ``like``, None where one of them was not said in it."""
    low = high = near = far = Fraction(0)
    for amounts in said:
        one = next((a for a in amounts if a.unit == like.unit), None)
        if one is None and like.unit.kind != "count":
            one = next((a for a in amounts if a.unit.kind == like.unit.kind), None)
        if one is None:
            return None
        by = Fraction(1) if one.unit == like.unit else factor(one.unit) / factor(like.unit)
        low, high = low + one.low * by, high + one.high * by
        near, far = near + one.near * by, far + one.far * by
    return replace(like, low=low, high=high, near=near, far=far)


def ended(film: Film, index: int) -> int:
    """Where what was said before ended, in words of the film."""
    return film.utterances[index - 1].said.last if index else 0
