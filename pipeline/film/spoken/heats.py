"""Heats in speech: "four fifty degrees", "230 Celsius", "gas mark six", "160 fan", "bake it at 350"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from pipeline.film.spoken.ahead import SCALES
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.fans import fan_at, fan_before
from pipeline.film.spoken.numbers import FIRST_WORDS, Value, value_at
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import said_words
from pipeline.film.spoken.told import scale_told
from pipeline.film.spoken.words import loosely_after, qualifiers_at, says, unit_at
from pipeline.measure.heat import GAS_MARKS, Heat, Scale
from pipeline.measure.record import replace

# A domestic oven goes to about this many °C (common practice, no source): a higher number is °F in any film.
HOTTEST_C = 260

_DEGREES = frozenset(("degrees", "degree", "deg", "°", "º", "˚"))

# Words that make a bare number behind "to" or "at" a heat, and words that make "degrees" a turn.
CUES = word_set(
    "core oven oven's ovens preheat preheated heat bake baked baking roast roasted roasting broil broiler temperature "
    "thermostat thermometer degrees internal dial fryer smoker grill oil crank cranked turn turned reduce lower drop "
    "hot probe knock knocked dropped preheating safe inside center centre smoker's grill's fryer's oil's pit pit's "
    "barbecue broiler's set setting smoke smoking temp holding hold running dial's thermometer's probe's stove "
    "airfryer fryer range aga burner coals charcoal embers fan fan's"
)
_BEFORE = word_set(
    "to at of hits hit reads read reach reaches reached say says showing around about oven past reading become becomes "
    "on"
)
# "When it hits one sixty five": what is told off a thermometer, which has more than a dial's fives.
_TOLD = word_set("hits hit reads read reach reaches reached say says showing reading")
_TELLS = word_set(
    "should to mine yours it meat probe thermometer oil syrup sugar inside temperature temp centre center thigh "
    "brisket they"
)
_THICK = word_set("thick thickest fattest middle centre center")
_MOVES = word_set("bring brings take takes crank turn bump kick whack drop knock push ramp put bringing taking turning")
# "It goes low at two seventy five."
_GOES = word_set("low high hot slow go goes cook cooks run runs it them going")
_GAUGES = word_set("thermometer probe dial gauge")
PROBES = word_set("probe thermometer thermometers internal core")
SMOKES = word_set("smoke smoker smoker's brisket barbecue bbq pit wrap wrapped ribs")
_AFTER = word_set(
    "for until till and or then with in on while about that's that which so now because if when it's it the but you we "
    "i to from before after once as not maybe just fan convection depending is i've i'm we've they"
)
# "Eight to ten minutes at three seventy five", "then ten more at 160".
_TIMED = word_set("minutes minute mins min hours hour hrs hr more")
_TURNS = word_set("turn turned rotate rotated spin angle tilt swivel flip")


class SaidHeat(NamedTuple):
    """One heat: ``heat.scale`` is a guess where ``sure`` is false. ``bare``: even "degrees" went unsaid."""

    start: int
    end: int
    heat: Heat
    sure: bool
    bare: bool = False


def heat_at(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    """The heat or range that begins at ``i``, or None. Where no scale is said it is °F above 260 and °C
    below, not sure: see :func:`settled`."""
    first = _gas(atoms, i) or _degrees(atoms, i)
    if first is None or first.bare or first.heat.low != first.heat.high or atoms[first.end - 1].stop:
        return first
    # "350 degrees to 375 degrees", "-18 °C to -34 °C"
    joined = text_at(atoms, first.end)
    second = _degrees(atoms, first.end + 1) if joined in ("to", "-", "–") or _between(atoms, i, joined) else None
    if second is None or second.bare or second.heat.low != second.heat.high:
        return first
    if first.heat.scale == "gas" or (first.sure and second.sure and first.heat.scale != second.heat.scale):
        return first
    sure = first if first.sure else second
    low, high = sorted((first.heat.low, second.heat.low))
    words = said_words(atoms, first.start, second.end)
    return SaidHeat(first.start, second.end, replace(sure.heat, low=low, high=high, text=words), sure.sure)


def _between(atoms: Sequence[Atom], i: int, joined: str) -> bool:
    return joined == "and" and "between" in (text_at(atoms, i), text_at(atoms, i - 1))


def _degrees(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    start, fan = i, False
    if (after := fan_at(atoms, i)) and text_at(atoms, i) in ("fan", "convection"):
        fan, i = True, after
        if text_at(atoms, i) in ("at", "to"):
            i += 1
    if text_at(atoms, i) == "between":
        i += 1
    qualifier, at = qualifiers_at(atoms, i)
    below = text_at(atoms, at) in ("minus", "negative")
    value = number_at(atoms, at + below)
    if value is not None and value.number.low < value.number.high and _on_two_scales(value):
        value = value_at(atoms, at + below)  # "seventy four, or one sixty five if yours is in Fahrenheit"
    if value is None or value.form == "article" or value.vague or value.number.low.denominator > 10:
        return None
    end, marked, scale = _marks(atoms, at + below, value)
    if end is None:
        fanned = None if atoms[value.end - 1].stop else fan_at(atoms, value.end)
        if not fan and not fanned:
            return None if below else _bare(atoms, start, value, qualifier)
        end = value.end
    if value.loose and value.number.low > 900:
        return None
    if marked and scale is None and _is_turn(atoms, start):
        return None
    tail = fan_at(atoms, end) if atoms[end - 1].stop != "." else None
    if tail is not None and atoms[end - 1].stop and tail < len(atoms) and not atoms[tail - 1].stop:
        tail = None
    if tail is not None:
        fan, end = True, tail
        if scale is None and (named := SCALES.get(text_at(atoms, end))):
            scale, end = named, end + 1
    if again := loosely_after(atoms, end):
        qualifier, end = "about", again
    low, high = value.number.low, value.number.high
    if not marked and scale is None and not (60 <= low <= 300 and fan):
        return None
    # "2 c" is two cups on a card; nobody heats to it.
    if not marked and scale == "C" and text_at(atoms, value.end) == "c" and low < 20:
        return None
    chosen: Scale = scale or ("F" if high > HOTTEST_C else "C")
    if below:
        low, high = -high, -low
    heat = Heat(low, high, chosen, fan, bool(qualifier), said_words(atoms, start, end))
    return SaidHeat(start, end, heat, scale is not None)


def _on_two_scales(value: Value) -> bool:
    """Whether what looks like a range is one heat in °C and in °F: no range is so wide."""
    return value.number.low >= 45 and value.number.high >= value.number.low * Fraction(3, 2)


def _marks(atoms: Sequence[Atom], start: int, value: Value) -> tuple[int | None, bool, Scale | None]:
    """Where the heat's marks end, whether "degrees" was said, and the scale; None if there are no marks."""
    at = value.end
    if atoms[at - 1].stop:
        told = text_at(atoms, at + 1)
        if atoms[at - 1].stop == "," and len(told) > 1 and told in SCALES and says(atoms, at, "that's", told):
            return at + 2, True, SCALES[told]  # "four hundred and fifty, that's Fahrenheit"
        scale_name = text_at(atoms, at)
        ends = at + 1 >= len(atoms) or bool(atoms[at].stop)
        fan = fan_at(atoms, at) if atoms[at - 1].stop == "," and 100 <= value.single <= 260 else None
        if fan is not None and (fan >= len(atoms) or atoms[fan - 1].stop):
            return at, True, None  # "one sixty, fan, and"
        if atoms[at - 1].stop == "," and len(scale_name) > 1 and scale_name in SCALES and ends:
            return at + 1, True, SCALES[scale_name]  # "four twenty five, Fahrenheit"
        before = scale_told(atoms, start, at) if 30 <= value.single <= 600 else None
        if before is not None and before[0] == "C" and value.single > HOTTEST_C:
            return at, True, None  # "Three seventy-five. That's Celsius? No, Fahrenheit"
        return (at, False, before[0]) if before is not None else (None, False, None)
    marked = text_at(atoms, at) in _DEGREES or _inside(atoms, at, value)
    if text_at(atoms, at) in _DEGREES:
        at += 1
        if atoms[at - 1].stop and text_at(atoms, at) not in ("fahrenheit", "celsius", "centigrade"):
            return at, True, None
    weighed = not marked and (unit := unit_at(atoms, at, False)) is not None and unit[0].kind in ("mass", "volume")
    if not weighed and 30 <= value.single <= 600 and (named := scale_told(atoms, start, at)) is not None:
        return named[1], marked, named[0]
    if not marked and text_at(atoms, at) in ("oven", "grill") and 100 <= value.single <= 550 and not value.single % 5:
        return at, True, None  # "a four fifty oven"
    scale = SCALES.get(text_at(atoms, at))
    letter = len(text_at(atoms, at)) == 1
    if scale is None or (letter and at + 1 < len(atoms) and atoms[at + 1].glued):  # "06F6" is a star's name
        return (at, True, None) if marked else (None, False, None)
    if letter and not marked and value.form != "figures" and text_at(atoms, start - 1) not in ("at", "to"):
        return None, False, None
    return at + 1, marked, scale


