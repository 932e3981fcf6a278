"""Heats in speech: "four fifty degrees", "230 Celsius", "gas mark six", "160 fan", "bake it at 350"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from pipeline.film.spoken.amounts import said_words
from pipeline.film.spoken.atoms import Atom
from pipeline.film.spoken.numbers import Value, number_at
from pipeline.film.spoken.words import loosely_after, qualifiers_at, says, text_at
from pipeline.measure.heat import GAS_MARKS, Heat, Scale

_SCALES: dict[str, Scale] = {
    "fahrenheit": "F", "farenheit": "F", "fahrenheits": "F", "f": "F", "℉": "F", "celsius": "C", "celcius": "C",
    "centigrade": "C", "c": "C", "℃": "C",
}  # fmt: skip
_DEGREES = frozenset(("degrees", "degree", "deg", "°", "º", "˚"))
_FANS = (
    ("fan", "forced"), ("fan", "assisted"), ("fan", "oven"), ("fan",), ("convection",), ("with", "fan"), ("on", "fan"),
    ("with", "the", "fan"), ("in", "a", "fan", "oven"), ("for", "a", "fan", "oven"), ("for", "fan"),
    ("if", "you", "have", "a", "fan"), ("if", "it's", "a", "fan"), ("with", "a", "fan"),
)  # fmt: skip

# Words that make a bare number behind "to" or "at" a heat, and words that make "degrees" a turn.
_CUES = frozenset(
    "oven ovens preheat preheated heat bake baked baking roast roasted roasting broil broiler temperature thermostat "
    "thermometer degrees internal dial fryer smoker grill oil crank cranked turn turned reduce lower drop hot probe "
    "inside center centre".split()
)
_BEFORE = frozenset("to at of hits hit reads read reach reaches reached says showing around about".split())
_AFTER = frozenset(
    "for until till and or then with in on while about that's that which so now because if when it's it the but you we "
    "i to from before after once as not maybe just fan convection depending is".split()
)
_TURNS = frozenset("turn turned rotate rotated spin angle tilt swivel flip".split())  # noqa: SIM905


@dataclass(frozen=True, slots=True)
class SaidHeat:
    """One heat: ``heat.scale`` is a guess where ``sure`` is false. ``bare``: even "degrees" went unsaid."""

    start: int
    end: int
    heat: Heat
    sure: bool
    bare: bool = False


def heat_at(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    """The heat that begins at ``i``, or None. Where no scale is said it is °F above 260 and °C below, not sure:
    see :func:`settled`."""
    if gas := _gas(atoms, i):
        return gas
    start, fan = i, False
    if (after := _fan(atoms, i)) and text_at(atoms, i) in ("fan", "convection"):
        fan, i = True, after
        if text_at(atoms, i) in ("at", "to"):
            i += 1
    if text_at(atoms, i) == "between":
        i += 1
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or value.number.low.denominator not in (1, 2, 10):
        return None
    end, marked, scale = _marks(atoms, value)
    if end is None:
        if not fan and not (tail := _fan(atoms, value.end)):
            return _bare(atoms, start, at, value, qualifier)
        end = value.end
    if value.loose and value.number.low > 900:
        return None
    if marked and scale is None and _is_turn(atoms, start):
        return None
    if not atoms[end - 1].stop or scale is None:
        if (tail := _fan(atoms, end)) and not atoms[end - 1].stop:
            fan, end = True, tail
            if scale is None and (named := _SCALES.get(text_at(atoms, end))):
                scale, end = named, end + 1
    if again := loosely_after(atoms, end):
        qualifier, end = "about", again
    low, high = value.number.low, value.number.high
    if not marked and scale is None and not (60 <= low <= 300 and fan):
        return None
    # "2 c" is two cups on a card; nobody heats to it.
    if not marked and scale == "C" and text_at(atoms, value.end) == "c" and low < 20:
        return None
    sure = scale is not None
    words = said_words(atoms, start, end)
    chosen: Scale = scale or ("F" if high > 260 else "C")
    return SaidHeat(start, end, Heat(low, high, chosen, fan, bool(qualifier), words), sure)


def _marks(atoms: Sequence[Atom], value: Value) -> tuple[int | None, bool, Scale | None]:
    """Where the heat's marks end, whether "degrees" was said, and the scale; None if there are no marks."""
    at = value.end
    if atoms[at - 1].stop:
        return None, False, None
    marked = text_at(atoms, at) in _DEGREES
    if marked:
        at += 1
        if atoms[at - 1].stop and text_at(atoms, at) not in ("fahrenheit", "celsius", "centigrade"):
            return at, True, None
    scale = _SCALES.get(text_at(atoms, at))
    if scale is None:
        return (at, True, None) if marked else (None, False, None)
    if len(text_at(atoms, at)) == 1 and not marked and value.form != "figures":
        return None, False, None
    return at + 1, marked, scale


