"""The scale of a heat whose scale was not said, and whether two heats are one on two scales."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, word_set
from pipeline.film.spoken.heats import HOTTEST_C, PROBES, PULLS, SMOKES, SaidHeat, near
from pipeline.measure.heat import GAS_MARKS, Heat, Scale
from pipeline.measure.record import replace


def other_scale(sure: Heat, other: Heat) -> bool:
    """Whether a number is about what a heat is on its other scale: within 15 %, as dials and memories
    round."""
    if sure.scale == "gas":
        low, high = (float(x) for x in GAS_MARKS.get(sure.low, (0, 0)))
        return any(abs(float(other.low) - x) <= 0.08 * x for x in (low, high))
    low = float(sure.low)
    turned = (low - 32) / 1.8 if sure.scale == "F" else low * 1.8 + 32
    return abs(turned - float(other.low)) <= 0.15 * abs(turned)


def settled(heats: Sequence[SaidHeat], atoms: Sequence[Atom], home: Scale | None) -> tuple[Heat, ...]:
    """The alternatives with their scales: one that was not said is the other one than its neighbour's, the
    same as its neighbour's in a fan oven, else ``home`` (the scale this film speaks in), else what the number
    allows.
    """
    result: list[Heat] = []
    for n, said in enumerate(heats):
        heat = said.heat
        if not said.sure:
            sure = [other.heat.scale for other in heats if other.sure and other.heat.scale != "gas"]
            earlier = [h.scale for h in result if h.scale != "gas"]
            marks = [other.heat.low for other in heats if other.heat.scale == "gas"]
            if marks and marks[0] in GAS_MARKS and not (earlier or sure):
                celsius, fahrenheit = (abs(heat.low - degrees) for degrees in GAS_MARKS[marks[0]])
                scale: Scale = "C" if celsius < fahrenheit else "F"
            elif heat.fan and sure and not earlier and sure[0] == "F" and _turned(heat, heats):
                scale = "C"  # "a hundred and sixty with the fan. In Fahrenheit that's three fifty"
            elif heat.fan and (earlier or sure):
                scale = (earlier or sure)[-1]
            elif sure and len(heats) > 1:
                scale = "C" if sure[0] == "F" and heat.high <= HOTTEST_C else "F"
            elif earlier and heats[n - 1].heat.fan:
                scale = earlier[-1]
            elif n and earlier:
                scale = "C" if earlier[-1] == "F" and heat.high <= HOTTEST_C else earlier[-1]
            else:
                scale = _likely(heat, atoms, said.start, home)
            heat = replace(heat, scale=scale)
        result.append(heat)
    return tuple(result)


def _turned(heat: Heat, heats: Sequence[SaidHeat]) -> bool:
    """Whether the heats beside a fan oven's are too hot for one of the same scale."""
    return all(heat.low * Fraction(3, 2) < said.heat.low for said in heats if said.sure)


_INSIDE = word_set("internal inside safe probe thickest")
_RISES = word_set("proof proofing proofs prove proving rise rising yeast dough")
_FRIES = word_set("oil fry frying fryer deep-fry")
_PROBED = word_set(
    "thermometer internal inside probe reads read center centre chicken thigh breast thickest meat pork safe"
)


def _likely(heat: Heat, atoms: Sequence[Atom], start: int, home: Scale | None) -> Scale:
    if heat.high > HOTTEST_C:
        return "F"
    if 100 < heat.low <= 212 and (near(atoms, start, _INSIDE) or near(atoms, start, PULLS, 9)):
        return "F"  # nothing that is cooked through is hotter than boiling water inside
    if 120 < heat.low <= heat.high <= 210 and near(atoms, start, _FRIES, 8):
        return home or "C"  # nobody fries at 170 °F
    if heat.fan:
        return "C"  # fans are spoken of in °C, save at heats that only °F has
    if home is not None:
        return home
    if 68 <= heat.low <= heat.high <= 115 and near(atoms, start, _RISES) and not near(atoms, start, PROBES):
        return "F"  # dough that is to rise is nowhere as hot as 68 °C: common practice, no source
    if near(atoms, start, SMOKES):
        return "F"  # slow barbecue is spoken of in °F (common practice, no source)
    around = frozenset(atom.text for atom in atoms[max(start - 12, 0) : start + 10])
    if around & _PROBED and heat.low > 100:
        return "F"
    return "C"
