"""Numbers whose unit went unsaid because it was plain: "two hundred of lentils", "oven on. Three fifty." """

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.dropped import grams_before
from pipeline.film.spoken.heats import CUES, SaidHeat, bare_heat, heat_at, near
from pipeline.film.spoken.numbers import FIRST_WORDS, typed
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.scales import other_scale
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, thing_behind
from pipeline.film.spoken.times import SaidTime, time_at
from pipeline.film.spoken.words import GO_ON, qualifiers_at, says
from pipeline.measure.duration import read_duration
from pipeline.measure.grammar import amount_of
from pipeline.measure.heat import Heat
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
        near_by = last is not None and i - last.end <= 4 and text_at(atoms, value.end + 1) not in ("a", "an")
        spoons = near_by and told is not None and told.unit.name in ("tablespoon", "teaspoon", "cup")
        metric = metric or (spoons and 2 <= value.single <= 12 and not thing.words.endswith("s"))
        if not metric and value.single < _GRAMS:
            return None
        which = told.unit if told is not None and metric else unit("gram")
        return Said(i, value.end, (amount_of(value.number, which, said_words(atoms, i, value.end)),), guessed=True)
    if not stop and value.single.denominator == 1:
        thing = grams_before(atoms, i, value.end, value.number, larder)
        if thing is not None:
            words = said_words(atoms, i, value.end)
            return Said(i, value.end, (amount_of(value.number, unit("gram"), words),), guessed=True)
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
    before: object,
    gone: int,
    known: Mapping[Fraction, SaidHeat] | None = None,
    times: Set[int] = frozenset(),
) -> SaidHeat | None:
    """A bare number that is a heat by what stands around it: the other scale of the heat before or behind it,
    a sentence of its own after words of the oven, or (``known``) one said elsewhere that stands before a
    time."""
    if not (atoms[i].text in FIRST_WORDS or atoms[i].text[0].isdecimal()):
        return None
    last = before if isinstance(before, SaidHeat) else None
    if last is not None and gone <= 1 and not last.sure and (other := _other_of(atoms, i, last)) is not None:
        return other
    ahead = text_at(atoms, i - 1)
    heat = bare_heat(atoms, i) or (_probed(atoms, i, last) if last is not None and gone <= 6 else None)
    if heat is None:
        return None
    begins_alone = i == 0 or bool(atoms[i - 1].stop) or text_at(atoms, i - 1) in _SELF
    alone = bool(atoms[heat.end - 1].stop) and begins_alone
    if known is not None:
        if heat.heat.low not in known or heat.heat.low != heat.heat.high:
            return None
        before_time = heat.end in times or (text_at(atoms, heat.end) == "for" and _number_follows(atoms, heat.end + 1))
        same = known[heat.heat.low]
        begins = i == 0 or atoms[i - 1].stop == "."
        before_time = before_time or (begins and says(atoms, heat.end, "for", "the"))
        goes_on = not atoms[heat.end - 1].stop and text_at(atoms, heat.end) in ("a", "the", "it", "you", "and")
        before_time = before_time or (ahead == "at" and goes_on)
        if not (before_time or (alone and near(atoms, i, CUES, 20))) or ahead in ("-", "to", "or"):
            return None
        return replace(heat, heat=replace(heat.heat, scale=same.heat.scale), sure=same.sure)
    if last is not None and last.sure and gone <= 3 and other_scale(last.heat, heat.heat):
        counts = text_at(atoms, heat.end)[:1].isalpha() and not atoms[heat.end - 1].stop
        return None if counts and text_at(atoms, heat.end) not in GO_ON else heat
    after = heat.end + (2 if says(atoms, heat.end, "which", "is") else text_at(atoms, heat.end) in _SAYS_TWICE)
    behind = heat_at(atoms, after)
    if behind is not None and behind.sure and other_scale(behind.heat, heat.heat):
        return heat
    if last is None and _turned(heat.heat.low, atoms, heat.end):
        return heat  # "three sixty, one eighty two"
    goes_on = gone <= 6 and isinstance(before, SaidHeat | SaidTime)
    if (goes_on or (heat.heat.low % 25 == 0 and heat.heat.low > 250)) and text_at(atoms, heat.end) == "for":
        if short_time_at(atoms, heat.end + 1, heat, 0) is not None:
            return heat  # "375 for 20"
        if 300 <= heat.heat.low <= 500 and heat.heat.low % 25 == 0 and time_at(atoms, heat.end + 1) is not None:
            return heat  # "go four hundred for twenty minutes"
        if goes_on and text_at(atoms, heat.end + 1) in ("the", "another"):
            return heat  # "400 for half an hour, then 350 for the last fifteen"
    timed = ahead == "at" and text_at(atoms, heat.end) == "for" and time_at(atoms, heat.end + 1) is not None
    if timed and heat.heat.low >= 120:
        return heat  # "whack it in at two thirty for twenty minutes"
    if goes_on and ahead == "to" and text_at(atoms, i - 2) in ("down", "up", "back"):
        follows = text_at(atoms, heat.end)
        return heat if atoms[heat.end - 1].stop or follows in GO_ON | {"after"} else None  # "475, down to 425 after"
    if goes_on and ahead == "at" and atoms[heat.end - 1].stop:
        return heat  # "ten minutes at 250, and ten at 220"
    if heat.heat.low % 25 == 0 and heat.heat.low > 250 and near(atoms, i, _OVEN, 6):
        return heat if text_at(atoms, heat.end) in _BEHIND_OVEN else None
    if alone and heat.heat.low >= 140 and near(atoms, i, _OVEN, 14):
        return heat
    return None


