"""What a stated number can honestly stand for: the rules of rounding.

They are common practice, no source, and chosen so that true pairs as cooks round them agree while a slip of 15 % does
not.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from pipeline.measure.amount import Amount
from pipeline.measure.numbers import Number
from pipeline.measure.units import Unit, factor

F = Fraction

# How finely a kitchen measure is told (in itself): half of this is the most that rounding can hide.
_STEP = {
    "cup": F(1, 4), "tablespoon": F(1, 2), "dessertspoon": F(1, 2), "teaspoon": F(1, 4), "fluid ounce": F(1, 2),
    "pint": F(1, 4), "quart": F(1, 4), "gallon": F(1, 8), "ounce": F(1), "pound": F(1, 4),
}  # fmt: skip
_METRIC_STEPS = (1, 5, 10, 20, 25, 50, 100, 250, 500, 1000)


def metric_step(value: int, percent: int) -> int:
    """The coarsest usual step (g or ml) of which ``value`` is a multiple and that is at most ``percent`` of it.

    One (a scale's last digit) where none is.
    """
    return max((s for s in _METRIC_STEPS if value % s == 0 and s * 100 <= percent * value), default=1)


@lru_cache(maxsize=4096)
def rounding(number: Number, unit: Unit) -> tuple[Fraction, Fraction]:
    """(near, far): the half-widths in ``unit`` of careful and of honest easy-going rounding.

    Kitchen measures: half of their step, at most 3 % (careful) or 8 % (honest). Ounces and pounds 3 % and 5 %.
    Metric: half of the coarsest step that the number is a multiple of, up to 3 % and 10 % of it. Pinch and dash are
    wide by nature. Counts are exact.
    """
    value = (number.low + number.high) / 2
    if unit.kind == "count" or value == 0:
        return F(0), F(0)
    if unit.name in ("pinch", "dash"):
        return value / 2, value
    if unit.kind == "length":
        return value / 20, value / 8
    if unit.name in _STEP:
        half = _STEP[unit.name] / 2
        if unit.kind == "mass":
            near, far = F(3, 100) * value, F(5, 100) * value
            if number.places > 0:
                near = max(F(1, 2 * 10**number.places), value / 100)
                far = max(near, min(far, half))
            return min(near, half), min(far, half)
        return min(half, F(3, 100) * value), min(half, F(8, 100) * value)
    size = factor(unit)
    base = value * size
    if base.denominator != 1:
        last = F(1, 2 if (number.places == 1 and (value * 2).denominator == 1) else 10 ** max(number.places, 1))
        near = last * size / 2
        return near / size, max(near, base / 100) / size
    near = F(metric_step(base.numerator, 3), 2)
    far = max(near, F(metric_step(base.numerator, 10), 2))
    return near / size, far / size


def amount_of(number: Number, unit: Unit, text: str = "", qualifier: str = "") -> Amount:
    """An Amount from its parts. ``qualifier`` is "", "about", "less" (scant), "more" (generous) or "heap" (heaped)."""
    near, far = rounding(number, unit)
    low, high = number.low, number.high
    if qualifier == "about":
        value = (low + high) / 2
        near, far = max(far, value * F(8, 100)), max(2 * far, value * F(16, 100))
    elif qualifier == "less":
        low *= F(88, 100)
    elif qualifier == "more":
        high *= F(112, 100)
    elif qualifier == "heap":
        spoon = unit.name in ("tablespoon", "teaspoon")
        high *= F(8, 5) if spoon else F(5, 4)
        if spoon:  # old cards have 1 oz of flour to the rounded tablespoon, which a level one has two fifths of
            far = max(far, high)
    return Amount(low, high, unit, near, far, about=bool(qualifier), text=text)
