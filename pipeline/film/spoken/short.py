"""Numbers whose unit went unsaid because it was plain: "two hundred of lentils", "oven on. Three fifty." """

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from fractions import Fraction

from pipeline.film.spoken.amounts import Said, said_words
from pipeline.film.spoken.atoms import Atom, word_set
from pipeline.film.spoken.heats import CUES, SaidHeat, bare_heat, heat_at, near, other_scale
from pipeline.film.spoken.numbers import FIRST_WORDS, number_at, typed
from pipeline.film.spoken.things import Larder, thing_behind
from pipeline.film.spoken.times import SaidTime
from pipeline.film.spoken.words import GO_ON, qualifiers_at, says, text_at
from pipeline.measure.duration import read_duration
from pipeline.measure.grammar import amount_of
from pipeline.measure.record import replace
from pipeline.measure.units import factor, unit

# How far back (in pieces) the unit that goes on may have been said.
_BACK = 14
# From here on a number "of" a food can only be grams.
_GRAMS = 30


def short_amount_at(atoms: Sequence[Atom], i: int, before: Sequence[Said], larder: Larder) -> Said | None:
    """ "ninety of whole wheat" in a list of grams, "227" right behind "half a pound of pork"."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or value.vague:
        return None
    stop = atoms[value.end - 1].stop
    last = before[-1] if before else None
    if value.single.denominator != 1:
        # Cups may go on behind another unit: "two cups of flour, one stick of butter and three quarters of buttermilk"
        last = next((said for said in reversed(before) if said.amounts[-1].unit.name == "cup"), last)
    told = last.amounts[-1] if last is not None and i - last.end <= _BACK else None
    if value.single.denominator != 1 and (told is None or told.unit.name != "cup" or value.single == Fraction(1, 2)):
        return None
    if not stop and text_at(atoms, value.end) == "of" and not says(atoms, value.end, "of", "the"):
        if text_at(atoms, value.end + 1) in ("my", "your", "our", "them", "those", "these", "you", "us"):
            return None
        thing = thing_behind(atoms, value.end, larder)
        if thing is None or thing.match is None or thing.match.how == "spelling":
            return None
        cups = value.single.denominator != 1
        metric = told is not None and (cups or told.unit.name in ("gram", "milliliter"))
        if not metric and value.single < _GRAMS:
            return None
        which = told.unit if told is not None and metric else unit("gram")
        return Said(i, value.end, (amount_of(value.number, which, said_words(atoms, i, value.end)),), guessed=True)
    if told is None or last is None or not stop or not atoms[i - 1].stop or value.number.low != value.number.high:
        return None
    if told.unit.name not in ("pound", "ounce", "pint", "quart", "fluid ounce") or told.low != told.high:
        return None
    metric_size = told.stated().middle()
    if i - last.end > 4 or abs(value.single - metric_size) > metric_size / 16 or factor(told.unit) == 1:
        return None
    which = unit("gram" if told.unit.kind == "mass" else "milliliter")
    return Said(i, value.end, (amount_of(value.number, which, said_words(atoms, i, value.end)),), guessed=True)


def short_heat_at(
    atoms: Sequence[Atom],
    i: int,
    last: SaidHeat | None,
    known: Mapping[Fraction, SaidHeat] | None = None,
    times: Set[int] = frozenset(),
) -> SaidHeat | None:
    """A bare number that is a heat by what stands around it: the other scale of the heat before or behind it,
    a sentence of its own after words of the oven, or (``known``) one said elsewhere that stands before a
    time."""
    if not (atoms[i].text in FIRST_WORDS or atoms[i].text[0].isdecimal()):
        return None
    heat = bare_heat(atoms, i)
    if heat is None:
        return None
    alone = bool(atoms[heat.end - 1].stop) and (i == 0 or bool(atoms[i - 1].stop) or text_at(atoms, i - 1) == "that's")
    if known is not None:
        if heat.heat.low not in known or heat.heat.low != heat.heat.high:
            return None
        before_time = heat.end in times or (text_at(atoms, heat.end) == "for" and _number_follows(atoms, heat.end + 1))
        same = known[heat.heat.low]
        ahead = text_at(atoms, i - 1)
        begins = i == 0 or atoms[i - 1].stop == "."
        before_time = before_time or (begins and says(atoms, heat.end, "for", "the"))
        goes_on = not atoms[heat.end - 1].stop and text_at(atoms, heat.end) in ("a", "the", "it", "you", "and")
        before_time = before_time or (ahead == "at" and goes_on)
        if not (before_time or (alone and near(atoms, i, CUES, 20))) or ahead in ("-", "to", "or"):
            return None
        return replace(heat, heat=replace(heat.heat, scale=same.heat.scale), sure=same.sure)
    if last is not None and last.sure and i - last.end <= 3 and other_scale(last.heat, heat.heat):
        counts = text_at(atoms, heat.end)[:1].isalpha() and not atoms[heat.end - 1].stop
        return None if counts and text_at(atoms, heat.end) not in GO_ON else heat
    after = heat.end + (2 if says(atoms, heat.end, "which", "is") else text_at(atoms, heat.end) in _SAYS_TWICE)
    behind = heat_at(atoms, after)
    if behind is not None and behind.sure and other_scale(behind.heat, heat.heat):
        return heat
    if heat.heat.low % 25 == 0 and heat.heat.low > 250 and short_time_at(atoms, heat.end + 1, heat) is not None:
        return heat  # "375 for 20"
    if heat.heat.low % 25 == 0 and heat.heat.low > 250 and near(atoms, i, _OVEN, 6):
        return heat if text_at(atoms, heat.end) in _BEHIND_OVEN else None
    if alone and heat.heat.low >= 140 and near(atoms, i, _OVEN, 14):
        return heat
    return None


_SAYS_TWICE = word_set("that's or which's")
# Machine captions have no stops: what goes on behind "get that oven going three seventy five".
_BEHIND_OVEN = word_set("rack and now then so with in for while we you i put")
_OVEN = word_set("oven preheat preheated broiler")


def short_time_at(atoms: Sequence[Atom], i: int, last: object) -> SaidTime | None:
    """Minutes that are not named: "375 for 20", "give it fifteen more", "mine takes forty two".

    ``last``: the statement before.
    """
    qualifier, at = qualifiers_at(atoms, i)
    if text_at(atoms, i) == "another":
        at = i + 1
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or value.single.denominator > 1:
        return None
    low, high, end = value.number.low, value.number.high, value.end
    if not 2 <= low <= high <= 120:
        return None
    ahead, follows = text_at(atoms, i - 1), text_at(atoms, end)
    more = follows == "more" and not atoms[end - 1].stop
    stopped = end + more >= len(atoms) or bool(atoms[end + more - 1].stop)
    if not (stopped or text_at(atoms, end + more) in _BEHIND_TIME):
        return None
    if ahead == "for" and isinstance(last, SaidHeat) and last.end == i - 1:
        told = True
    elif more and low >= 5:
        told = says(atoms, i - 2, "give", "it") or says(atoms, i - 2, "give", "them")
        told = told or (text_at(atoms, end + 1) == "at" and _number_follows(atoms, end + 2))
    else:
        told = ahead in ("takes", "took") and isinstance(last, SaidTime) and i - last.end <= 3
    if not told:
        return None
    end += more
    word = typed(low) if low == high else f"{typed(low)}-{typed(high)}"
    read = read_duration(f"{'about ' if qualifier == 'about' else ''}{word} min")
    return SaidTime(i, end, replace(read[0], text=said_words(atoms, i, end)), guessed=True) if read else None


_BEHIND_TIME = word_set("and then until till at so in or now i you we that's when")


def _number_follows(atoms: Sequence[Atom], i: int) -> bool:
    value = number_at(atoms, i)
    return value is not None and value.form != "article"
