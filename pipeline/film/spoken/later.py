"""Bare numbers later on that are so much more, or a part, of what was measured or timed before: "I'm holding back one
more", "two of those go in now", "of which eighty goes in the dough", "mine needed thirty-six, so check at thirty"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import Counted
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.numbers import Value, typed
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.times import SaidTime
from pipeline.film.spoken.words import GO_ON, qualifiers_at, says
from pipeline.measure.duration import read_duration
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of

# How far back (in pieces) what goes on may have been said, and how much more or less it is.
_BACK, _NEAR, _FACTOR, _MANY = 24, 6, 4, 12
# Behind a bare number these say that it is of what was told before, and before it.
_OF_THEM = (("of", "those"), ("of", "them"), ("of", "these"))
_MORE = (("more",), ("left",), ("in", "total"), ("in", "all"), ("altogether",), ("to", "start"), ("to", "begin"))
_USED = (
    ("goes",), ("go", "in"), ("go", "on"), ("on", "top"), ("in", "the"), ("into", "the"), ("for", "the"), ("first",),
    ("now",), ("later",),
)  # fmt: skip
_OTHERS = (("the", "other"), ("the", "remaining"), ("of", "which"), ("the", "last"), ("another",))
_OPEN = GO_ON | word_set("because cause which that's goes go comes when once first now later again than as also left")
_PEOPLE = word_set("are is were was have has had came come want said")


def more_at(atoms: Sequence[Atom], i: int, before: Sequence[Found]) -> Found | None:
    """The bare number at ``i`` of what was measured or counted before."""
    qualifier, at = qualifiers_at(atoms, i)
    at = i if text_at(atoms, i) in ("another", "other") else at
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or atoms[at].text in ("another", "other"):
        return None
    end = value.end
    them = next((words for words in _OF_THEM if goes_on(atoms, end) and says(atoms, end, *words)), None)
    more = next((words for words in _MORE if goes_on(atoms, end) and says(atoms, end, *words)), None)
    other = value.single > 1 and any(says(atoms, i - len(words), *words) for words in _OTHERS)
    used = goes_on(atoms, end) and any(says(atoms, end, *words) for words in _USED)
    last = before[-1] if before else None
    begins = i > 0 and (bool(atoms[i - 1].stop) or text_at(atoms, i - 1) in ("and", "then"))
    near = last is not None and i - max(last.own_end, last.end) <= _NEAR
    on = value.single > 1 and used and begins and near and last is not None and isinstance(last.said, Said)
    if not (them or more or other or on) or text_at(atoms, i - 1) in ("not", "all"):
        return None
    if them and value.single == 1 and not any(says(atoms, end + len(them), *words) for words in _USED):
        return None  # "one of those with a little blade"
    end += len(them or more or ())
    if goes_on(atoms, end) and text_at(atoms, end) not in _OPEN:
        return None
    if other and not them and goes_on(atoms, end) and text_at(atoms, end) in _PEOPLE:
        return None
    total = more is not None and more[-1] in ("total", "all", "altogether")
    part = bool(them) or says(atoms, i - 2, "of", "which") or (on and not (more or other))
    old = _last(before, i, value, part, total)
    if old is None or (them and isinstance(old.said, Counted)):
        return None
    said = old.said
    words = said_words(atoms, i, end)
    thing = None if old.thing is None else replace(old.thing, start=i, end=end)
    if isinstance(said, Counted):
        amount = amount_of(value.number, said.amount.unit, words, qualifier)
        mine = replace(said.thing, start=i, end=end)
        return Found(Counted(i, end, amount, "", mine), i, end, end, mine)
    assert isinstance(said, Said)
    amount = amount_of(value.number, said.amounts[0].unit, words, qualifier)
    return Found(Said(i, end, (amount,), guessed=True), i, end, end, thing)


def _last(before: Sequence[Found], i: int, value: Value, part: bool, total: bool) -> Found | None:
    """The last amount that a number may go on from; ``part``: it is a part of it, ``total``: it is all of many."""
    for found in reversed(before[-3:]):
        if i - found.own_end > _BACK or isinstance(found.said, SaidTime):
            return None
        if not isinstance(found.said, Said | Counted):
            continue
        old = found.said.amounts[0] if isinstance(found.said, Said) else found.said.amount
        if old.unit.kind == "length":
            return None
        low, high = value.number.low, value.number.high
        if total and high > old.high:
            return found if high <= old.high * _MANY and (high / old.high).denominator == 1 else None
        if high <= old.high if part else (old.low <= low * _FACTOR and high <= old.high * _FACTOR):
            return found
    return None


# Before a bare number of minutes that goes on from a time, behind a time.
_TIMED = word_set("for in at by before after needed needs need took takes take wants again go went gave")
_DONE = word_set("give gives gave leave let knead bake boil fry roast simmer steam rest chill toast poach cook grill")
_CUT = word_set("timer cut divide split fold slice break roll halve into serves feeds people of us page step number")
_IT = word_set("it them her him that these those mine")


def time_again_at(atoms: Sequence[Atom], i: int, before: Sequence[Found]) -> SaidTime | None:
    """The bare number at ``i`` that is another time, in the unit of the one told before it."""
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or value.single.denominator > 1 or value.single < 2:
        return None
    last = next((found for found in reversed(before[-2:]) if isinstance(found.said, SaidTime)), None)
    if last is None or i - last.own_end > _BACK or not isinstance(last.said, SaidTime):
        return None
    unit = _unit(last.said)
    ahead, two = text_at(atoms, i - 1), text_at(atoms, i - 2)
    told = (ahead in _TIMED and not atoms[i - 1].stop) or (ahead in _IT and two in _DONE)
    told = told or (ahead == "do" and two == "can")
    more = goes_on(atoms, value.end) and text_at(atoms, value.end) == "more"
    told = told or (ahead in ("then", "and") and more) or (ahead == "first" and value.single >= 5)
    if unit is None or not told or any(atom.text in _CUT for atom in atoms[max(i - 6, 0) : i]):
        return None
    end = value.end + more
    if goes_on(atoms, end) and text_at(atoms, end) not in _OPEN | {"without", "uncovered", "covered"}:
        return None
    if goes_on(atoms, end) and text_at(atoms, end) in ("of", "goes"):
        return None  # "in three goes"
    seconds, name = unit
    low, high = value.number.low * seconds, value.number.high * seconds
    if not (last.said.time.low <= low * _FACTOR and high <= last.said.time.high * _FACTOR):
        return None
    word = typed(value.number.low) if low == high else f"{typed(value.number.low)}-{typed(value.number.high)}"
    read = read_duration(f"{'about ' if qualifier == 'about' else ''}{word} {name}")
    return SaidTime(i, end, replace(read[0], text=said_words(atoms, i, end)), guessed=True) if read else None


def _unit(said: SaidTime) -> tuple[Fraction, str] | None:
    """The seconds of the unit that a time was told in, and its name."""
    words = said.time.text.split()
    for stem, seconds, name in (("sec", 1, "s"), ("min", 60, "min"), ("hour", 3600, "h"), ("hr", 3600, "h")):
        if any(word.startswith(stem) for word in words):
            return Fraction(seconds), name
    return (Fraction(60), "min") if said.guessed else None
