"""What probably went wrong in a pair that disagrees: each likely slip is undone; the one that mends it is named.

Prior costs are a judgement (common practice, no source): how often a cook makes a slip, against how closely undoing it
makes the two numbers meet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.fractions import say_number, say_parts
from pipeline.measure.ingredients import Row, Weight
from pipeline.measure.numbers import Number
from pipeline.measure.record import replace
from pipeline.measure.rounding import rounding
from pipeline.measure.units import STANDARDS, Standard, unit
from pipeline.measure.weighing import Width, grams, interval

F = Fraction
_FRACTIONS = (F(0), F(1, 4), F(1, 3), F(1, 2), F(2, 3), F(3, 4))
_SCALES = (F(2), F(1, 2), F(3), F(1, 3), F(3, 2), F(2, 3), F(4), F(1, 4))
_STANDARD_WORDS: dict[Standard, str] = {
    "us": "a US",
    "us-label": "a US labelling",
    "metric": "a metric (250 ml)",
    "australian": "an Australian (20 ml tablespoon)",
    "imperial": "an imperial",
}
# Weights carried in the head and lent to the wrong ingredient: grams a US cup. Water fills it with 237 g and is
# often reckoned at 240 or 250; flour at 120 or 125 (USDA SR28, NDB 20081), sugar at 200 (NDB 19335).
_BORROWED: tuple[tuple[str, str, Fraction], ...] = (
    ("water-density", "water", F("236.5882365")),
    ("water-density", "water", F(240)),
    ("water-density", "water", F(250)),
    ("flour-density", "flour", F(120)),
    ("flour-density", "flour", F(125)),
    ("sugar-density", "sugar", F(200)),
)
_KITCHEN = ("cup", "tablespoon", "teaspoon", "fluid ounce", "pint", "quart")


class Slip(NamedTuple):
    """A likely cause. ``id`` is stable ("tsp-tbsp"); ``words`` is one sentence for the cook."""

    id: str
    words: str


class _Guess(NamedTuple):
    """The pair as it would have been without the slip."""

    cost: float
    id: str
    words: str
    a: Amount
    b: Amount
    row: Row | None
    standard: Standard


def _with(amount: Amount, value: Fraction, unit_name: str = "") -> Amount:
    u = unit(unit_name) if unit_name else amount.unit
    places = -1 if value.denominator > 1 else 0
    near, far = rounding(Number(value, value, places), u)
    return replace(amount, low=value, high=value, unit=u, near=near, far=far)


def _as_unit(amount: Amount, name: str) -> Amount:
    """The same numbers in another unit, with that unit's rounding."""
    u = unit(name)
    near, far = rounding(Number(amount.low, amount.high), u)
    return replace(amount, unit=u, near=near, far=far)


def _fraction_words(text: str, value: Fraction, amount: Amount) -> str:
    return f"a wrong fraction: `{text}` for {say_parts([(value, amount.unit)], glyph=False)}"


def _one_side(a: Amount, row: Row | None, other: Amount) -> Iterator[tuple[float, str, str, Amount]]:
    """Slips inside one statement: (cost, id, words, the statement without the slip)."""
    name, text = a.unit.name, a.text
    swaps = {
        "tablespoon": ("teaspoon", 0.5, "tsp-tbsp", "tablespoons written for teaspoons"),
        "teaspoon": ("tablespoon", 0.5, "tsp-tbsp", "teaspoons written for tablespoons"),
        "ounce": ("gram", 0.9, "ounces", "grams written as ounces"),
        "gram": ("ounce", 0.7, "ounces", "ounces read as grams"),
        "pound": ("kilogram", 0.9, "pounds", "kilograms written as pounds"),
        "kilogram": ("pound", 0.9, "pounds", "pounds read as kilograms"),
        "cup": ("tablespoon", 1.3, "wrong-measure", "cups written for tablespoons"),
    }
    if name in swaps:
        to, cost, slip, words = swaps[name]
        yield cost, slip, f"{words}: `{text}` fits as {to}s", _as_unit(a, to)
    if name == "ounce":
        yield (
            0.5,
            "weight-fluid",
            f"fluid ounces written as ounces of weight: `{text}` fits as fl oz",
            _as_unit(a, "fluid ounce"),
        )
    if name == "fluid ounce":
        yield (
            0.5,
            "weight-fluid",
            f"ounces of weight written as fluid ounces: `{text}` fits as oz",
            _as_unit(a, "ounce"),
        )
    if a.low != a.high:
        return
    value = a.low
    if name in _KITCHEN:
        whole, part = divmod(value, 1)
        for w in (whole - 1, whole, whole + 1):
            for f in _FRACTIONS:
                if w >= 0 and (w, f) != (whole, part) and w + f > 0 and (f != F(1, 3) or name == "cup"):
                    cost = (0.7 if w == whole else 1.5) + (0.3 if f == 0 or part == 0 else 0.0)
                    yield cost, "wrong-fraction", _fraction_words(text, w + f, a), _with(a, w + f)
    spoon = 0.5 if name in _KITCHEN else 0.0  # a point is lost in a scale's number; a cup's has none
    for power in (10, 100, 1000):
        for f in (F(power), F(1, power)):
            yield 0.6 + spoon + math.log10(power) * 0.3, "decimal", f"a decimal place lost in `{text}`", a.scaled(f)
    digits = str(value)
    if digits.isdigit() and len(digits) > 1:
        for i in range(len(digits) - 1):
            turned = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
            if turned != digits and turned[0] != "0":
                yield (
                    0.7,
                    "transposed",
                    f"two digits changed places: `{text}` for {turned} {a.unit.symbol}",
                    _with(a, F(turned)),
                )
    for by in _SCALES:
        times = say_number(1 / by, glyph=False)
        words = f"one side left as it was when the recipe was scaled: `{text}` is {times} {'of' if by > 1 else 'times'}"
        words += " what fits"
        yield 1.2, "stale", words, a.scaled(by)


