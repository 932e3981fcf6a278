"""An amount for another size of batch or another kitchen's cup, said as a cook can measure it.

It is worked out anew from what was stated, never from a printed number. The page's script does the same by the same
table (``data/fractions.json``); a test holds the two together.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.both import Dual, grams_of, ml_of, range_words
from pipeline.measure.express import is_metric
from pipeline.measure.fractions import kitchen, rules, say_number
from pipeline.measure.ingredients import Row
from pipeline.measure.readings import Reading, say_grams, say_ml, say_ounces
from pipeline.measure.units import EACH, Standard, Unit, factor, unit
from pipeline.measure.weighing import piece

How = Literal["grams", "ounces", "ml", "spoons", "fluid", "count", "egg", "in", "cm", "mm"]


class Scalable(NamedTuple):
    """An amount that can grow. ``low`` and ``high`` are exact, in g, ml, mm or pieces; ``how`` is how it is said.

    ``one`` and ``many`` are the words after a number of pieces ("clove", "cloves"), ``each`` the grams of one egg.
    ``derived`` where it was worked out from the other measure.
    """

    how: How
    low: Fraction
    high: Fraction
    about: bool = False
    derived: bool = False
    one: str = ""
    many: str = ""
    each: Fraction = Fraction(0)


class EggWords(NamedTuple):
    """What the parts of an egg are called; ``either`` has the holes ``{pieces}`` and ``{grams}``."""

    egg: str = "egg"
    eggs: str = "eggs"
    yolk: str = "yolk"
    white: str = "white"
    either: str = "{pieces} or {grams}"


class Scaled(NamedTuple):
    """As printed. ``derived`` where it was worked out from the other measure, or rounded by more than a little."""

    text: str
    derived: bool


def scalable(amount: Amount, standard: Standard, size: str = "", egg: Fraction | None = None) -> Scalable:
    """A stated amount. ``standard`` says whose cup was meant; ``egg`` is the grams of one where eggs are counted."""
    u, about = amount.unit, amount.about
    if u.kind == "count":
        one, many = (" ".join(w for w in (size, "" if u is EACH else name) if w) for name in (u.name, u.plural))
        if egg is not None and u is EACH:
            return Scalable("egg", amount.low, amount.high, about, False, one, many, egg)
        return Scalable("count", amount.low, amount.high, about, False, one, many)
    low, high = amount.stated(standard)
    return Scalable(_how(u), low, high, about)


class Growing(NamedTuple):
    """:class:`Dual` as amounts that can grow, each measure's statements in the order in which they are printed."""

    weight: tuple[Scalable, ...] = ()
    volume: tuple[Scalable, ...] = ()
    counted: Scalable | None = None


def growing(
    dual: Dual, amounts: Sequence[Amount], row: Row | None, size: str = "", standard: Standard = "us"
) -> Growing:
    """What ``dual`` (made by ``both`` of the same) prints, as amounts that can grow."""
    masses = sorted((a for a in amounts if a.unit.kind == "mass"), key=lambda a: not is_metric(a.unit))
    volumes = sorted((a for a in amounts if a.unit.kind == "volume"), key=lambda a: is_metric(a.unit))
    counts = [a for a in amounts if a.unit.kind in ("count", "length")]
    weight = [scalable(a, standard) for a in masses]
    volume = [scalable(a, standard) for a in volumes]
    if dual.weight and dual.weight.derived and (g := grams_of(masses or [*volumes, *counts], row, size, standard)):
        weight.insert(0, Scalable("grams", g.low, g.high, derived=True))
    if dual.volume and dual.volume.derived and (ml := ml_of(volumes or masses, row, standard)):
        volume.insert(0, Scalable("spoons", ml.low, ml.high, derived=True))
    egg = piece(row, EACH, size) if row and row.name == "egg" and not row.state else None
    count = None
    if counts:
        count = scalable(counts[0], standard, "" if size == "fruit" else size, egg.typical if egg else None)
    return Growing(tuple(weight), tuple(volume), count)


def _how(u: Unit) -> How:
    if u.kind == "mass":
        return "grams" if is_metric(u) else "ounces"
    if u.kind == "length":
        return {"inch": "in", "centimeter": "cm"}.get(u.name, "mm")  # type: ignore[return-value]
    if is_metric(u):
        return "ml"
    return "fluid" if u.name == "fluid ounce" else "spoons"


