"""Heat and time: °F and °C exact, oven dials, fan ovens, gas marks, food temperatures; durations."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Scale = Literal["F", "C", "gas"]


@dataclass(frozen=True, slots=True)
class Heat:
    """A heat as stated: the two ends (equal for one number) on its scale. ``fan`` where a fan oven is meant."""

    low: Fraction
    high: Fraction
    scale: Scale
    fan: bool = False
    about: bool = False
    text: str = ""


@dataclass(frozen=True, slots=True)
class Duration:
    """A time as stated, in whole seconds (low and high equal for one number). ``near`` is its rounding in seconds."""

    low: int
    high: int
    near: int
    about: bool = False
    text: str = ""
