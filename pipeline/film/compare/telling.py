"""How cooks talk when a number is no instruction: they tell of others, of other times, or of what might be.

Signs only, and none of them proof: how much they weigh together is told in ``whose``.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Literal, NamedTuple

from pipeline.film.compare.phrases import phrases, phrases_of
from pipeline.film.compare.speech import Speech
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.said import Spoken

#: ``others``: somebody else does it. ``story``: it was so at another time. ``past``: the cook did it once.
#: ``otherwise``: for more people or fewer, or with something else. ``might``: it would be so. ``ratio``: so much to so
#: much. ``asked``: a question. ``quoted``: another voice.
Sign = Literal["others", "story", "past", "otherwise", "might", "ratio", "asked", "quoted"]

# Words before a sentence in which somebody else may still be spoken of, and words behind a number that still say whose
# it is. Common practice, no source.
_RECENT, _BEHIND = 26, 8

_NUMBER = "|".join(sorted(FIRST_WORDS | {"every", "each"}))
_UNITS = (
    r"(?:kilos?|kilograms?|grams?|pounds?|ounces?|litres?|liters?|pints?|quarts?|cups?|mils?|mls?|millilit\w+|"
    r"teaspoons?|tablespoons?|dozen|gallons?)"
)
# "Six onions to a kilo of beef", "ten eggs on one kilo of flour": a rule of thumb.
_RATIO_BEHIND = re.compile(
    rf"^(?:of )?(?:\w+ ){{0,3}}?(?:to|on|for|per) (?:(?:{_NUMBER}|\d+)(?: \w+){{0,3}}? {_UNITS}|(?:every|each)) "
)
_RATIO_BEFORE = re.compile(rf"\b(?:{_NUMBER}|\d+)(?: \w+){{1,4}}? (?:to|on|per)(?: every| each)?$")

# "Two tablespoons and you will be making something else".
_BECOMES = re.compile(r"^(?:of \w+ (?:\w+ )?)?and (?:you|it|they|she|he|the \w+)(?:'ll|'d| will| would)\b")
# Behind these words something else is told.
_GOES_ON = re.compile(r"\b(?:and|but|because|cause|so|since|though|then|this is|that's)\b")


class Telling(NamedTuple):
    """The signs beside a number: in its own sentence, and in what was said right before that."""

    here: frozenset[Sign]
    before: frozenset[Sign]


def telling(
    speech: Speech, said: Spoken, since: int = 0, parted: int = 0, known: frozenset[str] = frozenset()
) -> Telling:
    """``since``: a word before which nothing counts any more, for there an instruction of this recipe ended.
    ``parted``: a word before which, without stops, another sentence is taken to be. ``known``: words of the page."""
    low, high = speech.sentence(said.first, said.last)
    if speech.flat:
        low = max(low, parted)
    ahead = speech.with_people(low, said.first, known)
    behind = speech.with_people(said.last, high, known)
    near = " ".join(_GOES_ON.split(behind)[0].split()[:_BEHIND])
    here = _signs(ahead) | _signs(f"{ahead} {said.words.lower()} {near}")
    if said.kind == "amount" and (_RATIO_BEHIND.match(f"{behind} ") or _RATIO_BEFORE.search(ahead)):
        here |= {"ratio"}
    if _BECOMES.match(behind):
        here |= {"might"}
    if speech.asks(said.last):
        here |= {"asked"}
    if speech.quoted(said.first):
        here |= {"quoted"}
    recent = speech.with_people(max(speech.back(low, _RECENT), since), low, known)
    recent = recent[max(phrases("back").last(recent), 0) :]
    before = _signs(recent)
    if recent and speech.asks(low):
        before |= {"asked"}
    return Telling(frozenset(here), frozenset(before))


def _signs(text: str) -> set[Sign]:
    return {sign for sign, pattern in _patterns() if pattern.search(text)}


@cache
def _patterns() -> tuple[tuple[Sign, re.Pattern[str]], ...]:
    kinds: tuple[Sign, ...] = ("others", "story", "past", "otherwise", "asked", "might")
    words = {name: "|".join(phrases_of(name.lower())) for name in ("KIN", "PEOPLE", "DOES", "DONE")}
    words["PEOPLE"] += f"|{words['KIN']}"
    found: list[tuple[Sign, re.Pattern[str]]] = []
    for kind in kinds:
        text = "|".join(phrases_of(kind))
        for name, every in words.items():
            text = re.sub(rf"\b{name}\b", f"(?:{every})", text)
        found.append((kind, re.compile(rf"\b(?:{text})\b")))
    return tuple(found)
