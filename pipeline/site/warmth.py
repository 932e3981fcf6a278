"""Oven heats and temperatures of food as a step prints them: both scales, and fan and gas where the channel asks."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from pipeline.measure.food_heat import food
from pipeline.measure.heat import Heat, celsius, is_food, is_oven
from pipeline.measure.oven import to_dial
from pipeline.recipe.channel import Channel

_OVEN = re.compile(r"\b(?:oven|bak(?:e|es|ed|ing)|roast\w*|pre-?heat\w*|broil\w*|proof box|air[- ]?fry\w*)\b", re.I)
_FOOD = re.compile(
    r"\b(?:thermometer|probe|inside|internal|core|reads?|reach(?:es)?|registers?|centre|center|thickest|oil|fry|deep"
    r"|syrup|sugar|caramel|candy|fridge|refrigerat\w*|freezer|water|milk|bath|warm to|chill\w*|dough)\b",
    re.I,
)
# °C: the fridge's limit is one that food must not pass (FDA Food Code 2022, 3-501.16: 5 °C / 41 °F).
_COLD = 8


def is_oven_here(heats: tuple[Heat, ...], before: str, after: str) -> bool:
    """Whether a heat in a step is an oven's: by its size where that decides, else by the nearest words.

    ``before`` and ``after`` are the step's words on either side. In doubt it is a food's temperature, whose
    conversion is the finer one.
    """
    first = heats[0]
    if any(h.scale == "gas" or h.fan for h in heats) or not is_food(first):
        return is_oven(first)
    if not is_oven(first):
        return False
    sentence = re.split(r"[.!?;]\s", before)[-1] + " … " + re.split(r"[.!?;]\s", after)[0]
    oven = [m.start() for m in _OVEN.finditer(sentence)]
    other = [m.start() for m in _FOOD.finditer(sentence)]
    if not oven:
        return False
    at = sentence.index(" … ")
    return not other or min(abs(o - at) for o in oven) <= min(abs(o - at) for o in other)


def heats_shown(heats: tuple[Heat, ...], channel: Channel, oven: bool) -> tuple[Heat, ...]:
    """What the page prints for a heat: each statement as typed, then the scales that it lacks.

    An oven's heat goes to the steps of a dial, a food's to whole degrees on the safe side.
    """
    first = heats[0]
    said = list(heats)
    scales = {h.scale for h in heats if not h.fan}
    for scale in ("F", "C"):
        if scale in scales or (first.fan and any(h.scale == scale for h in heats)):
            continue
        if oven:
            said.append(to_dial(first, scale))
        elif first.scale != "gas":
            low, _ = celsius(first)
            said.append(food(first, scale, "max" if low <= _COLD else "min"))
    for on, heat in lacking(heats, oven):
        if (channel.fan, channel.gas)[on == "gas"]:
            said.append(heat)
    return tuple(said)


def lacking(heats: Sequence[Heat], oven: bool) -> list[tuple[Literal["fan", "gas"], Heat]]:
    """The fan oven's heat and the gas mark, where it is an oven's heat and ``heats`` do not say them."""
    if not oven:
        return []
    base = next((h for h in heats if h.scale == "C" and not h.fan), heats[0])
    out: list[tuple[Literal["fan", "gas"], Heat]] = []
    if not any(h.fan for h in heats):
        out.append(("fan", to_dial(base, "C", fan=True)))
    if not any(h.scale == "gas" for h in heats):
        out.append(("gas", to_dial(base, "gas", fan=False)))
    return out


def scale_of(heat: Heat) -> str:
    """What a reader chooses a heat by: "F", "C", "gas" or "fan"."""
    return "fan" if heat.fan else heat.scale
