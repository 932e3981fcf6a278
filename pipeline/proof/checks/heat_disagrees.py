"""Two statements of one heat that are not the same heat."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import combinations

from pipeline.measure.heat import Heat, read_heat
from pipeline.measure.pair import Verdict
from pipeline.measure.pair_heat import compare_heat
from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix
from pipeline.proof.heats import StatedHeat, heats
from pipeline.proof.mending import culprits

ID = "heat-disagrees"

# Slips that only an oven's setting can have, and words of pots that no oven heats.
_OF_OVENS = ("fan", "stale")
_OVEN = re.compile(r"\b(?:oven|bak(?:e|ing)|roast\w*|preheat\w*)\b", re.IGNORECASE)
_POT = re.compile(
    r"\b(?:oil|fat|(?:deep[- ])?fry\w*|sugar|syrup|caramel|toffee|honeycomb|jam|crack|ball|thermometer)\b", re.I
)


def run(bench: Bench) -> Iterable[Finding]:
    for place in heats(bench.recipe):
        verdicts = {
            (i, j): verdict
            for i, j in combinations(range(len(place.heats)), 2)
            if not _choice(place.heats[i], place.heats[j], verdict := compare_heat(place.heats[i], place.heats[j]))
        }
        for status in ("disagrees", "loose"):
            wrong = [at for at, verdict in verdicts.items() if verdict.status == status]
            for blamed, beside in culprits(len(place.heats), wrong):
                i, j = min(blamed, beside), max(blamed, beside)
                verdict = verdicts[i, j]
                a, b = place.heats[i], place.heats[j]
                degree = "different heats" if status == "disagrees" else "only loosely the same heat"
                yield Finding(
                    ID,
                    "error" if status == "disagrees" else "note",
                    place.spans[blamed],
                    f"{a.text} and {b.text} are {degree}",
                    why="; ".join(filter(None, (verdict.why, _likely(verdict, place)))),
                    fixes=tuple(_fix(pair, (i, j), place, bench) for pair in verdict.fixes),
                    second=place.spans[beside],
                )
            if wrong:
                break


def _choice(a: Heat, b: Heat, verdict: Verdict) -> bool:
    """Whether two heats are offered to choose from ("350 F or 375 F"): both on one scale, and both meant so."""
    return a.scale == b.scale and a.fan == b.fan and (verdict.slip is None or verdict.slip.id != "scale")


def _fix(pair: str, which: tuple[int, int], place: StatedHeat, bench: Bench) -> Fix:
    """One corrected pair; its edits change the halves that differ from what was stated."""
    edits: list[Edit] = []
    kept: list[str] = []
    for half, n in zip(pair.split(" or "), which, strict=True):
        heat, span, read = place.heats[n], place.spans[n], read_heat(half)
        if read and (read[0].low, read[0].high, read[0].scale) == (heat.low, heat.high, heat.scale):
            kept.append(heat.text)
        elif bench.recipe.source[span.start : span.end] == heat.text:
            edits.append(Edit(span, half))
    return Fix(f"`{pair}`" + (f" if `{kept[0]}` is right" if kept else ""), tuple(edits))


def _likely(verdict: Verdict, place: StatedHeat) -> str:
    """The likely slip in words, unless it is an oven's and the heat is that of hot fat or sugar."""
    if verdict.slip is None:
        return ""
    pot = _POT.search(place.sentence) and not _OVEN.search(place.sentence)
    return "" if pot and verdict.slip.id in _OF_OVENS else verdict.slip.words


CHECK = Check(
    id=ID,
    question="Are the °F and the °C (and the gas mark) of a heat the same heat?",
    reason=(
        "An oven that is set by the wrong half burns or never bakes, and the two scales are easily swapped. Oven "
        "heats may differ by what a dial's steps hide (25 °F, 10 °C); more cannot be meant."
    ),
    good="""\
title: Toasted oats
yield: 4 cups
ingredients:
  - 400 g rolled oats
steps:
  - Preheat the oven to {350 F or 180 C}.
  - Toast {oats} at 350°F (180°C) for {15 min}.
""",
    bad="""\
title: Toasted oats
yield: 4 cups
ingredients:
  - 400 g rolled oats
steps:
  - Preheat the oven to {350 F or 220 C}.
  - Toast {oats} for {15 min}.
""",
    run=run,
)
