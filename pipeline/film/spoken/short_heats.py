"""Bare numbers that are heats by what stands around them: "oven on. Three fifty.", "375 for 20"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from fractions import Fraction

from pipeline.film.spoken.ahead import ends, scale_ahead
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.heats import CUES, PROBES, SaidHeat, bare_heat, heat_at, near
from pipeline.film.spoken.numbers import FIRST_WORDS, value_at
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.scales import other_scale
from pipeline.film.spoken.short_times import RATHER, number_follows, short_time_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.stated import said_words
from pipeline.film.spoken.times import SaidTime, time_at
from pipeline.film.spoken.words import GO_ON, says
from pipeline.measure.heat import Heat, Scale
from pipeline.measure.record import replace


def short_heat_at(
    atoms: Sequence[Atom],
    i: int,
    before: object,
    gone: int,
    known: Mapping[Fraction, SaidHeat] | None = None,
    times: Set[int] = frozenset(),
    earlier: SaidHeat | None = None,
) -> SaidHeat | None:
    """A bare number that is a heat by what stands around it: the other scale of the heat before or behind it,
    a sentence of its own after words of the oven, or (``known``) one said elsewhere that stands before a
    time."""
    if not (atoms[i].text in FIRST_WORDS or atoms[i].text[0].isdecimal()):
        return None
    last = before if isinstance(before, SaidHeat) else None
    if last is not None and gone <= 1 and not last.sure and (other := _other_of(atoms, i, last)) is not None:
        return other
    if last is not None and gone <= _OVENS_APART and (other := _without_fan(atoms, i, last)) is not None:
        return other
    if last is not None and gone <= _SCALES_APART and (other := _on_the_other(atoms, i, last)) is not None:
        return other
    if last is not None and gone <= 3 and (other := _exactly(atoms, i, last)) is not None:
        return other
    ahead = text_at(atoms, i - 1)
    if (gas := _gas_again(atoms, i, ahead, earlier)) is not None:
        return gas
    heat = bare_heat(atoms, i) or (_probed(atoms, i, last) if last is not None and gone <= 12 else None)
    if heat is None:
        return None
    if last is not None and gone <= 6 and any(says(atoms, i - len(words), *words) for words in RATHER):
        return replace(heat, heat=replace(heat.heat, scale=last.heat.scale), sure=last.sure)  # "no, I mean three fifty"
    begins_alone = i == 0 or bool(atoms[i - 1].stop) or ahead in _SELF or (ahead == "is" and near(atoms, i, _OVEN, 2))
    alone = bool(atoms[heat.end - 1].stop) and begins_alone
    if known is not None:
        if heat.heat.low not in known or heat.heat.low != heat.heat.high:
            return None
        before_time = heat.end in times or (text_at(atoms, heat.end) == "for" and number_follows(atoms, heat.end + 1))
        same = known[heat.heat.low]
        begins = i == 0 or atoms[i - 1].stop == "." or ahead in _SELF
        before_time = before_time or (begins and says(atoms, heat.end, "for", "the"))
        goes_on = not atoms[heat.end - 1].stop and text_at(atoms, heat.end) in ("a", "the", "it", "you", "and")
        before_time = before_time or (ahead == "at" and goes_on)
        plain = alone and heat.heat.low >= 300 and heat.heat.low % 25 == 0
        if not (before_time or plain or (alone and near(atoms, i, CUES, 20))) or ahead in ("-", "to", "or"):
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
    if heat.heat.low >= 120 and text_at(atoms, heat.end) == "and" and time_at(atoms, heat.end + 1) is not None:
        return heat  # "low and slow, one fifty and four hours"
    if (i == 0 or atoms[i - 1].stop == ".") and atoms[heat.end - 1].stop == "," and heat.heat.low >= 140:
        lasts = time_at(atoms, heat.end + (text_at(atoms, heat.end) == "for"))
        if lasts is not None and 300 <= lasts.time.low <= 36000:
            return heat  # "Three seventy five, forty five minutes, in the middle of the oven."
    goes_on = gone <= 6 and isinstance(before, SaidHeat | SaidTime)
    if (goes_on or (heat.heat.low % 25 == 0 and heat.heat.low > 250)) and text_at(atoms, heat.end) == "for":
        if short_time_at(atoms, heat.end + 1, heat, 0) is not None:
            return heat  # "375 for 20"
        if 300 <= heat.heat.low <= 500 and heat.heat.low % 25 == 0 and time_at(atoms, heat.end + 1) is not None:
            return heat  # "go four hundred for twenty minutes"
        if goes_on and text_at(atoms, heat.end + 1) in ("the", "another"):
            return heat  # "400 for half an hour, then 350 for the last fifteen"
    if (i == 0 or atoms[i - 1].stop) and heat.heat.low >= 120 and text_at(atoms, heat.end) == "for":
        lasts = time_at(atoms, heat.end + 1)
        if lasts is not None and 300 <= lasts.time.low <= 36000:
            return heat  # "one seventy for an hour and ten minutes"
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
    if alone and heat.heat.low >= 140 and (near(atoms, i, _OVEN, 14) or near(atoms, i, _HOT_FAT, 3)):
        return heat
    return None


def told_twice(atoms: Sequence[Atom], i: int) -> SaidHeat | None:
    """A number that "that's" turns into the other scale's, as near as tongues do: "down it goes, one eighty, that's
    three fifty", "I'm looking for fifty seven, that's one thirty five"."""
    if not (atoms[i].text in FIRST_WORDS or atoms[i].text[0].isdecimal()):
        return None
    first = value_at(atoms, i)
    if first is None or first.form == "article" or first.end >= len(atoms):
        return None
    end = first.end + (2 if says(atoms, first.end, "you're", "after") else 0)
    at = end + (2 if says(atoms, end, "which", "is") else 1)
    said = text_at(atoms, at - 1) in ("that's", "is", "which's")
    if not said:
        at = end + (text_at(atoms, end) == "or")
    sure = heat_at(atoms, at) if said else None
    if sure is not None and sure.sure:
        heat = Heat(first.single, first.single, _OTHER[sure.heat.scale], text=said_words(atoms, i, first.end))
        # "no warmer than seventy eight. That's twenty six Celsius"
        return SaidHeat(i, end, heat, True, bare=True) if other_scale(sure.heat, heat) else None
    second = value_at(atoms, at)
    if second is None or second.form == "article" or atoms[first.end - 1].stop == ".":
        return None
    ends = second.end >= len(atoms) or atoms[second.end - 1].stop or text_at(atoms, second.end) in GO_ON
    a, b = first.number, second.number
    exact = said and a.low >= 45 and abs(a.low * Fraction(9, 5) + 32 - b.low) < 2 and a.low.denominator == 1
    if ends and exact and a.low == a.high and b.low == b.high:  # "a hundred and eighteen, which is two forty-four"
        return SaidHeat(i, end, Heat(a.low, a.low, "C", text=said_words(atoms, i, first.end)), True, bare=True)
    if not ends or a.low != a.high or b.low != b.high or a.low.denominator > 1 or b.low % 5:
        return None
    oven = 100 <= a.low <= 550 and a.low % 5 == 0
    if not oven and not (45 <= a.low <= 100 and (not said or near(atoms, i, PROBES | _IN_THE_MIDDLE, 30))):
        return None
    scale: Scale = "C" if a.low < b.low else "F"
    heat = Heat(a.low, a.low, scale, text=said_words(atoms, i, first.end))
    if not other_scale(heat, Heat(b.low, b.low, _OTHER[scale])):
        return None
    if not said and abs(a.low * Fraction(9, 5) + 32 - b.low) > _EXACT:
        return None
    return SaidHeat(i, end, heat, True, bare=True)


