"""Baking pans: their sizes as cooks write them, and how large a pan another size of batch asks for.

A batch is as deep in its pan as the recipe's where the pan's area grows with it, so each side grows with the root.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple

from pipeline.measure.fractions import rules, say_number
from pipeline.measure.scaling import to_step

_PAN = re.compile(
    r"\b(?:pans?|tins?|dish(?:es)?|moulds?|molds?|sheets?|trays?|rings?|springforms?|skillets?|across)\b", re.I
)
_N = r"(\d{1,3}(?:[.,]\d)?(?: ?[½¼¾])?| ?[½¼¾])"
_UNIT = r"(\"|”|″|inch(?:es)?|in\b|cm|mm|centimet(?:er|re)s?)"
_BY = r"\s*-?\s*(?:x|×|by)\s*-?\s*"
_SIZE = re.compile(rf"(?<![\d/.]){_N}[- ]?{_UNIT}?(?:{_BY}{_N}[- ]?{_UNIT}?)?(?:{_BY}{_N}[- ]?{_UNIT}?)?", re.I)
_GLYPHS = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}


class Pan(NamedTuple):
    """One statement of a pan's size: ``sides`` in mm (one: a round or a square), ``unit`` as it was written.

    A third side, the depth, is left out: it stays.
    """

    unit: Literal["in", "cm"]
    sides: tuple[Fraction, ...]


@lru_cache(maxsize=1024)
def read_pans(text: str) -> tuple[Pan, ...]:
    """The sizes of a pan in a text, as "9 inch (23 cm) square pan", "13 x 9 inch", "23cm round tin"; () for none."""
    if not _PAN.search(text):
        return ()
    found: list[Pan] = []
    for m in _SIZE.finditer(text):
        units = [u for u in (m[2], m[4], m[6]) if u]
        numbers = [_number(n) for n in (m[1], m[3]) if n]
        if not units or not all(numbers):
            continue
        metric = units[0].lower().startswith(("c", "m"))
        one = Fraction(1) if units[0].lower() == "mm" else Fraction(rules()["pans"]["cm" if metric else "in"][0])
        sides = tuple(n * one for n in numbers)
        if all(60 <= side <= 800 for side in sides):  # mm; what an oven takes
            found.append(Pan("cm" if metric else "in", sides))
    return tuple(dict.fromkeys(found))


def _number(text: str) -> Fraction:
    total = Fraction(0)
    for glyph, value in _GLYPHS.items():
        if glyph in text:
            text, total = text.replace(glyph, ""), value
    return total + Fraction(text.strip().replace(",", ".") or 0)


def say_pan(pan: Pan, by: Fraction) -> str:
    """The size of a pan for ``by`` times the batch, to half an inch or a centimetre: "11 × 8 in", "28 cm"."""
    size, step = (Fraction(n) for n in rules()["pans"][pan.unit])
    root = math.sqrt(by.numerator / by.denominator)
    said = []
    for side in pan.sides:
        value = side / size
        steps = math.floor(value.numerator / value.denominator * root / (step.numerator / step.denominator) + 0.5)
        said.append(say_number(max(steps, 1) * step))
    return f"{' × '.join(said)} {pan.unit}"


def such_pans(by: Fraction) -> int:
    """How many of the recipe's own pans hold ``by`` times the batch, where that is about a whole number; else 0."""
    count = to_step(by, Fraction(1))
    return int(count) if count > 1 and abs(count / by - 1) <= Fraction(rules()["pans"]["such"]) else 0