def _other_of(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """The °C right behind a bare number of °F, to the degree as it is turned: "three sixty, one eighty two"."""
    if last.heat.fan or not _turned(last.heat.low, atoms, last.end):
        return None
    value = number_at(atoms, i)
    if value is None or value.number.low != value.number.high:
        return None
    words = said_words(atoms, i, value.end)
    return SaidHeat(i, value.end, replace(last.heat, low=value.single, high=value.single, scale="C", text=words), True)


def _probed(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """A thermometer's number behind another: "wrap it when it hits 165, pull it at 203"."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or text_at(atoms, i - 1) not in ("at", "hits", "reads", "to"):
        return None
    low, high = value.number.low, value.number.high
    stopped = value.end >= len(atoms) or bool(atoms[value.end - 1].stop)
    if not stopped or low.denominator > 1 or not last.heat.low / 2 <= low <= high <= last.heat.low * 2:
        return None
    heat = Heat(low, high, last.heat.scale, text=said_words(atoms, i, value.end))
    return SaidHeat(i, value.end, heat, False, bare=True)


def _turned(low: Fraction, atoms: Sequence[Atom], end: int) -> bool:
    """Whether a number of °F is told again in °C right behind it."""
    if not 250 <= low <= 550:
        return False
    at = end + (text_at(atoms, end) in ("or", "so", "that's"))
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.number.low != value.number.high:
        return False
    ends = value.end >= len(atoms) or atoms[value.end - 1].stop or text_at(atoms, value.end) in GO_ON
    return bool(ends) and abs((low - 32) * Fraction(5, 9) - value.single) <= 5


_SELF = word_set("that's mine's it's say")
_SAYS_TWICE = word_set("that's or which's")
# Machine captions have no stops: what goes on behind "get that oven going three seventy five".
_BEHIND_OVEN = word_set("rack and now then so with in for while we you i put")
_OVEN = word_set("oven oven's preheat preheated broiler grill grill's smoker smoker's fryer fryer's")


def short_time_at(atoms: Sequence[Atom], i: int, last: object, gone: int) -> SaidTime | None:
    """Minutes that are not named: "375 for 20", "give it fifteen more", "mine takes forty two".

    ``last``: the statement before, which ended ``gone`` pieces ago.
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
    if isinstance(last, SaidTime) and gone <= 3 and (said := _corrected(atoms, i, end, last)) is not None:
        return said
    ahead, follows = text_at(atoms, i - 1), text_at(atoms, end)
    more = follows == "more" and not atoms[end - 1].stop
    stopped = end + more >= len(atoms) or bool(atoms[end + more - 1].stop)
    if not (stopped or text_at(atoms, end + more) in _BEHIND_TIME):
        return None
    measured = isinstance(last, SaidHeat | SaidTime)
    heat_follows = text_at(atoms, end + more) == "at" and _number_follows(atoms, end + more + 1)
    if ahead == "for" and isinstance(last, SaidHeat) and gone <= 1:
        told = True
    elif (more or text_at(atoms, i) == "another") and low >= 5:
        told = text_at(atoms, i - 2) in _GIVE and ahead in _IT
        told = told or (ahead in ("needs", "need", "wants", "takes") and stopped)
        told = told or heat_follows or (isinstance(last, SaidTime) and gone <= 8 and stopped)
    elif measured and ahead in ("last", "first", "final") and low >= 5:
        told = gone <= 4 and text_at(atoms, i - 2) == "the" and text_at(atoms, i - 3) in ("for", "after", "in")
    elif measured and heat_follows and low >= 5:
        told = gone <= 2
    else:
        told = ahead in ("takes", "took") and isinstance(last, SaidTime) and gone <= 3
    if not told:
        return None
    end += more
    word = typed(low) if low == high else f"{typed(low)}-{typed(high)}"
    read = read_duration(f"{'about ' if qualifier == 'about' else ''}{word} min")
    return SaidTime(i, end, replace(read[0], text=said_words(atoms, i, end)), guessed=True) if read else None


_GIVE = word_set("give gives giving given gave leave let")
_IT = word_set("it them her him that these those")
# "Twenty minutes, make that thirty."
_RATHER = (
    ("it's", "more", "like"),
    ("more", "like"),
    ("make", "that"),
    ("make", "it"),
    ("or", "rather"),
    ("i", "mean"),
)


def _corrected(atoms: Sequence[Atom], i: int, end: int, last: SaidTime) -> SaidTime | None:
    """ "I said 20 minutes, it's more like 25." """
    if not (end >= len(atoms) or atoms[end - 1].stop):
        return None
    if not any(says(atoms, i - len(words), *words) for words in _RATHER):
        return None
    value = number_at(atoms, i)
    named = next((word for word in reversed(last.time.text.split()) if word[:3] in ("sec", "min", "hou")), None)
    if value is None or named is None:
        return None
    read = read_duration(f"{typed(value.number.low)} {named.rstrip('.,')}")
    return SaidTime(i, end, replace(read[0], text=said_words(atoms, i, end)), guessed=True) if read else None


_BEHIND_TIME = word_set("and then until till at so in or now i you we that's when")


def _number_follows(atoms: Sequence[Atom], i: int) -> bool:
    value = number_at(atoms, i)
    return value is not None and value.form != "article"
