"""Cans that say their size: "one 28-ounce can", "a 400 gram tin", "two 14 ounce cans"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at
from pipeline.film.spoken.numbers import Value, value_at
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.words import CONTAINERS, qualifiers_at, says, unit_at
from pipeline.measure.numbers import Number
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import find_unit


def can_at(atoms: Sequence[Atom], i: int) -> Said | None:
    """ "one 28-ounce can", "a 400 gram tin", "two 14 ounce cans": a count and a total."""
    qualifier, at = qualifiers_at(atoms, i)
    for count, inner_at in _count_then_size(atoms, at):
        inner = value_at(atoms, inner_at)
        if inner is None or inner.form == "article" or atoms[inner.end - 1].stop:
            continue
        unit = unit_at(atoms, inner.end, inner.form == "figures")
        if unit is None or unit[0].kind not in ("mass", "volume") or atoms[unit[1] - 1].stop:
            continue
        holder_at = unit[1]
        _, holder_at = qualifiers_at(atoms, holder_at)
        packed = find_unit("packet") if text_at(atoms, holder_at) in ("pack", "packs") else None
        holder = (packed, holder_at + 1) if packed else unit_at(atoms, holder_at, figures=False)
        if holder is None or holder[0].name not in CONTAINERS:
            continue
        text = said_words(atoms, i, holder[1])
        how_many = amount_of(count.number, holder[0], text, qualifier)
        size = replace(amount_of(inner.number, unit[0], text).scaled(count.single), text=text)
        return Said(i, holder[1], (how_many, size), article=count.form == "article")
    return None


def _count_then_size(atoms: Sequence[Atom], at: int) -> list[tuple[Value, int]]:
    count = value_at(atoms, at)
    if count is None:
        return []
    ways: list[tuple[Value, int]] = []
    if count.loose and count.tail is not None:
        # "two fourteen ounce cans" are two of fourteen, not 214
        few = (count.single - count.tail.low) / 100
        ways.append((Value(Number(few, few), count.tail_at, "words"), count.tail_at))
    if says(atoms, count.end, "of", "the") or says(atoms, count.end, "of", "those"):
        ways.append((count, count.end + 2))  # "two of the fifteen ounce cans"
    if count.single.denominator == 1 and not atoms[count.end - 1].stop:
        ways.append((count, count.end + (text_at(atoms, count.end) in ("x", "×", "times"))))
    return ways