def _without_fan(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """The other oven's heat: "one eighty fan-forced, two hundred if it's not"."""
    heat = bare_heat(atoms, i)
    if not last.heat.fan or heat is None or not last.heat.low <= heat.heat.low <= last.heat.low * Fraction(5, 4):
        return None
    end = next((n for n in range(heat.end, min(heat.end + 5, len(atoms))) if atoms[n - 1].stop == "."), heat.end + 5)
    if not any(atom.text in _PLAIN_OVEN for atom in (*atoms[last.end : i], *atoms[heat.end : end])):
        return None
    return replace(heat, heat=replace(heat.heat, scale=last.heat.scale, fan=False), sure=last.sure)


def _other_of(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """The °C right behind a bare number of °F, to the degree as it is turned: "three sixty, one eighty two"."""
    if last.heat.fan or not _turned(last.heat.low, atoms, last.end):
        return None
    value = number_at(atoms, i)
    if value is None or value.number.low != value.number.high:
        return None
    words = said_words(atoms, i, value.end)
    return SaidHeat(i, value.end, replace(last.heat, low=value.single, high=value.single, scale="C", text=words), True)


def _on_the_other(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """The heat before on the scale that is named ahead: "and in Fahrenheit I looked it up, one forty-five", "in the
    other it's one eighty"."""
    named = scale_ahead(atoms, i)
    if named is None or last.heat.scale == "gas" or (last.sure and named == last.heat.scale):
        return None
    value = number_at(atoms, i)
    if value is None or value.form == "article" or value.number.low != value.number.high or not ends(atoms, value.end):
        return None
    mine = _OTHER[last.heat.scale] if named == "other" else named
    heat = Heat(value.single, value.single, mine, text=said_words(atoms, i, value.end))
    return SaidHeat(i, value.end, heat, True) if other_scale(replace(last.heat, scale=_OTHER[mine]), heat) else None


def _exactly(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """The °F of a sure number of °C, to the degree: "one hundred and eighteen, which is two forty-four"."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or not last.sure or last.heat.scale != "C":
        return None
    if abs(last.heat.low * Fraction(9, 5) + 32 - value.single) >= 2 or value.number.low != value.number.high:
        return None
    if goes_on(atoms, value.end) and text_at(atoms, value.end) not in GO_ON:
        return None
    heat = Heat(value.single, value.single, "F", text=said_words(atoms, i, value.end))
    return SaidHeat(i, value.end, heat, True)


def _gas_again(atoms: Sequence[Atom], i: int, ahead: str, earlier: SaidHeat | None) -> SaidHeat | None:
    """ "Gas mark seven for a quarter of an hour, then down to four"."""
    if earlier is None or earlier.heat.scale != "gas" or ahead != "to" or text_at(atoms, i - 2) not in _MOVED:
        return None
    value = number_at(atoms, i)
    if value is None or value.form == "article" or value.number.high > _HOTTEST_MARK or value.number.low == 0:
        return None
    if goes_on(atoms, value.end) and text_at(atoms, value.end) not in GO_ON | {"after", "once"}:
        return None
    heat = Heat(value.number.low, value.number.high, "gas", text=said_words(atoms, i, value.end))
    return SaidHeat(i, value.end, heat, True)


def _probed(atoms: Sequence[Atom], i: int, last: SaidHeat) -> SaidHeat | None:
    """A thermometer's number behind another: "wrap it when it hits 165, pull it at 203"."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or text_at(atoms, i - 1) not in ("at", "hits", "reads", "to", "says"):
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


_MOVED = word_set("down up back it")
_HOTTEST_MARK = 9
# An oven without a fan, and how many pieces its heat may stand behind that of one with a fan.
_PLAIN_OVEN = word_set("ordinary conventional normal regular standard static not isn't without no old hasn't plain")
_OVENS_APART, _SCALES_APART = 14, 20
_OTHER: dict[Scale, Scale] = {"C": "F", "F": "C", "gas": "C"}
# °F within which a number is another's °C turned, and nothing else.
_EXACT = 3
_IN_THE_MIDDLE = word_set("fattest thickest bone middle centre center")
_SELF = word_set("that's mine's it's say")
_SAYS_TWICE = word_set("that's or which's")
# Machine captions have no stops: what goes on behind "get that oven going three seventy five".
_BEHIND_OVEN = word_set("rack and now then so with in for while we you i put")
_HOT_FAT = word_set("hot hotter fat oil lard dripping")
_OVEN = word_set("oven oven's preheat preheated broiler grill grill's smoker smoker's fryer fryer's")
