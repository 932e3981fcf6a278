"""Times in speech: "an hour and a half", "two to three minutes", "half an hour", "overnight"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.no_times import KEEPS, is_trap
from pipeline.film.spoken.numbers import Value, fraction_at, typed, value_at
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import small_at
from pipeline.film.spoken.stated import said_words
from pipeline.film.spoken.upper import upper_at
from pipeline.film.spoken.words import GO_ON, loosely_after, qualifiers_at, says
from pipeline.measure.duration import SECONDS, Name, read_duration
from pipeline.measure.heat import Duration
from pipeline.measure.numbers import Number
from pipeline.measure.record import replace

#: Units of time as they are said.
UNITS: dict[str, Name] = {
    "second": "s", "seconds": "s", "sec": "s", "secs": "s", "minute": "min", "minutes": "min", "min": "min",
    "mins": "min", "hour": "h", "hours": "h", "hr": "h", "hrs": "h", "day": "day", "days": "day", "week": "week",
    "weeks": "week", "month": "month", "months": "month",
}  # fmt: skip
_TYPED: dict[Name, str] = {"s": "s", "min": "min", "h": "h", "day": "days", "week": "weeks", "month": "months"}
# What is left all night.
_COLD = word_set(
    "fridge refrigerator soak soaking soaks marinate marinating chill rise rises prove proof counter brine"
)


class SaidTime(NamedTuple):
    """One time, and where it begins and ends in the atoms; ``guessed``: its minutes were not named."""

    start: int
    end: int
    time: Duration
    guessed: bool = False


def time_at(atoms: Sequence[Atom], i: int) -> SaidTime | None:
    """The time that begins at ``i``, or None. "Wait a second", "one day", "half an hour ago" are none."""
    if text_at(atoms, i) == "within" and text_at(atoms, i + 1) == "the":
        return _the_hour(atoms, i + 2)
    if says(atoms, i, "every", "hour") or (text_at(atoms, i) == "full" and text_at(atoms, i - 1) == "the"):
        return _the_hour(atoms, i + 1)
    if text_at(atoms, i) in ("last", "final") and says(atoms, i - 2, "for", "the"):
        return _last_hour(atoms, i + 1)
    first = _one(atoms, i)
    return None if first is None else _up_to(atoms, first) or first


def _the_hour(atoms: Sequence[Atom], i: int) -> SaidTime | None:
    """ "Within the hour", "the full hour"."""
    if text_at(atoms, i) not in ("hour", "week"):
        return None
    if text_at(atoms, i) == "week":
        keeps = any(atom.text in KEEPS for atom in atoms[max(i - 8, 0) : i])
        return _built(atoms, i, i + 1, "1 week", False) if keeps else None
    return _timed(atoms, i, Value(Number(Fraction(1), Fraction(1)), i, "words"), "", i)


def _last_hour(atoms: Sequence[Atom], i: int) -> SaidTime | None:
    """ "The pudding goes in for the last hour and a half"."""
    if text_at(atoms, i) != "hour" or any(
        atom.text in ("been", "was", "have", "has") for atom in atoms[max(i - 9, 0) : i]
    ):
        return None
    found = _timed(atoms, i, Value(Number(Fraction(1), Fraction(1)), i, "words"), "", i)
    return found if found is not None and _stopped(atoms, found.end) else None


def _one(atoms: Sequence[Atom], i: int) -> SaidTime | None:
    if text_at(atoms, i) == "overnight" or says(atoms, i, "over", "night"):
        end = i + (1 if text_at(atoms, i) == "overnight" else 2)
        return _built(atoms, i, end, "overnight", False)
    if says(atoms, i, "all", "night") and any(atom.text in _COLD for atom in atoms[max(i - 8, 0) : i + 6]):
        return _built(atoms, i, i + 2, "overnight", False)
    start = i
    if text_at(atoms, i) == "between":
        i += 1
    qualifier, at = qualifiers_at(atoms, i)
    if text_at(atoms, at) in ("a", "an", "one"):
        inner, after = qualifiers_at(atoms, at + 1)
        if after > at + 1 and text_at(atoms, after)[:1].isalnum():
            inside = number_at(atoms, after)
            if inside is not None and inside.form != "article":
                qualifier, at = ("" if inner == "more" else inner or qualifier), after
            elif text_at(atoms, after) in UNITS:
                one = Number(Fraction(1), Fraction(1))
                return _timed(atoms, start, Value(one, after, "article"), inner, after)
    if at > i and text_at(atoms, at - 1) == "another" and text_at(atoms, at) in UNITS:
        at -= 1  # "another hour"
    value = _neighbours(atoms, at) or number_at(atoms, at)
    if value is None or text_at(atoms, at) in ("third", "eighth") or (atoms[value.end - 1].stop == "."):
        return None
    return _timed(atoms, start, value, qualifier, value.end)


def _neighbours(atoms: Sequence[Atom], i: int) -> Value | None:
    """ "Ten fifteen minutes", "twenty five thirty minutes": two numbers side by side before a time's unit."""
    for first in small_at(atoms, i):
        for second in small_at(atoms, first[1]) if atoms[first[1] - 1].stop != "." else ():
            if text_at(atoms, second[1]) in UNITS and not atoms[second[1] - 1].stop:
                low, high = Fraction(first[0]), Fraction(second[0])
                if 5 <= low < high <= 2 * low:
                    return Value(Number(low, high), second[1], "words")
    return None


