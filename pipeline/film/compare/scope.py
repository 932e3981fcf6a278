"""What a spoken number is for: a use in this recipe, the opening list, the recap, or nothing that the page must match.

Told by language alone. Whatever offers another amount than this recipe's (a condition, a swap, a bigger batch, a
viewer's kitchen, a grandmother's) is set apart: a false alarm costs more trust than a miss.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Sequence
from typing import Literal

from pipeline.film.compare.phrases import phrases
from pipeline.film.compare.speech import Around, Speech
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.said import Spoken

#: ``aside``: apart too, but told by the talk around it alone, which may be of something else.
Scope = Literal["use", "list", "recap", "repeat", "apart", "aside"]


# Right before the number.
_RIGHT_BEFORE = re.compile(
    r"(?:\b(?:not|never|isn't|aren't|than|instead of|rather than|don't (?:use|add|put|want|need)|up to|go to|"
    r"versus|no longer)(?: just| only| even| the| a full| a whole| those| add| use)?|"
    r"\bno (?:\w+ ){1,2}(?<!and )then|"
    # "American sticks are four ounces": what one holds, not what goes in
    r"\b(?:sticks?|cups?|tins?|cans?|packets?|tubs?|jars?|cartons?|blocks?)(?: of \w+)? (?:is|are|weighs?|holds?))$"
)

# Right behind the number: a vessel or a tool of that size.
_BEHIND = re.compile(
    r"^(?:\w+ )?(?:tin|pan|pot|dish|bowl|jar|jars|jug|skillet|mug|casserole|saucepan|mould|mold|basket|scoop|ladle|"
    r"ramekins?|moulds?|tins|pans|bottles?|measure|container)\b|^out\b|"
    r"^(?:(?!one|two|three|a)\w+ )?at a time\b"
)
_OF_THAT_SIZE = re.compile(r"^ones?\b")  # "my dish is a two litre one"
_NONE_LEFT = re.compile(
    r"\bno (?:\w+ ){1,2}(?:(?<!and )then|no problem|no worries|use|take|just use)\b|\bhaven't got (?:any )?\w+ "
)

_CORRECTED = re.compile(
    r"^(?:\w+ ){0,2}?(?:no|sorry|wait|scratch that|correction|make that|excuse me|i mean|oops|rather)\b"
)
_AT_ONCE = re.compile(r"^(?:no|sorry|wait|scratch that|oops)\b")
_SOON = 14  # words (our own judgement)
# "If yours is an ordinary oven", "if you've a thermometer": a heat for those is of this recipe.
_OF_AN_OVEN = re.compile(
    r"\b(?:if (?:you|you've|you're|yours|it|it's|your \w+)|for (?:those|people|anybody|anyone|folks))\b[^.]{0,40}?"
    r"\b(?:thermometers?|probe|fan|oven|ordinary|"
    r"electric|gas|conventional|fahrenheit|celsius)\b"
)
# How many words an answer to a viewer goes on, and how many at the most where no step begins in them.
_ANSWER, _LONG_ANSWER = 28, 64
# "Six yolks, no, four": a number right behind the word that takes the first back.
_NUMBERS = "|".join(sorted(FIRST_WORDS - {"a", "an", "another", "oh", "half"}))
_INSTEAD = re.compile(
    rf"^(?:no|sorry|wait|hang on|scratch that|oops|i mean|make that)\b(?! (?:more|less|need|bigger|longer|hotter))"
    rf"(?: \w+){{0,5}}? (?:{_NUMBERS}|\d+)\b"
)


def scopes(speech: Speech, spoken: Sequence[Spoken], turns: Sequence[int] = ()) -> tuple[Scope, ...]:
    """One for each thing said, in the same order. ``turns``: when steps begin, in ms, as far as that is known."""
    around = [speech.around(said) for said in spoken]
    turned = [_since_turn(speech, said, turns) for said in spoken]
    result: list[Scope] = [_alone(*one) for one in zip(spoken, around, turned, strict=True)]
    for n, said in enumerate(spoken):
        if result[n] != "apart" and (_INSTEAD.match(around[n].behind) or _taken_back(speech, spoken, n)):
            result[n] = "apart"
        if said.kind == "size":
            result[n] = "apart"
    for low, high in _runs(speech, spoken):
        region = _region(speech, spoken, low, high)
        if region:
            for n in range(low, high):
                if result[n] in ("use", "repeat"):
                    result[n] = region
    return tuple(result)


def _since_turn(speech: Speech, said: Spoken, turns: Sequence[int]) -> int:
    """How many words ago a step began."""
    began = max((at for at in turns if at <= said.start), default=0)
    return said.first - bisect_left(speech.starts, began)


def _named_in_it(said: Spoken) -> bool:
    """Whether the ingredient's name stands in the words themselves, not before them."""
    return bool(said.ingredient) and said.ingredient.split()[-1] in said.words.lower()


