"""Kitchen fractions: from millilitres to what a cook can measure, and back; how numbers are said.

Which measures there are, their fractions and how odd each is stand in ``data/fractions.json``, which the page's
script reads, too: there is one rule. It is common practice, no source.
"""

from __future__ import annotations

import json
import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from pipeline.measure.record import replace
from pipeline.measure.units import Standard, Unit, factor, unit

GLYPHS: dict[Fraction, str] = {
    Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔",
    Fraction(1, 8): "⅛", Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}  # fmt: skip

Part = tuple[Fraction, Unit]


class Measures(NamedTuple):
    """What to measure: ``parts`` largest first, ``ml`` what they hold exactly.

    ``error``: by how much that is more than asked (less: negative), relative to what was asked, exact.
    ``text`` is for print ("½ cup + 2 tbsp"), ``typed`` for a source ("1/2 cup + 2 tbsp").
    """

    parts: tuple[Part, ...]
    ml: Fraction
    error: Fraction
    text: str
    typed: str


def say_number(number: Fraction, glyph: bool = True) -> str:
    """A number as a card has it: "2¾", "⅛", "12"; "2 3/4" where ``glyph`` is False.

    Halves, thirds, quarters and eighths are fractions; anything else is a decimal of at most two digits.
    """
    sign, number = ("-", -number) if number < 0 else ("", number)
    whole, rest = divmod(number, 1)
    if rest == 0:
        return f"{sign}{whole}"
    if rest in GLYPHS:
        part = GLYPHS[rest] if glyph else str(rest)
        return f"{sign}{whole}{'' if glyph else ' '}{part}" if whole else sign + part
    hundredths = math.floor(number * 100 + Fraction(1, 2))
    text = f"{hundredths // 100}.{hundredths % 100:02}".rstrip("0").rstrip(".")
    return text if text == "0" else sign + text


def say_part(number: Fraction, of: Unit, glyph: bool = True) -> str:
    """A number and its unit: "2¾ cups", "½ cup", "2 tbsp"."""
    word = of.symbol
    if number > 1 and (of.whose or word == of.name):
        word = of.plural
    return f"{say_number(number, glyph)} {word}".rstrip()


def millilitres(parts: Sequence[Part], standard: Standard = "us") -> Fraction:
    """What the parts hold together, exactly, in ml. Raises ValueError for a part that is no volume."""
    total = Fraction(0)
    for number, of in parts:
        if of.kind != "volume":
            raise ValueError(f"{of.name or 'a count'} is no measure of volume")
        total += number * factor(of, standard)
    return total


@lru_cache(maxsize=4096)
def kitchen(
    ml: Fraction,
    standard: Standard = "us",
    error: Fraction = Fraction(1, 20),
    eighths: bool = False,
    large: bool = False,
) -> Measures:
    """The fewest measures that hold ``ml`` within the relative ``error``; among as few, the nearest and least odd.

    Where nothing is within ``error``, the nearest there is; its error tells. ``eighths`` lets eighths of a cup in,
    ``large`` quarts and gallons. Nothing is "0". Raises ValueError for a negative amount or error.
    """
    if ml < 0 or error < 0:
        raise ValueError("an amount and its error cannot be negative")
    if ml == 0:
        return Measures((), Fraction(0), Fraction(0), "0", "0")
    ladder = _ladder(standard, eighths, large)
    target = ml * ladder.scale
    low, high = math.ceil(target * (1 - error)), math.floor(target * (1 + error))
    n, d = target.numerator, target.denominator
    nearest: tuple[int, _Pick] | None = None
    for terms in range(1, ladder.terms + 1):
        fits: list[_Pick] = []
        for size, pick in _picks(ladder, terms, low, high):
            if low <= size <= high:
                fits.append(pick)
            elif nearest is None or abs(size * d - n) < nearest[0]:
                nearest = abs(size * d - n), pick
        if fits:
            return _measures(min(fits, key=lambda pick: _score(pick, target, error)), ladder, ml)
    assert nearest is not None  # a ladder has at least one measure
    return _measures(nearest[1], ladder, ml)


class _Value(NamedTuple):
    """One filling of one measure: ``whole`` + ``part`` of it. ``size`` counts in units of 1/scale ml."""

    whole: int
    part: Fraction
    size: int
    odd: Fraction
    unit: Unit


_Pick = tuple[_Value, ...]