def _timed(atoms: Sequence[Atom], start: int, value: Value, qualifier: str, at: int) -> SaidTime | None:
    number = value.number
    if atoms[at - 1].stop:
        return None
    if end := loosely_after(atoms, at):
        qualifier, at = "about", end
    small = number.high < 1
    if small and text_at(atoms, start - 1) in ("and", "a") and text_at(atoms, at) == "hours":
        return None  # the end of "twelve and a half hours", which were no time
    if small and (says(atoms, at, "of", "an") or says(atoms, at, "of", "a")):
        at += 2
    elif (small or value.vague) and text_at(atoms, at) in ("a", "an", "of"):
        at += 1
    inner, at = qualifiers_at(atoms, at)
    qualifier = inner or qualifier
    unit = UNITS.get(text_at(atoms, at).removesuffix("'s"))
    if unit is None:
        return None
    end = at + 1
    if is_trap(atoms, start, at, value, unit):
        return None
    if (
        value.loose
        and unit in ("min", "s", "h")
        and value.tail is not None
        and text_at(atoms, at) in ("minute", "hour")
    ):
        number, start = value.tail, value.tail_at  # "one thirty minute rest": a single rest of thirty
    parts = [f"{typed(number.low)}{_to(number)} {_TYPED[unit]}"]
    if number.low == number.high and not atoms[end - 1].stop:
        number, end, more = _goes_on(atoms, number, unit, end)
        parts = [f"{typed(number.low)}{_to(number)} {_TYPED[unit]}", *more]
    if len(parts) == 1 and number.low == number.high:
        number, end = _range_behind(atoms, number, end)
        parts = [f"{typed(number.low)}{_to(number)} {_TYPED[unit]}"]
    if (after := loosely_after(atoms, end)) and atoms[end - 1].stop != ".":
        qualifier, end = "about", after
        if says(atoms, end - 3, "give", "or", "take") and (spread := number_at(atoms, end)) is not None:
            end = spread.end + (text_at(atoms, spread.end) in UNITS)  # "give or take five"
    about = value.vague or (qualifier in ("about", "less", "more") and qualifier != "more")
    return _built(atoms, start, end, " ".join(parts), about)


def _to(number: Number) -> str:
    return "" if number.low == number.high else f"-{typed(number.high)}"


def _goes_on(atoms: Sequence[Atom], number: Number, unit: Name, end: int) -> tuple[Number, int, list[str]]:
    """ "an hour and a half", "2 hours and 15 minutes", "1 hour 10"."""
    joined = text_at(atoms, end) == "and"
    if joined and number.low.denominator == 1:
        part = fraction_at(atoms, end + 1)
        if part and part[0] < 1 and text_at(atoms, part[1]) not in UNITS and not says(atoms, part[1], "an", "hour"):
            value = number.low + part[0]
            return Number(value, value, -1), part[1], []
    second = value_at(atoms, end + 1 if joined else end)
    if second is None or second.form == "article" or unit not in ("h", "min", "day"):
        return number, end, []
    below: Name = {"h": "min", "min": "s", "day": "h"}[unit]  # type: ignore[assignment]
    named = UNITS.get(text_at(atoms, second.end)) if not atoms[second.end - 1].stop else None
    small = second.number.high * SECONDS[below] < SECONDS[unit]
    if unit == "h" and named is None and _unnamed_minutes(atoms, second, joined):
        return number, second.end, [f"{typed(second.single)} min"]
    if named == below and small and second.number.low == second.number.high:
        return number, second.end + 1, [f"{typed(second.single)} {_TYPED[below]}"]
    return number, end, []


def _unnamed_minutes(atoms: Sequence[Atom], value: Value, joined: bool) -> bool:
    """Whether a number behind an hour is minutes: "an hour and forty five"."""
    if value.number.low != value.number.high or value.single % 5 or not 5 <= value.single < 60:
        return False
    if value.end >= len(atoms) or atoms[value.end - 1].stop:
        return True
    return joined and text_at(atoms, value.end) in GO_ON | {"a", "per", "an"}


