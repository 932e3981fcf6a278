"""What a machine's ears make of spoken words: lower case, no punctuation, words dropped and misheard
(``mishearing.yaml``), numbers in figures or in words. No caption format is known here."""

from __future__ import annotations

import random
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

from pipeline.measure.record import replace


@dataclass(frozen=True, slots=True)
class Noise:
    """How bad a machine's ears are: the share of words that it drops, and of words on the list that it mishears.
    ``figures`` and ``words``: the share of numbers in words that it writes in figures, and the other way round."""

    dropped: float = 0.02
    misheard: float = 0.25
    figures: float = 0.5
    words: float = 0.15


NOISE = Noise()
NO_NOISE = Noise(0, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Heard:
    """A word (or two) as the captions have it; ``tokens`` are the script's words that it stands for, ``whole`` is
    false where it was misheard."""

    start: int
    end: int
    text: str
    tokens: tuple[int, ...]
    whole: bool = True


def by_ear(heard: Sequence[Heard], rng: random.Random, noise: Noise) -> list[Heard]:
    """The words as a machine writes them down; times stay, dropped words leave a hole."""
    words = [replace(w, text=bare) for w in heard if (bare := _bare(w.text))]
    words = _in_words(words, rng, noise.words)
    words = _in_figures(words, rng, noise.figures)
    words = _misheard(words, rng, noise.misheard)
    return [w for w in words if rng.random() >= noise.dropped]


def _bare(text: str) -> str:
    """A word as a machine writes it: lower case, no punctuation but an apostrophe, a decimal point or a degree."""
    return re.sub(r"[^\w'.°]|\.(?!\d)|(?<!\w)'|'(?!\w)", "", text.lower().replace("’", "'").replace("-", " ")).strip()


@cache
def _mishearings() -> dict[str, str]:
    return dict(yaml.safe_load((Path(__file__).parent / "mishearing.yaml").read_text(encoding="utf-8")))


def _misheard(heard: list[Heard], rng: random.Random, rate: float) -> list[Heard]:
    out: list[Heard] = []
    at = 0
    while at < len(heard):
        for size in (2, 1):
            group = heard[at : at + size]
            wrong = _mishearings().get(" ".join(w.text for w in group))
            if len(group) == size and wrong is not None and rng.random() < rate:
                out.append(_join(group, wrong, whole=False))
                at += size
                break
        else:
            out.append(heard[at])
            at += 1
    return out


def _join(group: Sequence[Heard], text: str, whole: bool = True) -> Heard:
    return Heard(group[0].start, group[-1].end, text, tuple(n for w in group for n in w.tokens), whole)


_SMALL = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]


def in_words(number: int) -> str:
    """0 to 9999 as it is said: "six hundred and fifty", "twenty two"."""
    if number < 20:
        return _SMALL[number]
    if number < 100:
        return f"{_TENS[number // 10]} {_SMALL[number % 10]}".removesuffix(" zero")
    for size, name in ((1000, "thousand"), (100, "hundred")):
        if number >= size:
            more = number % size
            joint = " and " if more and (size == 100 or more < 100) else " "
            return f"{in_words(number // size)} {name}{joint}{in_words(more) if more else ''}".strip()
    raise AssertionError(number)


def in_figures(words: Sequence[str]) -> int | None:
    """The whole number that the words say, None where they are not one: "four fifty" is 450, "two twenty seven" 227."""
    if not words or words[0] == "and" or words[-1] == "and":
        return None
    total, group, last = 0, 0, 10_000
    for word in words:
        if word == "and":
            if last not in (100, 1000):
                return None
            continue
        if word in ("hundred", "thousand"):
            if not group or last >= 100:
                return None
            size = 100 if word == "hundred" else 1000
            total, group, last = total + group * size, 0, size
            continue
        value = _SMALL.index(word) if word in _SMALL else 10 * _TENS.index(word) if word in _TENS[2:] else None
        if value is None or value == 0:
            return None
        if group == 0:
            group = value
        elif last >= 20 and last < 100 and value < 10:
            group += value  # twenty two
        elif total == 0 and group < 10 and last < 10 and value >= 10:
            total, group = group * 100, value  # four fifty
        else:
            return None
        last = value
    return total + group


def _in_figures(heard: list[Heard], rng: random.Random, rate: float) -> list[Heard]:
    """Longest runs first; a lone small number stays a word more often, as machines have it, and "one" always does."""
    out: list[Heard] = []
    at = 0
    while at < len(heard):
        for size in range(min(6, len(heard) - at), 0, -1):
            group = heard[at : at + size]
            number = in_figures([w.text for w in group])
            if number is None:
                continue
            share = rate if number >= 10 else rate / 2 if number > 1 else 0
            if rng.random() < share:
                group = [_join(group, str(number))]
            out += group
            at += size
            break
        else:
            out.append(heard[at])
            at += 1
    return out


def _in_words(heard: list[Heard], rng: random.Random, rate: float) -> list[Heard]:
    return [
        replace(w, text=in_words(int(w.text)))
        if w.text.isdecimal() and int(w.text) < 10_000 and rng.random() < rate
        else w
        for w in heard
    ]
