"""Minutes that are not named: "375 for 20", "give it fifteen more", "rest it for ten"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.heats import SaidHeat, near
from pipeline.film.spoken.numbers import typed
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import said_words
from pipeline.film.spoken.times import SaidTime
from pipeline.film.spoken.words import qualifiers_at, says
from pipeline.measure.duration import read_duration
from pipeline.measure.record import replace


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
    simmering = any(says(atoms, end, *words) for words in _SIMMERING)
    then = isinstance(last, SaidTime) and gone <= 6 and ahead == "then" and last.time.high <= 7200
    then = then and (stopped or text_at(atoms, end + more) in _SO_LONG)
    again = ahead == "again" and text_at(atoms, i - 2) == "then" and follows in ("when", "once", "after", "in")
    if not (stopped or simmering or then or again or text_at(atoms, end + more) in _BEHIND_TIME):
        return None
    if simmering:
        return _minutes(atoms, i, end, low, high, qualifier)  # "ten to twelve at the boil"
    if then:
        return _minutes(atoms, i, end + more, low, high, qualifier, last)  # "forty minutes and then twenty"
    measured = isinstance(last, SaidHeat | SaidTime)
    begins = i > 0 and (bool(atoms[i - 1].stop) or ahead in ("then", "for"))  # not "then add three more"
    heat_follows = text_at(atoms, end + more) == "at" and number_follows(atoms, end + more + 1)
    if ahead == "for" and ((isinstance(last, SaidHeat) and gone <= 1) or (low >= 5 and _left_to(atoms, i - 1))):
        told = True
    elif more and low < 5 and stopped and ahead == "for" and isinstance(last, SaidTime) and gone <= 9:
        told = True  # "an hour on the simmer, then I bank it down for two more"
    elif (more or text_at(atoms, i) == "another") and low >= 5:
        told = text_at(atoms, i - 2) in _GIVE and ahead in _IT
        told = told or (ahead in ("needs", "need", "wants", "takes") and stopped)
        told = told or heat_follows or (isinstance(last, SaidTime) and gone <= 8 and stopped)
    elif (text_at(atoms, i) == "another" or (more and begins)) and isinstance(last, SaidTime):
        told = gone <= 8 and stopped and last.time.high <= 3600  # "three minutes, flip, and another three"
    elif isinstance(last, SaidTime) and gone <= 12 and ahead in ("at", "before", "after") and last.time.low > low * 60:
        told = stopped and near(atoms, i, _LOOKS, 8)  # "eighteen minutes, give them a shake at nine"
    elif ahead == "it" and text_at(atoms, i - 2) in _GIVE and low >= 10 and low == high:
        told = True  # "give it twenty and turn it down"
    elif ahead == "every" and isinstance(last, SaidTime):
        told = gone <= 4  # "eight minutes, turning every two"
    elif measured and ahead in ("last", "first", "final") and low >= 5:
        told = (
            gone <= 9
            and text_at(atoms, i - 2) == "the"
            and (stopped or follows in _SO_LONG or text_at(atoms, i - 3) in ("for", "after", "in"))
        )
    elif text_at(atoms, i - 2) == "then" and ahead == "again" and isinstance(last, SaidTime):
        told = low >= 5  # "forty five minutes, and then again thirty when they are shaped"
    elif measured and heat_follows and low >= 5:
        told = gone <= 2
    else:
        told = ahead in ("takes", "took") and isinstance(last, SaidTime) and gone <= 3
    if not told:
        return None
    return _minutes(atoms, i, end + more, low, high, qualifier, last)


def _minutes(
    atoms: Sequence[Atom], start: int, end: int, low: Fraction, high: Fraction, qualifier: str, last: object = None
) -> SaidTime | None:
    """Minutes; seconds where it goes on from seconds ("thirty seconds, stir, then another thirty")."""
    seconds = isinstance(last, SaidTime) and last.time.high <= 120 and "sec" in last.time.text
    hours = isinstance(last, SaidTime) and high < 5 and bool(_HOURS & set(last.time.text.split()))
    word = typed(low) if low == high else f"{typed(low)}-{typed(high)}"
    read = read_duration(
        f"{'about ' if qualifier == 'about' else ''}{word} {'s' if seconds else 'h' if hours else 'min'}"
    )
    return SaidTime(start, end, replace(read[0], text=said_words(atoms, start, end)), guessed=True) if read else None


_HOURS = word_set("hour hours hr hrs")
_LOOKS = word_set("shake check turn flip baste look peek stir rotate toss start open door lid foil")
_SO_LONG = word_set("with without under on in at off uncovered to")
# What goes on for minutes.
_SIMMERING = (("at", "the", "boil"), ("at", "a", "simmer"), ("a", "side"), ("each", "side"), ("per", "side"))


def _left_to(atoms: Sequence[Atom], i: int) -> bool:
    """Whether something is left to itself or to the oven right before ``i``: "rest it for", "back in for"."""
    at = i - 1
    if text_at(atoms, at) in _IT and text_at(atoms, at - 1) in _RESTS:
        return True
    if text_at(atoms, at) == "go" and text_at(atoms, at - 1) in _IT:
        return True  # "let it go for twenty"
    back = text_at(atoms, at) == "in" and text_at(atoms, at - 1) in ("back", "go", "goes")
    return back or text_at(atoms, at) in _RESTS


# What is done for minutes; nobody rests or simmers "for six" people.
_RESTS = word_set(
    "rest rests rested bake bakes simmer simmers steam steams chill chills soak soaks boil boils roast proof prove "
    "knead blanch"
)
_GIVE = word_set("give gives giving given gave leave let")
_IT = word_set("it them her him that these those")
#: "Twenty minutes, make that thirty."
RATHER = (
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
    if not any(says(atoms, i - len(words), *words) for words in RATHER):
        return None
    value = number_at(atoms, i)
    named = next((word for word in reversed(last.time.text.split()) if word[:3] in ("sec", "min", "hou")), None)
    if value is None or named is None:
        return None
    read = read_duration(f"{typed(value.number.low)} {named.rstrip('.,')}")
    return SaidTime(i, end, replace(read[0], text=said_words(atoms, i, end)), guessed=True) if read else None


_BEHIND_TIME = word_set("before without and then until till at so in or now i you we that's when")


def number_follows(atoms: Sequence[Atom], i: int) -> bool:
    """Whether a number stands at ``i``."""
    value = number_at(atoms, i)
    return value is not None and value.form != "article"
