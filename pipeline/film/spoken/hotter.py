"""A heat that goes up to a hotter one told behind it: "five hundred, five fifty if your oven goes that high"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom
from pipeline.film.spoken.heats import SaidHeat
from pipeline.film.spoken.numbers import value_at
from pipeline.film.spoken.stated import said_words
from pipeline.film.spoken.upper import upper_at
from pipeline.measure.record import replace


def hotter(atoms: Sequence[Atom], said: SaidHeat) -> SaidHeat:
    """The heat as a range, where a hotter one is told behind it: "five hundred, five fifty if your oven goes there"."""
    heat = said.heat
    if heat.scale == "gas" or heat.fan or heat.low != heat.high or heat.low < 60:
        return said
    up = upper_at(atoms, said.end, heat.low, lambda i: None) or _next_mark(atoms, said.end, heat.low)
    if up is None or up[0] > heat.low * Fraction(5, 4) or up[0] % 5 or other_than_fan(atoms, said.end, up[1]):
        return said
    words = said_words(atoms, said.start, up[1])
    return said._replace(end=up[1], heat=replace(heat, high=up[0], text=words))


def _next_mark(atoms: Sequence[Atom], end: int, low: Fraction) -> tuple[Fraction, int] | None:
    """ "Four hundred, four fifty, and": the next mark on a dial, right behind a comma."""
    value = value_at(atoms, end) if atoms[end - 1].stop == "," and low % 25 == 0 else None
    if value is None or value.single % 25 or not low < value.single <= low + 50:
        return None
    return (value.single, value.end) if value.end >= len(atoms) or atoms[value.end - 1].stop else None


def other_than_fan(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """Whether a number is that of an oven with a fan or without: "one sixty, one eighty if yours hasn't got a fan"."""
    stop = next((n + 1 for n in range(end - 1, min(end + 9, len(atoms))) if atoms[n].stop == "."), end + 9)
    return any(atom.text in ("fan", "fans", "convection", "static", "conventional") for atom in atoms[start:stop])