class _Rung(NamedTuple):
    """One measure of the ladder. ``values`` are all its fillings by size, empty for the largest, which has no end."""

    unit: Unit
    size: int
    least: int
    parts: tuple[tuple[Fraction, int, Fraction], ...]
    values: tuple[_Value, ...]
    sizes: tuple[int, ...]
    alone: bool

    def near(self, low: int, high: int) -> Sequence[_Value]:
        """The fillings from ``low`` to ``high`` and the next one on either side; of an endless measure a few more."""
        if not self.values:
            return self.filled(max(low // self.size - 1, 0), high // self.size + 1)
        start = max(bisect_left(self.sizes, low) - 1, 0)
        return self.values[start : bisect_right(self.sizes, high) + 1]

    def filled(self, first: int, last: int) -> list[_Value]:
        if last - first > 4:  # of very many, those about the middle are nearest
            first, last = (first + last) // 2 - 1, (first + last) // 2 + 2
        return [
            _Value(whole, part, whole * self.size + size, odd, self.unit)
            for whole in range(first, last + 1)
            for part, size, odd in self.parts
            if whole * self.size + size >= self.least
        ]


class _Ladder(NamedTuple):
    rungs: tuple[_Rung, ...]
    scale: int
    terms: int


def _picks(ladder: _Ladder, terms: int, low: int, high: int, first: int = 0) -> Iterator[tuple[int, _Pick]]:
    """Sums of exactly ``terms`` measures, each smaller than the one before: all from ``low`` to ``high`` that are
    worth a thought, and those next to them."""
    for i in range(first, len(ladder.rungs)):
        rung = ladder.rungs[i]
        if terms == 1:
            if not rung.alone or first == 0:
                for value in rung.near(low, high):
                    yield value.size, (value,)
            continue
        leading = rung.values or rung.filled(max(low // rung.size - 1, 0), high // rung.size)
        for value in leading:
            if value.size < high:
                for size, rest in _picks(ladder, terms - 1, low - value.size, high - value.size, i + 1):
                    yield value.size + size, (value, *rest)


def _score(pick: _Pick, target: Fraction, error: Fraction) -> tuple[Fraction, int]:
    """How far off, as a share of the allowed error, and how odd; a tie goes to the smaller amount."""
    size = sum(value.size for value in pick)
    off = abs(size - target) / (error * target) if error else Fraction(0)
    return off + sum(value.odd for value in pick), size


def _measures(pick: _Pick, ladder: _Ladder, ml: Fraction) -> Measures:
    parts = tuple((value.whole + value.part, value.unit) for value in pick)
    held = Fraction(sum(value.size for value in pick), ladder.scale)
    return Measures(parts, held, held / ml - 1, say_parts(parts), say_parts(parts, glyph=False))


def say_parts(parts: Sequence[Part], glyph: bool = True) -> str:
    """Several measures added up: "½ cup + 2 tbsp"; nothing is "0"."""
    return " + ".join(say_part(number, of, glyph) for number, of in parts) or "0"


@cache
def rules() -> dict[str, Any]:
    """The table of ``data/fractions.json`` as it stands."""
    text = (Path(__file__).parent / "data" / "fractions.json").read_text(encoding="utf-8")
    table: dict[str, Any] = json.loads(text)
    return table


@cache
def _ladder(standard: Standard, eighths: bool, large: bool) -> _Ladder:
    rows = [row for row in rules()["measures"] if row["when"] == "" or (row["when"] == "large" and large)]
    sizes = {row["unit"]: factor(unit(row["unit"]), standard) for row in rows}
    parts: dict[str, list[tuple[Fraction, Fraction]]] = {}
    for row in rows:
        named = {**row["fractions"], **(row.get("eighths", {}) if eighths else {})}
        parts[row["unit"]] = [(Fraction(0), Fraction(0)), *((Fraction(k), Fraction(v)) for k, v in named.items())]
    # Whole numbers throughout: the least common scale on which every filling is one.
    scale = math.lcm(*(Fraction(sizes[name] * p or 1).denominator for name in sizes for p, _ in parts[name]),
                     *(size.denominator for size in sizes.values()))  # fmt: skip
    rungs = []
    for row in rows:
        name, size = row["unit"], int(sizes[row["unit"]] * scale)
        filled = tuple((part, int(part * size), odd) for part, odd in parts[name])
        least = int(Fraction(row["least"]) * size)
        rung = _Rung(unit(name), size, least, filled, (), (), row.get("alone", False))
        if row["below"] and row["below"][0] in sizes:
            limit = int(sizes[row["below"][0]] * Fraction(row["below"][1]) * scale)
            limit = min(limit, row.get("most", limit) * size)
            every = [v for w in range(limit // size + 1) for v in rung.filled(w, w) if v.size < limit]
            values = tuple(sorted(every, key=lambda v: v.size))
            rung = replace(rung, values=values, sizes=tuple(v.size for v in values))
        rungs.append(rung)
    return _Ladder(tuple(rungs), scale, rules()["terms"])