def _fan(atoms: Sequence[Atom], i: int) -> int | None:
    for words in _FANS:
        if says(atoms, i, *words):
            return i + len(words)
    return None


def _gas(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    if text_at(atoms, i) != "gas":
        return None
    at = i + 1 if text_at(atoms, i + 1) not in ("mark", "number", "no") else i + 2
    value = number_at(atoms, at)
    if value is None or value.form == "article" or not min(GAS_MARKS) <= value.number.low <= max(GAS_MARKS):
        return None
    if value.number.high > max(GAS_MARKS):
        return None
    heat = Heat(value.number.low, value.number.high, "gas", text=said_words(atoms, i, value.end))
    return SaidHeat(i, value.end, heat, True)


def _near(atoms: Sequence[Atom], i: int, words: frozenset[str], back: int = 12) -> bool:
    return any(atom.text in words for atom in atoms[max(i - back, 0) : i])


def _is_turn(atoms: Sequence[Atom], i: int) -> bool:
    before = [atom.text for atom in atoms[max(i - 6, 0) : i]]
    return any(w in _TURNS for w in before) and not any(w in ("oven", "heat", "temperature", "dial") for w in before)


def _bare(atoms: Sequence[Atom], start: int, at: int, value: Value, qualifier: str) -> SaidHeat | None:
    """ "preheat to 350": only behind "to" or "at", among words of heating, and a number that a dial has."""
    low, high = value.number.low, value.number.high
    if not (100 <= low and high <= 550 and low % 5 == 0 and high % 5 == 0):
        return None
    if text_at(atoms, start - 1) not in _BEFORE or not _near(atoms, start, _CUES):
        return None
    follows = text_at(atoms, value.end)
    if follows and not atoms[value.end - 1].stop and follows not in _AFTER and not follows[0].isdigit():
        return None
    if follows and follows[0].isdigit() and not atoms[value.end - 1].stop:
        return None
    chosen: Scale = "F" if high > 260 else "C"
    words = said_words(atoms, start, value.end)
    return SaidHeat(start, value.end, Heat(low, high, chosen, False, bool(qualifier), words), False, bare=True)


def settled(heats: Sequence[SaidHeat], atoms: Sequence[Atom], home: Scale | None) -> tuple[Heat, ...]:
    """The alternatives with their scales: one that was not said is the other one than its neighbour's, the same as
    its neighbour's in a fan oven, else ``home`` (the scale this film speaks in), else what the number allows.

    A domestic oven goes to about 260 °C (common practice, no source), so a higher number is °F in any film.
    """
    result: list[Heat] = []
    for n, said in enumerate(heats):
        heat = said.heat
        if not said.sure:
            sure = [other.heat.scale for other in heats if other.sure and other.heat.scale != "gas"]
            earlier = [h.scale for h in result if h.scale != "gas"]
            if heat.fan and (earlier or sure):
                scale: Scale = (earlier or sure)[-1]
            elif sure and len(heats) > 1:
                scale = "C" if sure[0] == "F" else "F"
            elif n and earlier:
                scale = "C" if earlier[-1] == "F" and heat.high <= 260 else earlier[-1]
            else:
                scale = _likely(heat, atoms, said.start, home)
            heat = replace(heat, scale=scale)
        result.append(heat)
    return tuple(result)


_PROBED = frozenset(
    "thermometer internal inside probe reads read center centre chicken thigh breast thickest meat".split()
)


def _likely(heat: Heat, atoms: Sequence[Atom], start: int, home: Scale | None) -> Scale:
    if heat.high > Fraction(260):
        return "F"
    if home is not None:
        return home
    around = frozenset(atom.text for atom in atoms[max(start - 12, 0) : start + 10])
    if around & _PROBED and heat.low > 100:
        return "F"  # nothing that is cooked through is hotter than boiling water inside
    return "C"
