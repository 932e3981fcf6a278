"""How a scale, a jug and a pound-and-ounce scale read: round numbers, each with its error.

The steps stand in ``data/fractions.json``; they are common practice, no source.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal, NamedTuple

from pipeline.measure.fractions import rules, say_number
from pipeline.measure.units import factor, unit

Steps = Literal["scale", "jug", "ounces"]


class Reading(NamedTuple):
    """``text`` as printed; ``value`` what it says, exactly, in g (a weight) or ml (a volume); ``error`` by how much
    that is more than asked (less: negative), relative to what was asked (0 for nothing at all)."""

    text: str
    value: Fraction
    error: Fraction


def scale_grams(g: Fraction) -> Fraction:
    """Grams as a kitchen scale reads them: to 0.1 g below 1 g, 0.5 g below 5 g, 1 g below 250 g, 5 g below 1 kg,
    10 g above. Ties go up, and something never becomes nothing. Raises ValueError for a negative weight."""
    return _read(g, "scale")


def say_grams(g: Fraction) -> Reading:
    """Grams as printed: "0.5 g", "650 g", "1.25 kg". Raises ValueError for a negative weight."""
    value = scale_grams(g)
    text = f"{_decimal(value)} g" if value < 1000 else f"{_decimal(value / 1000)} kg"
    return Reading(text, value, _error(value, g))


def say_ml(ml: Fraction) -> Reading:
    """Millilitres as a jug reads them: to 0.1 ml below 1 ml, 0.5 below 10, 1 below 25, 5 below 100, 10 below a litre,
    50 above: "2.5 ml", "240 ml", "1.2 l". Raises ValueError for a negative volume."""
    value = _read(ml, "jug")
    text = f"{_decimal(value)} ml" if value < 1000 else f"{_decimal(value / 1000)} l"
    return Reading(text, value, _error(value, ml))


def say_ounces(g: Fraction) -> Reading:
    """Grams as avoirdupois ounces, to a quarter (an eighth below 4 oz, 0.01 below a half), from 16 oz on with
    pounds: "8 oz", "1 lb 2½ oz". Raises ValueError for a negative weight."""
    ounce = factor(unit("ounce"))
    ounces = _read(g / ounce, "ounces")
    pounds, rest = divmod(ounces, 16)
    texts = ([f"{pounds} lb"] if pounds else []) + ([f"{say_number(rest)} oz"] if rest or not pounds else [])
    return Reading(" ".join(texts), ounces * ounce, _error(ounces * ounce, g))


def _read(value: Fraction, steps: Steps) -> Fraction:
    if value < 0:
        raise ValueError("an amount cannot be negative")
    step = next(Fraction(s) for below, s in rules()[steps] if below is None or value < Fraction(below))
    return max(math.floor(value / step + Fraction(1, 2)), 1 if value else 0) * step


def _error(shown: Fraction, asked: Fraction) -> Fraction:
    return shown / asked - 1 if asked else Fraction(0)


def _decimal(value: Fraction) -> str:
    """At most two decimals, which every step here needs; never a vulgar fraction, for metric has none."""
    return f"{float(value):.2f}".rstrip("0").rstrip(".")