def _inside(atoms: Sequence[Atom], end: int, value: Value) -> bool:
    """ "Until it's a hundred and ninety five inside", "one seventy five in the thick part"."""
    thick = says(atoms, end, "in", "the") and text_at(atoms, end + 2) in _THICK
    if not (thick or text_at(atoms, end) in ("inside", "internal")):
        return False
    if not 45 <= value.number.low <= value.number.high <= 215:
        return False
    follows = text_at(atoms, end + 1)
    return thick or not follows or bool(atoms[end].stop) or follows in ("and", "then", "for", "so")


def _gas(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    if text_at(atoms, i) == "gas":
        at = i + 1 if text_at(atoms, i + 1) not in ("mark", "number", "no") else i + 2
    elif text_at(atoms, i) in ("mark", "regulo"):
        at = i + 1  # "hot oven, mark seven"
    else:
        return None
    value = number_at(atoms, at)
    if value is None or value.form == "article" or not min(GAS_MARKS) <= value.number.low <= max(GAS_MARKS):
        return None
    if value.number.high > max(GAS_MARKS):
        return None
    if text_at(atoms, i) != "gas":
        timed = text_at(atoms, value.end) == "for" and number_at(atoms, value.end + 1) is not None
        if not timed and not near(atoms, i, CUES):
            return None
    heat = Heat(value.number.low, value.number.high, "gas", text=said_words(atoms, i, value.end))
    return SaidHeat(i, value.end, heat, True)


def near(atoms: Sequence[Atom], i: int, words: frozenset[str], back: int = 12) -> bool:
    return any(atom.text in words for atom in atoms[max(i - back, 0) : i])


def _is_turn(atoms: Sequence[Atom], i: int) -> bool:
    if any(atom.text == "outside" for atom in atoms[i : i + 6]):
        return True  # the weather's
    before = [atom.text for atom in atoms[max(i - 6, 0) : i]]
    return any(w in _TURNS for w in before) and not any(w in ("oven", "heat", "temperature", "dial") for w in before)


def bare_heat(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    """A number on its own that a dial has, 100 to 550 in fives: a heat only if something around it says
    so."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or value.vague:
        return None
    low, high = value.number.low, value.number.high
    if not (low >= 100 and high <= 550 and low % 5 == 0 and high % 5 == 0):
        return None
    chosen: Scale = "F" if high > HOTTEST_C else "C"
    words = said_words(atoms, i, value.end)
    heat = Heat(low, high, chosen, fan_before(atoms, i), False, words)
    return SaidHeat(i, value.end, heat, False, bare=True)


def _bare(atoms: Sequence[Atom], start: int, value: Value, qualifier: str) -> SaidHeat | None:
    """ "preheat to 350": only behind "to" or "at", among words of heating, and a number that a dial has."""
    low, high = value.number.low, value.number.high
    ahead, before = text_at(atoms, start - 1), text_at(atoms, start - 2)
    sought = says(atoms, start - 2, "looking", "for") or says(atoms, value.end, "you're", "after")
    baked = says(atoms, value.end, "in", "the", "oven") and low >= 100
    if (pulled := _pulled(atoms, start, value)) is not None:
        return pulled
    if not (ahead in _BEFORE or sought or baked) or not _dialled(atoms, start, value):
        return None
    if sought and not near(atoms, start, PROBES):
        return None
    told = ahead in _TOLD and before in _TELLS
    gauged = says(atoms, value.end, "on", "the") and text_at(atoms, value.end + 2) in _GAUGES
    beside_time = ahead == "at" and before in _TIMED
    put_in = ahead == "at" and ((before in ("in", "on") and low >= 150) or (before in _GOES and low >= 200))
    moved = ahead == "to" and before in ("up", "down", "back") and near(atoms, start, _MOVES, 6)
    if not (beside_time or told or gauged or sought or baked or put_in or moved or near(atoms, start, CUES)):
        return None
    follows = text_at(atoms, value.end)
    more = follows in FIRST_WORDS and low % 25 == 0  # "in at three fifty forty minutes covered"
    if follows and not atoms[value.end - 1].stop and follows not in _AFTER and not more:
        return None
    chosen: Scale = "F" if high > HOTTEST_C else "C"
    end, fan = value.end, fan_before(atoms, start)
    if atoms[end - 1].stop == "," and (after := fan_at(atoms, end)) and (after >= len(atoms) or atoms[after - 1].stop):
        end, fan = after, True  # "oven one sixty, full fan"
    heat = Heat(low, high, chosen, fan, bool(qualifier), said_words(atoms, start, end))
    return SaidHeat(start, end, heat, False, bare=True)


def _pulled(atoms: Sequence[Atom], start: int, value: Value) -> SaidHeat | None:
    """ "Pull it at two oh three", "wrap it when it's reading one sixty": meat is taken off by its thermometer."""
    if not any(says(atoms, start - 3, verb, it, at) for verb in PULLS for it in _IT for at in ("at", "around")):
        read = text_at(atoms, start - 1) == "reading" and text_at(atoms, start - 2) in ("it's", "is", "reading")
        if not (read and near(atoms, start, PULLS, 9)):
            return None
    low, high = value.number.low, value.number.high
    if low.denominator > 1 or not 45 <= low <= high <= 212 or 100 < low < 110:
        return None
    follows = text_at(atoms, value.end)
    if follows and not atoms[value.end - 1].stop and follows not in _AFTER:
        return None
    heat = Heat(low, high, "F" if low > 100 else "C", text=said_words(atoms, start, value.end))
    return SaidHeat(start, value.end, heat, low > 100, bare=True)


#: What is done with meat when its inside is hot enough.
PULLS = word_set("pull pulls pulled pulling wrap wrapped yank")
_IT = word_set("it them her him mine")


def _dialled(atoms: Sequence[Atom], start: int, value: Value) -> bool:
    """Whether a dial or a thermometer has this number: 100 to 550 in fives, any from 45 where one is spoken of."""
    low, high = value.number.low, value.number.high
    if low >= 100 and high <= 550 and low % 5 == 0 and high % 5 == 0:
        return True
    probed = text_at(atoms, start - 1) in _TOLD or near(atoms, start, PROBES)
    return probed and 45 <= low <= high <= 300 and low.denominator == 1 and near(atoms, start, PROBES | SMOKES)
