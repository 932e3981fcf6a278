"""Times as cooks write them: "30 min", "1½ hours", "2 to 3 h", "about an hour", "overnight", "PT1H30M"; and back."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple

from pipeline.measure.heat import Duration
from pipeline.measure.numbers import Number, read_number
from pipeline.measure.onepass import OnePass
from pipeline.measure.record import replace

LONGEST = 200  # characters; no cook's time is longer

Name = Literal["s", "min", "h", "day", "week", "month"]
SECONDS: dict[Name, int] = {"s": 1, "min": 60, "h": 3600, "day": 86400, "week": 604800, "month": 2592000}

# What "overnight" spans. Common practice, no source.
OVERNIGHT = (8 * 3600, 12 * 3600)

_UNIT = re.compile(
    r"[ -]?(?:(?P<s>s(?:ec(?:ond)?)?s?)|(?P<min>m(?:in(?:ute)?s?)?)|(?P<h>h(?:(?:ou)?rs?)?)"
    r"|(?P<day>d(?:ays?)?)|(?P<week>w(?:ee)?ks?)|(?P<month>months?))(?![^\W\d_])\.?",
    re.IGNORECASE,
)
_ABOUT = re.compile(r"(?:about|around|roughly|approximately|approx\.?|circa|ca\.|nearly|some|~|≈)\s*", re.I)
_MORE = re.compile(r"(?:another|a further|for)\s+(?=\S)", re.I)
_LEAST, _MOST = (
    re.compile(r"(?:at least|a minimum of|no less than)\s+", re.I),
    re.compile(r"(?:up to|at most|no more than)\s+", re.I),
)
# "20 minutes or so" is loose; "10 minutes per side" is the time that a timer is set to
_OR_SO = re.compile(r"\s+or so\b|\s+or thereabouts\b", re.I)
_SIDE = re.compile(
    r"\s+(?:(?:on |for )?(?:each|per|a) (?:side|batch|layer|piece)|in total|total|altogether|each)\b", re.I
)
_OR_UP_TO = re.compile(
    r"\s*,?\s*(?:or|and)?\s*(?:(?:preferably|better|even|ideally)\s+)?(?:up to\s+|(?=overnight|over night|all night))",
    re.I,
)
_OR_LEAST = re.compile(r"\s*,?\s*\(?or\s+(?:for\s+)?(?:at least|a minimum of|no less than)\s+", re.I)
_AMID = re.compile(r"between\s+", re.I)
_AND = re.compile(r"\s+and\s+", re.I)
_WIDE = re.compile(r"\s*[-–]\s*|\s+(?:to|or)\s+", re.I)
_EXTRA = re.compile(r"\s+(?:more|longer)\b", re.I)
_PART = re.compile(  # "half an hour", "three quarters of an hour", "a quarter hour"
    r"(?:(?P<half>(?:an? |one )?half)|(?P<three>three[- ]quarters)|(?P<quarter>(?:an? |one )?quarter))"
    r"(?:[ -](?:of )?(?:an? )?)(?=h(?:ou)?r|min|day)",
    re.I,
)
_ONE = re.compile(r"(?:an?|one) (?=sec|min|h(?:ou)?r|day|week|month)", re.I)
_COUPLE = re.compile(r"(?:a )?couple (?:of )?", re.I)
_FEW = re.compile(r"a few ", re.I)
_WORD = re.compile(
    r"(?P<tens>twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)?(?:[ -]?(?P<ones>one|two|three|four|five|six"
    r"|seven|eight|nine))?(?![a-z])|(?P<teen>ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen"
    r"|nineteen)(?![a-z])",
    re.I,
)
_WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
_HALF_MORE = re.compile(r" and (?:(?P<half>a half)|(?P<three>three[- ]quarters)|(?P<quarter>a quarter))\b", re.I)
_CLOCK = re.compile(r"(?P<big>\d{1,3}):(?P<small>[0-5]\d)(?=[ -]?(?:h|m))", re.I)
_ISO = re.compile(
    r"P(?=\d|T\d)(?:(?P<week>\d{1,4})W)?(?:(?P<day>\d{1,5}(?:[.,]\d{1,3})?)D)?"
    r"(?:T(?=\d)(?:(?P<h>\d{1,5}(?:[.,]\d{1,3})?)H)?(?:(?P<min>\d{1,6}(?:[.,]\d{1,3})?)M)?(?:(?P<s>\d{1,7}(?:[.,]\d{1,3})?)S)?)?"
)
_NIGHT = re.compile(r"overnight|over night|all night", re.I)
_THEN = re.compile(r"\s*(?:,|\band\b|&)?\s*", re.I)
_BARE = re.compile(r"\s?(?P<small>[0-5]?\d)(?!\d|[.,/:]\d)", re.I)
_TO = re.compile(r"\s*(?:-|–|—|‒|‑)\s*|\s+(?:to|and)\s+", re.I)
_OR = re.compile(r"\s*(?:,\s*or\b|\)\s*[,;]?\s*(?:or\b|/)?|\(\s*or\b|[(/;,=|]|\bor\b)\s*\(?\s*", re.I)
_END = re.compile(r"\s*\)?\s*\.?\s*$")


class _Span(NamedTuple):
    """One time as read: its two ends and its rounding, exactly, in seconds."""

    low: Fraction
    high: Fraction
    near: Fraction
    about: bool = False


class _Reader(OnePass):
    __slots__ = ("amid",)

    def __init__(self, text: str, pos: int = 0, amid: bool = False) -> None:
        super().__init__(text, pos)
        self.amid = amid

    def all(self) -> list[Duration] | None:
        found: list[Duration] = []
        about = False
        while True:
            start = self.pos
            loose = self.take(_ABOUT) is not None
            about = about or (loose and not found)  # "about 30 min or ½ hour": both
            span = self._range()
            if span is None:
                return None
            told = self.text[start : self.pos].strip()
            found.append(_duration(replace(span, about=span.about or loose or about), told))
            self.take(_END)
            if self.pos == len(self.text):
                return found
            if not self.take(_OR):
                return None

    def _range(self) -> _Span | None:
        self.amid = self.take(_AMID) is not None
        self.take(_MORE)
        self.take(_ABOUT)
        open_ended = self.take(_LEAST) is not None or self.take(_MOST) is not None
        first = self._time()
        if first is None:
            return None
        if open_ended or self.take(_OR_SO):
            first = replace(first, about=True)
        here = self.pos
        if self.take(_OR_UP_TO) and (last := self._time()) is not None and last.high > first.high:
            return _Span(first.low, last.high, max(first.near, last.near), about=True)  # "2 hours or overnight"
        self.pos = here
        if self.take(_OR_LEAST) and (least := self._time()) is not None and least.low < first.low:
            return _Span(least.low, first.high, max(first.near, least.near), about=True)  # "overnight or at least 4 h"
        self.pos = here
        if self.take(_SIDE):
            return first
        if self.take(_TO) and (second := self._time()) is not None and first.low < second.high:
            return _Span(first.low, second.high, max(first.near, second.near), first.about or second.about)
        self.pos = here
        return first

    def _time(self) -> _Span | None:
        """One time without alternatives: a clock, an ISO text, a night, or numbers with falling units."""
        if self.take(_NIGHT):
            low, high = OVERNIGHT
            return _Span(Fraction(low), Fraction(high), Fraction(SECONDS["h"], 2), about=True)
        if (m := self.take(_ISO)) and (told := _groups(m)):
            return _told([(Number(v, v), u) for u, v in told])
        if m := self.take(_CLOCK):
            unit = self._unit()
            if unit not in ("h", "min"):
                return None
            small: Name = "min" if unit == "h" else "s"
            big, rest = Fraction(m["big"]), Fraction(m["small"])
            return _told([(Number(big, big), unit), (Number(rest, rest), small)])
        parts: list[tuple[Number, Name]] = []
        vague = False
        while True:
            here = self.pos
            if parts:
                self.take(_THEN)
            read = self._number(first=not parts)
            unit = self._unit() if read else None
            if read is None or unit is None or (parts and not _falls(parts[-1], read[0], unit)):
                self.pos = here
                break
            parts.append((read[0], unit))
            vague = vague or read[1]
            self.take(_EXTRA)
            number = read[0]
            if number.low == number.high and (m := self.take(_HALF_MORE)):
                number = Number(more := number.low + _share(m), more, -1)
                parts[-1] = (number, unit)
            if number.low != number.high or number.low.denominator != 1:
                break  # nothing smaller follows a range or a fraction
        if not parts:
            return None
        if len(parts) == 1 and parts[0][1] == "h" and (m := self.take(_BARE)):  # "1h30"
            parts.append((Number(Fraction(m["small"]), Fraction(m["small"])), "min"))
        span = _told(parts)
        return replace(span, about=True) if vague else span

    def _number(self, first: bool) -> tuple[Number, bool] | None:
        """A number or range, and whether its words are vague; "20 and 30" is a range after "between"."""
        read = self._plain(first)
        if read and self.amid and self.take(_AND):
            self.amid = False
            more = self._plain(first)
            if more is None or more[0].low <= read[0].high:
                return None
            return Number(read[0].low, more[0].high, max(read[0].places, more[0].places)), read[1] or more[1]
        return read

    def _plain(self, first: bool) -> tuple[Number, bool] | None:
        """A number or range, and whether its words are vague ("a few")."""
        if read := read_number(self.text, self.pos):
            self.pos = read[1]
            self.take(_EXTRA)
            return read[0], False
        if m := self.take(_PART):
            return Number(_share(m), _share(m), -1), False
        if not first and self.text[self.pos : self.pos + 2].lower() in ("a ", "an"):
            return None
        if self.take(_ONE):
            return Number(Fraction(1), Fraction(1)), False
        if self.take(_COUPLE):
            return Number(Fraction(2), Fraction(2)), True
        if self.take(_FEW):
            return Number(Fraction(3), Fraction(5)), True
        low = self._word()
        if low is None:
            return None
        here = self.pos
        if self.take(_WIDE) and (high := self._word()) and high > low:
            return Number(Fraction(low), Fraction(high)), False
        self.pos = here
        if m := self.take(_HALF_MORE):
            return Number(low + _share(m), low + _share(m), -1), False
        return Number(Fraction(low), Fraction(low)), False

    def _word(self) -> int | None:
        m = self.take(_WORD)
        if m is None:
            return None
        return sum(_WORDS.get((m[group] or "").lower(), 0) for group in ("tens", "ones", "teen"))

    def _unit(self) -> Name | None:
        m = self.take(_UNIT)
        return m.lastgroup if m else None  # type: ignore[return-value]


@lru_cache(maxsize=4096)
def read_duration(text: str) -> tuple[Duration, ...] | None:
    """The times that a text states, in the written order, or None where the text is not a time.

    Two or more are alternatives ("30 minutes or 1/2 hour"); that they agree is for the pair check. Never raises.
    """
    if len(text) > LONGEST:
        return None
    found = _Reader(" ".join(text.split())).all()
    return tuple(found) if found else None


def say_duration(seconds: int) -> str:
    """Whole seconds as the page prints them: "45 s", "1 h 30 min", "36 h", "2 days 12 h". Raises ValueError below 0."""
    return " ".join(f"{n} {unit}{'s' if unit == 'day' and n > 1 else ''}" for n, unit in _split(seconds)) or "0 min"


def say_time(time: Duration) -> str:
    """A stated time in print: "about 1 h 30 min", "2–3 h", "45 min – 1 h"."""
    ends = [_split(time.low), _split(time.high)]
    text = say_duration(time.low)
    if time.low != time.high:
        if len(ends[0]) == len(ends[1]) == 1 and ends[0][0][1] == ends[1][0][1]:
            text = f"{ends[0][0][0]}–{say_duration(time.high)}"
        else:
            text = f"{say_duration(time.low)} – {say_duration(time.high)}"
    return f"about {text}" if time.about else text


def iso_duration(seconds: int) -> str:
    """Whole seconds as ISO 8601 has them: "PT1H30M", "P2DT12H", "PT0S". Raises ValueError below 0."""
    if seconds < 0:
        raise ValueError("a time cannot be negative")
    days, rest = divmod(seconds, 86400)
    hours, rest = divmod(rest, 3600)
    minutes, rest = divmod(rest, 60)
    day = f"{days}D" if days else ""
    clock = "".join(f"{n}{u}" for n, u in ((hours, "H"), (minutes, "M"), (rest, "S")) if n)
    return f"P{day}T{clock}" if clock else f"P{day or 'T0S'}"


def _split(seconds: int) -> list[tuple[int, str]]:
    if seconds < 0:
        raise ValueError("a time cannot be negative")
    days, rest = divmod(seconds, 86400) if seconds >= 2 * 86400 else (0, seconds)  # cooks say 36 h, but 2 days
    hours, rest = divmod(rest, 3600)
    minutes, rest = divmod(rest, 60)
    return [(n, u) for n, u in ((days, "day"), (hours, "h"), (minutes, "min"), (rest, "s")) if n]


def _groups(m: re.Match[str]) -> list[tuple[Name, Fraction]]:
    names: tuple[Name, ...] = ("week", "day", "h", "min", "s")
    return [(name, Fraction(m[name].replace(",", "."))) for name in names if m[name]]


def _share(m: re.Match[str]) -> Fraction:
    return {"half": Fraction(1, 2), "three": Fraction(3, 4), "quarter": Fraction(1, 4)}[m.lastgroup or "half"]


def _falls(last: tuple[Number, Name], number: Number, unit: Name) -> bool:
    """Whether a second number goes on with the same time: a smaller unit, and less than one of the larger."""
    return SECONDS[unit] < SECONDS[last[1]] and number.high * SECONDS[unit] < SECONDS[last[1]]


def _told(parts: list[tuple[Number, Name]]) -> _Span:
    low = sum((number.low * SECONDS[unit] for number, unit in parts), Fraction(0))
    high = sum((number.high * SECONDS[unit] for number, unit in parts), Fraction(0))
    number, unit = parts[-1]
    steps = [_step(end, number.places, unit, len(parts) > 1) for end in {low, high}]
    near = min(max(steps) / 2, low / 4)  # a time is never a guess by more than a quarter
    return _Span(low, high, near, about=unit == "month")


def _step(seconds: Fraction, places: int, unit: Name, compound: bool) -> Fraction:
    """The step in seconds in which cooks state such a time (common practice, no source): half of it is the rounding.

    Seconds and minutes in ones below ten, else in fives where they are multiples of five; from an hour on quarters of
    an hour where they are such. Whole and half hours by the half hour, from six hours by the hour; quarters by the
    quarter; decimals by the last place. Days by the half, weeks by two days, months by the week.
    """
    count = seconds / SECONDS[unit]
    if places > 0 and count.denominator not in (1, 2, 4):  # 1.5 h is said as 1½ h is
        return Fraction(SECONDS[unit], 10**places)
    if unit in ("s", "min"):
        if unit == "min" and count >= 60 and count % 15 == 0:
            return Fraction(15 * 60)
        return Fraction((5 if count >= 10 and count % 5 == 0 else 1) * SECONDS[unit])
    if unit == "h":
        if compound or count.denominator > 2:
            return Fraction(3600, max(4, count.denominator))
        return Fraction(3600 if count >= 6 and count.denominator == 1 else 1800)
    return {"day": Fraction(43200), "week": Fraction(172800)}.get(unit, Fraction(604800))


def _duration(span: _Span, text: str) -> Duration:
    near = span.near * (2 if span.about else 1)
    return Duration(round(span.low), round(span.high), math.ceil(near), span.about, text.strip(" ()"))
