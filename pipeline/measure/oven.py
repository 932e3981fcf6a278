"""Oven settings: dial steps, fan ovens, gas marks. Round numbers by trade."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache

from pipeline.measure.heat import GAS_MARKS, Heat, Scale, celsius, on_scale
from pipeline.measure.record import replace

DIAL_STEP: dict[Scale, Fraction] = {"F": Fraction(25), "C": Fraction(10)}  # common practice, no source
FAN_DROP: dict[Scale, Fraction] = {"F": Fraction(25), "C": Fraction(20)}  # common practice, no source


# An oven told in words, and the °F between which cooks' tables put it. Common practice, no source; tables differ.
OVEN_WORDS: dict[str, tuple[int, int]] = {
    "very slow": (250, 275), "very cool": (250, 275), "very low": (250, 275), "slow": (300, 325), "cool": (300, 325),
    "low": (300, 325), "warm": (325, 325), "moderately slow": (325, 325), "moderate": (350, 375), "medium": (350, 375),
    "moderately hot": (375, 400), "fairly hot": (375, 400), "medium hot": (375, 400), "hot": (400, 425),
    "very hot": (450, 475),
}  # fmt: skip
_WORDS = re.compile(
    r"(?:in |at )?(?:an? |the |your )?(?:pre-?heated )?"
    r"((?:(?:very|moderately|fairly|medium) )?(?:slow|cool|low|warm|moderate|medium|hot)) oven\.?",
    re.IGNORECASE,
)


def oven_in_words(text: str) -> Heat | None:
    """The range that "moderate oven" stands for, in °F; None for any other text."""
    m = _WORDS.fullmatch(" ".join(text.split()))
    ends = OVEN_WORDS.get(m[1].lower()) if m else None
    return Heat(Fraction(ends[0]), Fraction(ends[1]), "F", about=True, text=text) if ends else None


def to_dial(heat: Heat, scale: Scale, fan: bool | None = None) -> Heat:
    """The heat as an oven's dial shows it: steps of 25 °F or 10 °C (ties go up), or the nearest gas mark.

    ``fan``: True for a fan oven's setting, False for a conventional one, None to keep what the heat is.
    A heat that stands on that scale and oven already comes back as it was stated.
    Raises ValueError for a fan oven's gas mark.
    """
    if scale == "gas":
        if fan:
            raise ValueError("a gas mark has no fan setting")
        fan = False
    fan = heat.fan if fan is None else fan
    if heat.scale == scale and heat.fan == fan:
        return heat
    if not fan:
        heat = without_fan(heat)
    low, high = (on_scale(t, heat.scale, scale) for t in (heat.low, heat.high))
    if fan and not heat.fan:
        low, high = low - FAN_DROP[scale], high - FAN_DROP[scale]
    if scale == "gas":
        return replace(heat, low=_nearest_mark(low), high=_nearest_mark(high), scale="gas", fan=False, text="")
    step = DIAL_STEP[scale]
    return replace(heat, low=_to_step(low, step), high=_to_step(high, step), scale=scale, fan=fan, text="")


def difference(a: Heat, b: Heat) -> Fraction:
    """How much hotter the middle of ``a`` is than that of ``b``, in degrees Celsius, without a fan in both.

    This is also the error of a conversion: ``difference(to_dial(heat, "C"), heat)``.
    """
    one, two = (celsius(without_fan(heat)) for heat in (a, b))
    return (one[0] + one[1] - two[0] - two[1]) / 2


def without_fan(heat: Heat) -> Heat:
    """The conventional oven's setting that does what this fan setting does: 25 °F or 20 °C more (common practice)."""
    if not heat.fan:
        return heat
    more = FAN_DROP.get(heat.scale, Fraction(0))
    return replace(heat, low=heat.low + more, high=heat.high + more, fan=False)


def with_fan(heat: Heat) -> Heat:
    """The fan oven's setting in the same degrees: 25 °F or 20 °C less (common practice). A gas oven has no fan.

    Raises ValueError for a gas mark.
    """
    if heat.fan:
        return heat
    if heat.scale == "gas":
        raise ValueError("a gas mark has no fan setting; convert it to °C or °F first")
    less = FAN_DROP[heat.scale]
    return replace(heat, low=heat.low - less, high=heat.high - less, fan=True)


def gas_mark(degrees_c: Fraction) -> Fraction:
    """The gas mark nearest to a conventional oven's °C (common practice); ties go up."""
    return _nearest_mark(degrees_c)


def _to_step(value: Fraction, step: Fraction) -> Fraction:
    return math.floor(value / step + Fraction(1, 2)) * step


@lru_cache(maxsize=256)
def _nearest_mark(degrees_c: Fraction) -> Fraction:
    return min(GAS_MARKS, key=lambda mark: (abs(GAS_MARKS[mark][0] - degrees_c), -mark))
