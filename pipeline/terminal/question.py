"""What a question to `levelcup weigh` is about: a heat, a time or an ingredient, with whatever words around it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeVar

from pipeline.measure.duration import read_duration
from pipeline.measure.heat import FOOD, Duration, Heat, HeatError, celsius, read_heat
from pipeline.measure.oven import oven_in_words

T = TypeVar("T")

_MOST_WORDS = 16  # no question about a heat is longer
_OVEN = re.compile(r"oven|bak|roast|fan\b|gas\b|preheat|dial|grill|broil", re.IGNORECASE)
# "350 degrees", "350 °": a heat is meant, though it does not say on which scale.
_SCALELESS = re.compile(r"°|º|\bdeg(?:rees?)?\b|\bfan\b|\bconvection\b", re.IGNORECASE)
# A lone `c` may be a cup: of a heat it is taken only where the number is no number of cups.
_MAYBE_CUPS = re.compile(r"\b(\d{1,2}) ?c\b")


class HeatAsked(NamedTuple):
    """Heats, and whether the words around them speak of food, fat or sugar and not of an oven."""

    heats: tuple[Heat, ...]
    food: bool


def heat_asked(words: str) -> HeatAsked | None:
    """The heats that are asked for ("245 F or 118 C candy", "moderate oven"); None where none are.

    Raises HeatError where a heat is meant and does not say on which scale.
    """
    if vague := oven_in_words(words):
        return HeatAsked((vague,), False)
    try:
        if heats := read_heat(words):
            return HeatAsked(heats, False)
        found = _amid(words, read_heat)
    except HeatError:
        if _SCALELESS.search(words):
            raise
        return None
    if found is None or _MAYBE_CUPS.search(words):
        return None
    heats, around = found
    oven = any(h.scale == "gas" or h.fan or max(celsius(h)) > FOOD[1] for h in heats)
    return HeatAsked(heats, not oven and not _OVEN.search(around))


def times_asked(words: str) -> tuple[Duration, ...] | None:
    """The times that are asked for ("30 minutes or 1/2 hour", "simmer 20 min"); None where none are."""
    if times := read_duration(words):
        return times
    parts = words.split()
    for start in range(1, min(4, len(parts))):
        if any(c.isdigit() for c in parts[start - 1]):
            return None
        if times := read_duration(" ".join(parts[start:])):
            return times
    return None


def _amid(words: str, read: Callable[[str], T | None]) -> tuple[T, str] | None:
    """The longest run of words that ``read`` takes, where no number stands outside it; and what stands outside."""
    parts = words.split()
    if len(parts) > _MOST_WORDS:
        return None
    numbers = [i for i, part in enumerate(parts) if any(c.isdigit() for c in part)]
    if not numbers:
        return None
    for start in range(numbers[0] + 1):
        for end in range(len(parts), numbers[-1], -1):
            if found := read(" ".join(parts[start:end]).strip(",;:")):
                return found, _joined(parts[:start], parts[end:])
    return None


def _joined(before: Sequence[str], after: Sequence[str]) -> str:
    return " ".join((*before, *after))