def _answers(a: Around, turned: int) -> bool:
    """Whether a viewer's question or kitchen is still spoken of; it surely is not behind the beginning of a step, which
    was ``turned`` words ago."""
    words = a.earlier.split()
    spoken = len(a.before.split())
    recent = " ".join(words[-max(_ANSWER, min(turned - spoken, _LONG_ANSWER)) :])
    viewer = phrases("viewer").last(recent)
    return viewer >= 0 and not phrases("back").within(f"{recent[viewer:]} {a.before}")


def _alone(said: Spoken, a: Around, turned: int) -> Scope:
    named = _named_in_it(said)
    before = _OF_AN_OVEN.sub("", a.before) if said.kind == "heat" else a.before
    if _RIGHT_BEFORE.search(a.before) or _BEHIND.match(a.behind) or (not named and _OF_THAT_SIZE.match(a.behind)):
        return "apart"
    if phrases("before").within(before) or phrases("swapped").within(a.behind):
        return "aside"
    if _NONE_LEFT.search(f"{a.earlier[-60:]} {a.before}"):
        return "aside"
    offered = phrases("offered").within(" ".join(a.earlier.split()[-14:]))
    if offered and not phrases("back").within(f"{a.earlier[-80:]} {a.before}"):
        return "aside"
    if _answers(a, turned):
        return "aside"
    if phrases("repeat").within(a.before):
        return "repeat"
    return "use"


def _taken_back(speech: Speech, spoken: Sequence[Spoken], n: int) -> bool:
    """ "Two cups, sorry, three cups": the speaker has put it right herself."""
    if n + 1 == len(spoken) or spoken[n + 1].kind != spoken[n].kind:
        return False
    gap = spoken[n + 1].first - spoken[n].last
    between = speech.text(spoken[n].last, spoken[n + 1].first)
    # "Three cups, no, wait, I look on my paper. Two cups": said at once, it may take a while
    return 0 < gap <= _SOON and bool((_CORRECTED if gap <= 6 else _AT_ONCE).match(between))


def _runs(speech: Speech, spoken: Sequence[Spoken]) -> list[tuple[int, int]]:
    """Stretches of three or more numbers close to each other, as (first, behind the last)."""
    runs: list[tuple[int, int]] = []
    low = 0
    for n in range(1, len(spoken) + 1):
        if n == len(spoken) or spoken[n].first - spoken[n - 1].last > 14:
            if n - low >= 3:
                runs.append((low, n))
            low = n
    return runs


def _region(speech: Speech, spoken: Sequence[Spoken], low: int, high: int) -> Scope | None:
    lead = speech.text(spoken[low].first - 30, spoken[low].first)
    early, late = spoken[low].start < speech.length * 0.35, spoken[low].start > speech.length * 0.6
    # a list says little but the numbers
    said = sum(s.last - s.first for s in spoken[low:high])
    dense = (spoken[high - 1].last - spoken[low].first) < 2.2 * said
    if late and (phrases("recap").within(lead) or (dense and spoken[low].start > speech.length * 0.88)):
        return "recap"
    if early and dense and phrases("listed").within(lead):
        return "list"
    return None
