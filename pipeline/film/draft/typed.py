"""Amounts, heats and times as a cook would type them into her file. Nothing is rounded or converted here."""

from __future__ import annotations

from fractions import Fraction

from pipeline.measure.amount import Amount
from pipeline.measure.express import is_metric
from pipeline.measure.fractions import GLYPHS, kitchen, say_number
from pipeline.measure.heat import Duration, Heat, say_heat
from pipeline.measure.units import EACH, Unit, factor

# How far "scant", "a good" and "heaped" reach, as pipeline.measure.rounding has it: the ratio of the two ends.
_REACHES = (
    ("scant", Fraction(100, 88)),
    ("generous", Fraction(112, 100)),
    ("heaped", Fraction(8, 5)),
    ("heaped", Fraction(5, 4)),
)


def say_typed(amount: Amount, size: str = "") -> str:
    """ "2 3/4 cups", "about 650 g", "2 to 3 tbsp", "4 large": reads back as the same amount."""
    low, high = amount.low, amount.high
    word = "about " if amount.about else ""
    if amount.about and low > 0:
        for name, reach in _REACHES:
            if high == low * reach:
                word = f"{name} "
                low = high = high if name == "scant" else low
                break
    if low == high and (sum_ := _as_sum(low, amount.unit)):
        return word + sum_
    number = _number(low, amount.unit)
    if low != high:
        number = f"{number} to {_number(high, amount.unit)}"
    unit = _unit(high, amount.unit)
    return word + " ".join(w for w in (number, size if size != "fruit" else "", unit) if w)


def is_sum(amount: Amount) -> bool:
    """Whether it is in no measure that there is, but in two together ("a third of a cup and a quarter teaspoon")."""
    return amount.unit.kind == "volume" and amount.low == amount.high and bool(_as_sum(amount.low, amount.unit))


def _as_sum(number: Fraction, unit: Unit) -> str:
    """ "1/3 cup + 1/4 tsp" for what no one cup or spoon holds and two or more hold exactly, "1 lb 5 oz"; else ""."""
    # "2 lb 10 oz", and not 2 5/8 lb
    if unit.name == "pound" and number > 1 and number.denominator > 4 and (number * 16).denominator == 1:
        whole, part = divmod(number * 16, 16)
        return f"{whole} lb {part} oz" if part else ""
    if unit.kind != "volume" or is_metric(unit) or number % 1 in GLYPHS or number.denominator == 1:
        return ""
    measures = kitchen(number * factor(unit), error=Fraction(0))
    return measures.typed if measures.error == 0 else ""


def _number(number: Fraction, unit: Unit) -> str:
    if number.denominator != 1 and (is_metric(unit) or number % 1 not in GLYPHS):
        return f"{float(number):.3f}".rstrip("0").rstrip(".")
    return say_number(number, glyph=False)


def _unit(number: Fraction, unit: Unit) -> str:
    if unit is EACH:
        return ""
    if unit.whose and number <= 1:
        return unit.symbol
    if unit.symbol in ("tbsp", "tsp", "oz", "lb", "fl oz") or is_metric(unit) or unit.kind == "length":
        return unit.symbol
    return unit.plural if number > 1 else unit.name


def say_heats(heats: tuple[Heat, ...]) -> str:
    """ "450 F or 230 C"; the first of each scale only."""
    said: dict[tuple[str, bool], str] = {}
    for heat in heats:
        text = say_heat(heat).replace(" °", " ").replace("–", "-")
        said.setdefault((heat.scale, heat.fan), ("about " if heat.about else "") + text)
    return " or ".join(said.values())


_UNITS = (
    ("month", 2_592_000, "month", "months"),
    ("week", 604_800, "week", "weeks"),
    ("day", 86_400, "day", "days"),
    ("hour", 3_600, "h", "h"),
    ("minute", 60, "min", "min"),
    ("second", 1, "s", "s"),
)


def say_times(times: tuple[Duration, ...]) -> str:
    """ "30 min", "2 to 3 h", "3 weeks", "overnight"; the first statement only, for the second says the same."""
    time = times[0]
    said = time.text.lower()
    if "overnight" in said:
        return "overnight"
    low, high = time.low, time.high
    about = "about " if time.about else ""
    # in the unit that was said, where both ends are whole in it; else in the largest that fits
    if "hour" in said and all(end % 1800 == 0 and 3600 <= end < 86_400 for end in (low, high)):
        ends = [say_number(Fraction(end, 3600), glyph=False) for end in dict.fromkeys((low, high))]
        return f"{about}{' to '.join(ends)} h"
    own = [unit for unit in _UNITS if unit[0] in said]
    for _, size, one, many in (*own, *_UNITS[2:]):
        if low >= size and low % size == 0 and high % size == 0 and (size < 86_400 or own or low >= 172_800):
            if low == high:
                number = f"{low // size}"
                return f"{about}{number} {many if low > size else one}"
            return f"{about}{low // size} to {high // size} {many if high > size else one}"
    if low == high:
        return about + _seconds(low)
    return f"{about}{_seconds(low)} to {_seconds(high)}"


def _seconds(seconds: int) -> str:
    parts: list[str] = []
    for _, size, one, many in _UNITS[3:]:
        number, seconds = divmod(seconds, size)
        if number:
            parts.append(f"{number} {many if number > 1 else one}")
    return " ".join(parts) or "0 min"
