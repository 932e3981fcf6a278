"""What an amount is: a number and a unit as somebody stated them, and the interval that this can honestly mean."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from pipeline.measure.record import replace
from pipeline.measure.units import Standard, Unit, factor


class Interval(NamedTuple):
    """A closed interval, low <= high."""

    low: Fraction
    high: Fraction

    def meets(self, other: Interval) -> bool:
        return self.low <= other.high and other.low <= self.high

    def times(self, other: Interval) -> Interval:
        return Interval(self.low * other.low, self.high * other.high)

    def middle(self) -> Fraction:
        return (self.low + self.high) / 2


class Amount(NamedTuple):
    """An amount as stated, immutable.

    ``low`` and ``high`` are the stated numbers in ``unit``: equal for one number, the two ends of "2-3 cups".
    ``near`` is the half-width (in ``unit``) of careful rounding, ``far`` that of easy-going but honest rounding:
    "2 3/4 cups" is not 2.75 but what a cook would round to it.
    ``about`` is true where the words said so ("about", "scant", "heaped"); both half-widths are then wider already.
    ``text`` is what was written or said.
    ``parts``: the (number, unit) of each part of a sum whose units stand in another ratio elsewhere ("1 cup + 2 tbsp":
    an Australian cup holds 12.5 tablespoons); the numbers above are then the sum by US measures.
    """

    low: Fraction
    high: Fraction
    unit: Unit
    near: Fraction
    far: Fraction
    about: bool = False
    text: str = ""
    parts: tuple[tuple[Fraction, Unit], ...] = ()

    @property
    def value(self) -> Fraction:
        """The stated number; the middle of a range."""
        return (self.low + self.high) / 2

    def one(self, standard: Standard = "us") -> Fraction:
        """g, ml or mm in one ``unit`` of this amount. Raises ValueError for a count."""
        if not self.parts or standard == "us":
            return factor(self.unit, standard)
        here, there = (sum((n * factor(u, s) for n, u in self.parts), Fraction(0)) for s in (standard, "us"))
        return factor(self.unit) * here / there

    def stated(self, standard: Standard = "us") -> Interval:
        """The stated numbers in g, ml or mm. Raises ValueError for a count."""
        f = self.one(standard)
        return Interval(self.low * f, self.high * f)

    def careful(self, standard: Standard = "us") -> Interval:
        """What rounds to this statement, carefully, in g, ml or mm. Raises ValueError for a count."""
        f = self.one(standard)
        return Interval(max(self.low - self.near, Fraction(0)) * f, (self.high + self.near) * f)

    def honest(self, standard: Standard = "us") -> Interval:
        """What an easy-going cook might still round to this, in g, ml or mm. Raises ValueError for a count."""
        f = self.one(standard)
        return Interval(max(self.low - self.far, Fraction(0)) * f, (self.high + self.far) * f)

    def scaled(self, by: Fraction) -> Amount:
        """``by`` times this amount ("2 cans of 400 g"); rounding grows with it."""
        return replace(self, low=self.low * by, high=self.high * by, near=self.near * by, far=self.far * by)