def _range_behind(atoms: Sequence[Atom], number: Number, end: int) -> tuple[Number, int]:
    """ "twenty minutes, maybe twenty-five", "a minute or two", "44 minutes to 50"."""
    for lead in _LEADS:
        if not lead:
            if atoms[end - 1].stop == "." or not _at_most(atoms, end):
                continue  # "three hours, four if it's cold"
        elif not says(atoms, end, *lead) or (atoms[end - 1].stop and lead in (("or",), ("to",))):
            continue
        second = value_at(atoms, end + len(lead))
        if second is None or second.form == "article" or not number.low < second.single <= 2 * number.low + 1:
            continue
        unit = text_at(atoms, second.end) if not atoms[second.end - 1].stop else ""
        if unit in UNITS:
            mine = UNITS.get(text_at(atoms, end - 1))
            if UNITS[unit] != mine:
                continue
            return Number(number.low, second.number.high), second.end + 1
        if unit and lead in (("or",), ("to",)) and unit not in GO_ON:
            continue
        return Number(number.low, second.number.high), second.end + (not lead and unit in _MOST)
    again = UNITS.get(text_at(atoms, end - 1))
    up = upper_at(atoms, end, number.low, lambda i: i + 1 if again and UNITS.get(text_at(atoms, i)) == again else None)
    return (Number(number.low, up[0]), up[1]) if up is not None else (number, end)


# What leads from the lower end of a range to the upper.
_LEADS: tuple[tuple[str, ...], ...] = (
    ("or", "maybe"),
    ("or", "even"),
    ("sometimes",),
    ("maybe",),
    ("possibly",),
    ("up", "to"),
    ("or",),
    ("to",),
    (),
)
_MOST = ("tops", "max", "maximum")


def _at_most(atoms: Sequence[Atom], i: int) -> bool:
    """Whether the number at ``i`` is the most of a range: "three tops", "four if it's cold"."""
    value = value_at(atoms, i)
    if value is None or value.form == "article" or atoms[value.end - 1].stop:
        return False
    return text_at(atoms, value.end) in ("if", *_MOST)


def _up_to(atoms: Sequence[Atom], first: SaidTime) -> SaidTime | None:
    """ "30 minutes to an hour", "fifteen minutes, half an hour tops": two times that make a range."""
    end = first.end
    up = says(atoms, end, "up", "to")
    lead = (up or text_at(atoms, end) == "to") and not atoms[end - 1].stop
    beside = text_at(atoms, end) in ("hour", "an", "a") and not atoms[end - 1].stop
    if first.time.low != first.time.high or not (lead or beside or atoms[end - 1].stop == ","):
        return None
    if beside and text_at(atoms, end) != "hour" and text_at(atoms, first.end - 1) not in ("hour", "minute"):
        return None
    again = not lead and text_at(atoms, end) in ("hour", "minute") and says(atoms, end + 1, "and")
    if again:
        unit = UNITS[text_at(atoms, end)]  # "an hour, hour and a half", "an hour, hour and fifteen"
        if first.time.low != SECONDS[unit]:
            return None
        one = Number(Fraction(1), Fraction(1))
        number, behind, more = _goes_on(atoms, one, unit, end + 1)
        if behind == end + 1:
            return None
        second = _built(atoms, end, behind, " ".join([f"{typed(number.low)} {_TYPED[unit]}", *more]), False)
    else:
        second = _one(atoms, end + 1 + up if lead else end)
    if second is None or second.time.low <= first.time.low:
        return None
    last = second.end
    if beside and second.time.low > 2 * first.time.low:
        return None
    if not (lead or again or beside):
        if text_at(atoms, last) in _MOST:
            last += 1
        elif (
            text_at(atoms, last) in ("if", "is") and not atoms[last - 1].stop and second.time.low <= 2 * first.time.low
        ):
            pass  # "an hour, an hour and a half if it's cold", "three days, four is better"
        elif says(atoms, last, "at", "most"):
            last += 2
        elif _same_unit(first, second) and second.time.low <= 2 * first.time.low and _stopped(atoms, last):
            pass  # "four hours, five hours"
        else:
            return None
    about = first.time.about or second.time.about
    words = said_words(atoms, first.start, last)
    return SaidTime(first.start, last, replace(second.time, low=first.time.low, about=about, text=words))


def _same_unit(first: SaidTime, second: SaidTime) -> bool:
    a, b = ({UNITS[word] for word in time.time.text.split() if word in UNITS} for time in (first, second))
    return len(a) == 1 and a == b


def _stopped(atoms: Sequence[Atom], end: int) -> bool:
    return end >= len(atoms) or bool(atoms[end - 1].stop)


def _built(atoms: Sequence[Atom], start: int, end: int, text: str, about: bool) -> SaidTime | None:
    read = read_duration(f"about {text}" if about else text)
    if not read:
        return None
    return SaidTime(start, end, replace(read[0], text=said_words(atoms, start, end)))