def say_scaled(one: Scalable, by: Fraction, standard: Standard = "us", words: EggWords | None = None) -> Scaled:
    """``by`` times the amount, in the cups of ``standard``. Raises ValueError for a batch of nothing or less."""
    if by <= 0:
        raise ValueError("a batch is more than nothing")
    if one.how == "egg" and one.low == one.high:
        return _egg(one, one.low * by, words or EggWords())
    ends = [_end(one, value * by, standard) for value in ((one.low,) if one.low == one.high else (one.low, one.high))]
    off = max(abs(end.error) for end in ends)
    return Scaled(range_words([end.text for end in ends]), one.derived or off > Fraction(rules()["rounded"]))


def _end(one: Scalable, value: Fraction, standard: Standard) -> Reading:
    if value == 0:
        return Reading("0", value, Fraction(0))
    match one.how:
        case "grams":
            return say_grams(value)
        case "ounces":
            return say_ounces(value)
        case "ml":
            return say_ml(value)
        case "spoons":
            held = kitchen(value, standard)
            return Reading(held.text, held.ml, held.error)
        case "fluid":
            ounce = factor(unit("fluid ounce"), standard)
            number = to_step(value / ounce, Fraction(1, 2))
            return Reading(f"{say_number(number)} fl oz", number * ounce, number * ounce / value - 1)
        case "count" | "egg":
            # A range of eggs goes by whole ones: nobody halves an egg that may be left out.
            number = to_step(value, Fraction(1)) if one.how == "egg" else pieces(value)
            text = f"{say_number(number)} {one.many if number > 1 else one.one}".rstrip()
            return Reading(text, number, number / value - 1)
    size, step = (Fraction(n) for n in rules()["lengths"][one.how])
    number = to_step(value / size, step)
    return Reading(f"{say_number(number)} {one.how}", number * size, number * size / value - 1)


def to_step(value: Fraction, step: Fraction) -> Fraction:
    """To the nearest step, ties up; something never becomes nothing."""
    return max(math.floor(value / step + Fraction(1, 2)), 1) * step


def pieces(number: Fraction) -> Fraction:
    """How many a cook can count off: below one a half, third or quarter, above to the half. Ties go up."""
    table = rules()["pieces"]
    if number < 1:
        return min((Fraction(p) for p in table["parts"]), key=lambda p: (abs(p - number), -p))
    return to_step(number, Fraction(table["step"]))


def _egg(one: Scalable, number: Fraction, words: EggWords) -> Scaled:
    """Whole eggs, and what is left as a yolk or a white, or beaten and weighed."""
    whole, part = divmod(number, 1)
    kind = next(kind for below, kind in rules()["eggs"] if below is None or part < Fraction(below))
    if kind == "whole":
        whole, part = whole + 1, Fraction(0)
    if not kind or not part:
        if not whole:
            return Scaled(say_grams(part * one.each).text, True)
        off = abs(whole / number - 1) > Fraction(rules()["rounded"])
        return Scaled(
            f"{say_number(Fraction(whole))} {one.many if whole > 1 else one.one}".rstrip(), one.derived or off
        )
    eggs = " ".join(w for w in (say_number(Fraction(whole)), one.one, words.eggs if whole > 1 else words.egg) if w)
    bit = f"1 {words.yolk if kind == 'yolk' else words.white}"
    both = f"{eggs} + {bit}" if whole else bit
    text = words.either.replace("{pieces}", both).replace("{grams}", say_grams(part * one.each).text)
    return Scaled(text, one.derived)


def _told(number: Fraction) -> str:
    """As str() has it, in a third of the time."""
    above, below = number.as_integer_ratio()
    return str(above) if below == 1 else f"{above}/{below}"


def data(several: Sequence[Scalable]) -> list[list[object]]:
    """Amounts as plain values for a script: [how, low, high, about, derived, one, many, each], fractions as text;
    what is nothing at the end is left out."""
    out: list[list[object]] = []
    for s in several:
        low, high = _told(s.low), _told(s.high)
        row: list[object] = [s.how, low, "" if high == low else high, int(s.about), int(s.derived)]
        row += [s.one, s.many, _told(s.each) if s.each else ""]
        while not row[-1]:
            row.pop()
        out.append(row)
    return out
