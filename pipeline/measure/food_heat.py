"""Temperatures of food, fat and sugar: rounded to the safe side only, and the published safe minimums."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from pipeline.measure.heat import Heat, Scale, on_scale


def food(heat: Heat, scale: Scale, safe: Literal["min", "max"] = "min") -> Heat:
    """A food's temperature on the other scale, in whole degrees, rounded to the safe side only and by less than 1 degree.

    ``safe``: "min" where the food must reach it (meat, sugar stages): up; "max" where it must not pass it (a
    refrigerator): down. A heat on that scale already is left as stated. Raises ValueError for a gas mark, which is no food's temperature, either way.
    """
    if heat.scale == "gas" or scale == "gas":
        raise ValueError("a gas mark is an oven's setting, not a food's temperature")
    if heat.scale == scale:
        return heat
    whole = math.ceil if safe == "min" else math.floor
    low, high = (Fraction(whole(on_scale(t, heat.scale, scale))) for t in (heat.low, heat.high))
    return replace(heat, low=low, high=high, scale=scale, text="")
