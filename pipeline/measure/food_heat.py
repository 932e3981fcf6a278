"""Temperatures of food, fat and sugar: rounded to the safe side only, and the published safe minimums."""

from __future__ import annotations

import csv
import math
import re
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Literal, NamedTuple

from pipeline.measure.heat import Heat, Scale, on_scale
from pipeline.measure.record import replace

SOURCE = "USDA Food Safety and Inspection Service, Safe Minimum Internal Temperature Chart"


def food(heat: Heat, scale: Scale, safe: Literal["min", "max"] = "min") -> Heat:
    """A food's temperature on the other scale, in whole degrees, rounded to the safe side only, by less than one.

    ``safe``: "min" where the food must reach it (meat, sugar stages): up; "max" where it must not pass it (a
    refrigerator): down. A heat on that scale already is left as stated.
    Raises ValueError for a gas mark on either side.
    """
    if heat.scale == "gas" or scale == "gas":
        raise ValueError("a gas mark is an oven's setting, not a food's temperature")
    if heat.scale == scale:
        return heat
    whole = math.ceil if safe == "min" else math.floor
    low, high = (Fraction(whole(on_scale(t, heat.scale, scale))) for t in (heat.low, heat.high))
    return replace(heat, low=low, high=high, scale=scale, text="")


class SafeHeat(NamedTuple):
    """One published safe minimum: ``fahrenheit`` inside the food, then ``rest`` minutes before it is cut.

    ``source`` is the chart; local codes and licensed practice come first.
    """

    key: str
    what: str
    fahrenheit: Fraction
    rest: int
    words: tuple[str, ...]
    source: str = SOURCE

    def heat(self) -> Heat:
        return Heat(self.fahrenheit, self.fahrenheit, "F")


@cache
def safe_temperatures() -> tuple[SafeHeat, ...]:
    """The table of ``data/safe_temperatures.csv``."""
    text = (Path(__file__).parent / "data" / "safe_temperatures.csv").read_text(encoding="utf-8")
    lines = (line for line in text.splitlines() if not line.startswith("#"))
    return tuple(
        SafeHeat(r["key"], r["what"], Fraction(r["fahrenheit"]), int(r["rest"]), tuple(r["words"].split(";")))
        for r in csv.DictReader(lines)
    )


def safe_for(words: str) -> SafeHeat | None:
    """The published minimum for a food by a recipe's words, the hottest that any of them calls for: "minced beef" is
    ground meat (160 °F), "chicken sausage" poultry (165 °F). None where no word is in the table.

    It knows words and nothing of the dish: whether "chicken stock" is meat is for the caller to judge.
    """
    said = set(re.findall(r"[a-z]+", words.lower()))
    said |= {w[:-1] for w in said if w.endswith("s")}
    hits = [s for s in safe_temperatures() if any(set(w.split()) <= said for w in s.words)]
    return max(hits, key=lambda s: s.fahrenheit, default=None)
