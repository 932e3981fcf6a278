"""A temperature inside meat that is lower than the published safe minimum, or rounded to the unsafe side."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from pipeline.measure.food_heat import SafeHeat, food, safe_for
from pipeline.measure.heat import Heat, celsius, is_food, say_heat, to_celsius
from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix
from pipeline.proof.heats import StatedHeat, heats
from pipeline.proof.phrases import Phrases
from pipeline.proof.prose import flat
from pipeline.recipe.span import Span

ID = "heat-unsafe"

# Words around a heat that say it is read inside the food. Common practice, no source.
_INSIDE = Phrases(r"""
    internal(?:ly)?|inside|thermometer|probe|thickest|cent(?:er|re)|core|registers?|reads?
    (?:meat|bird|breasts?|thighs?|legs?|burgers?|patt(?:y|ies)|meatballs?) (?:\w+ )?(?:reach\w*|hits?|is at)
    (?:chicken|turkey|duck|pork|beef|lamb|meatloaf|sausages?) (?:\w+ )?(?:reach\w*|hits?|is at|gets to|comes to)
""")
# Other things that have a temperature: where the sentence is about these and names no meat, it is not about meat.
_OTHER = Phrases(r"""
    oil|butter|water|milk|custard|syrup|sugar|caramel|jam|chocolate
    dough|bread|loaf|loaves|starter|yeast
    fridge|refrigerator|freezer|room|grill|smoker|oven
""")
# Words that only sound like meat or eggs.
_SEEMS = Phrases(r"""
    (?:chicken|beef|turkey|lamb|pork|fish|duck|goose)[- ](?:stock|broth|bouillon|sauce|fat|powder|seasoning|gravy)
    egg[- ](?:noodles?|wash|whites?|yolks?|timer|size)
    ground (?!(?:beef|pork|lamb|veal|meat|chicken|turkey|bison|venison)\b)\w+
    roast(?:s|ed|ing)?(?! (?:beef|pork|lamb|veal|chicken|turkey))
""")
_MEAT_ONLY = ("poultry", "ground")
_LOWEST, _HIGHEST = (
    to_celsius(Fraction(90)),
    to_celsius(Fraction(212)),
)  # °C: no meat is done below, nothing wet gets hotter


def run(bench: Bench) -> Iterable[Finding]:
    places = [h for h in heats(bench.recipe) if h.step is not None and _inside(h)]
    for place in places:
        safe = _minimum(place, bench)
        if safe is not None:
            yield from _judge(place, safe, places, bench)


def _inside(place: StatedHeat) -> bool:
    low = min(c for h in place.heats for c in celsius(h))
    return all(is_food(h) for h in place.heats) and _LOWEST <= low <= _HIGHEST and bool(_INSIDE.search(place.sentence))


def _minimum(place: StatedHeat, bench: Bench) -> SafeHeat | None:
    """The safe minimum that applies: by the sentence's own words, then the step's, then the recipe's meat."""
    named = _meat(place.sentence)
    if named is not None or _OTHER.search(place.sentence):
        return named
    step = bench.recipe.steps[place.step or 0]
    named = _meat(flat(step, bench.recipe).text)
    if named is not None:
        return named
    names = [str(line.name) for component in bench.recipe.components for line in component.ingredients]
    kinds = {safe.key: safe for name in [str(bench.recipe.title), *names] if (safe := _meat(name)) is not None}
    meat = [safe for key, safe in kinds.items() if key not in ("egg-dish", "leftovers")]
    return meat[0] if len(meat) == 1 else None


def _meat(words: str) -> SafeHeat | None:
    return safe_for(_SEEMS.sub(" ", words))


def _judge(place: StatedHeat, safe: SafeHeat, places: list[StatedHeat], bench: Bench) -> Iterator[Finding]:
    limit = to_celsius(safe.fahrenheit)
    low = [(h, s) for h, s in zip(place.heats, place.spans, strict=True) if celsius(h)[0] < limit]
    if not low:
        return
    reached = [h for h in place.heats if celsius(h)[0] >= limit]
    later = any(
        p is not place and p.step == place.step and any(celsius(h)[0] >= limit for h in p.heats) for p in places
    )
    if later and not reached:
        return  # "take it out at 155 F; resting brings it to 165 F"
    first = food(safe.heat(), "C")
    rest = f" and {safe.rest} minutes of rest" if safe.rest else ""
    why = (
        f"{safe.source}: {say_heat(safe.heat())} ({say_heat(first)}){rest} for {safe.what}; local codes and licensed "
        "practice come first"
    )
    for heat, span in low:
        needed = food(safe.heat(), heat.scale)
        if reached:
            message = f"{heat.text} is rounded to the unsafe side: {safe.what} needs {say_heat(needed)}"
        else:
            message = f"{heat.text} inside is less than the safe minimum of {say_heat(needed)} for {safe.what}"
        grave = safe.key in _MEAT_ONLY or bool(reached)
        yield Finding(ID, "warning" if grave else "note", span, message, why, (_fix(needed, heat, span, bench),))


def _fix(needed: Heat, heat: Heat, span: Span, bench: Bench) -> Fix:
    typed = f"{needed.low} {needed.scale}"
    stands = bench.recipe.source[span.start : span.end] == heat.text
    return Fix(f"`{typed}` or more", (Edit(span, typed),) if stands else ())


CHECK = Check(
    id=ID,
    question="Is meat cooked to the published safe temperature, in both scales?",
    reason=(
        "Undercooked poultry and ground meat make people ill, and a temperature rounded down by one degree is a degree "
        "short. The minimums are those of the USDA Food Safety and Inspection Service. They are a caution, not a "
        "licence: local codes and licensed practice come first."
    ),
    good="""\
title: Roast chicken thighs
yield: serves 4
ingredients:
  - 900 g chicken thighs
steps:
  - Heat the oven to {425 F or 220 C}.
  - Roast {chicken thighs} in the oven until the thickest part reaches {165 F or 74 C}.
""",
    bad="""\
title: Roast chicken thighs
yield: serves 4
ingredients:
  - 900 g chicken thighs
steps:
  - Heat the oven to {425 F or 220 C}.
  - Roast {chicken thighs} in the oven until the thickest part reaches {155 F or 68 C}.
""",
    run=run,
)