def _guesses(a: Amount, b: Amount, row: Row | None, standard: Standard) -> Iterator[_Guess]:
    for cost, slip, words, mended in _one_side(a, row, b):
        yield _Guess(cost, slip, words, mended, b, row, standard)
    for cost, slip, words, mended in _one_side(b, row, a):
        # the second side is more often the converted one, so it is a little likelier to be wrong
        yield _Guess(cost - 0.05, slip, words, a, mended, row, standard)
    kinds = {a.unit.kind, b.unit.kind}
    if kinds == {"mass", "volume"} and row is not None and row.cup is not None:
        for slip, of, per_cup in _BORROWED:
            fits = of == "water" or (row.form != "liquid" and of not in row.name)
            if fits and abs(row.cup.typical / per_cup - 1) > F(12, 100):
                lent = replace(row, cup=Weight(per_cup * F(98, 100), per_cup, per_cup * F(102, 100)))
                words = f"the weight of {of} ({round(per_cup)} g a cup) used for {row.name}"
                yield _Guess(0.2 if of == "water" else 0.8, slip, words, a, b, lent, standard)
    if "volume" in kinds and any(x.unit.name in _KITCHEN for x in (a, b)):
        for other in STANDARDS:
            if other not in (standard, "us-label"):
                words = f"{_STANDARD_WORDS[other]} measure meant, not {_STANDARD_WORDS[standard]} one"
                pints = other == "imperial" and any(x.unit.name in ("pint", "quart", "gallon") for x in (a, b))
                yield _Guess(0.0 if pints else 0.9, "cup-standard", words, a, b, row, other)


def _base(x: Amount, width: Width, row: Row | None, size: str, standard: Standard, direct: bool) -> tuple[F, F] | None:
    got = interval(x, width, standard) if direct and x.unit.kind != "count" else grams(x, row, width, size, standard)
    return (got.low, got.high) if got else None


def _closeness(guess: _Guess, size: str) -> float | None:
    """How far apart the mended pair still is at typical weights (log ratio), or None if it still does not agree."""
    direct = guess.a.unit.kind == guess.b.unit.kind and guess.a.unit.kind != "count"
    # British pints beside millilitres are rounded freely: 600 ml for 568
    pints = guess.standard == "imperial" and any(x.unit.name == "pint" for x in (guess.a, guess.b))
    wide = [
        _base(x, "honest" if pints else "careful", guess.row, size, guess.standard, direct) for x in (guess.a, guess.b)
    ]
    mid = [_base(x, "stated", guess.row, size, guess.standard, direct) for x in (guess.a, guess.b)]
    if wide[0] is None or wide[1] is None or mid[0] is None or mid[1] is None:
        return None
    if wide[0][1] < wide[1][0] or wide[1][1] < wide[0][0]:
        return None
    x, y = sum(mid[0]), sum(mid[1])
    return abs(math.log(x / y)) if x > 0 and y > 0 else None


def likely_slip(a: Amount, b: Amount, row: Row | None, size: str, standard: Standard, loose: bool) -> Slip | None:
    """The likeliest slip behind a pair that does not agree, or None. A loose pair can only be a mixed cup standard."""
    best: tuple[float, _Guess] | None = None
    for guess in _guesses(a, b, row, standard):
        if loose and guess.id != "cup-standard":
            continue
        distance = _closeness(guess, size)
        if distance is None or (loose and distance > 0.03):
            continue
        total = guess.cost + distance / 0.05
        if best is None or total < best[0]:
            best = (total, guess)
    return Slip(best[1].id, best[1].words) if best and best[0] < 4 else None
