"""Heat: what was stated, read from a cook's words, exact in °F and °C.

"450 F", "400-425 °F", "gas mark 6", "200C/180C fan/gas 6", "about 350 F (175 C)". Oven dials and fans stand in
``oven.py``, thermometers in food in ``food_heat.py``, times in ``duration.py``.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import Literal, NamedTuple

from pipeline.measure.fractions import say_number
from pipeline.measure.onepass import OnePass
from pipeline.measure.record import replace

Scale = Literal["F", "C", "gas"]

# Gas mark: °C and °F as cooks' tables print them. Common practice, no source; mark 10 is rare.
GAS_MARKS: dict[Fraction, tuple[int, int]] = {
    Fraction(1, 4): (110, 225), Fraction(1, 2): (120, 250), Fraction(1): (140, 275), Fraction(2): (150, 300),
    Fraction(3): (160, 325), Fraction(4): (180, 350), Fraction(5): (190, 375), Fraction(6): (200, 400),
    Fraction(7): (220, 425), Fraction(8): (230, 450), Fraction(9): (240, 475), Fraction(10): (260, 500),
}  # fmt: skip

# °C between which a heat may be an oven's (drawer warmer to wood-fired) or a thermometer's in food (freezer to
# caramel and frying fat). Common practice, no source; the two overlap and only the words around a heat tell which.
OVEN = (Fraction(60), Fraction(550))
FOOD = (Fraction(-40), Fraction(205))


LONGEST = 200  # characters; no cook's heat is longer, and nobody's time is spent on more
COLDEST = Fraction("-273.15")  # °C, absolute zero (BIPM, SI Brochure)
HOTTEST = Fraction(1000)  # °C; a bed of charcoal is not hotter. Common practice, no source

# A heat's number is never a fraction ("350/180" are two heats), so read_number would misread it.
_NUMBER = r"[-−–]?\d{1,6}(?:[.,]\d{1,3})?"
_MARK = r"\d{1,2} ?[¼½¾]|\d{1,2} 1/[24]|1/[24]|[¼½]|\d{1,2}(?:\.\d)?"
_DEGREE = r"(?:°|º|˚|degrees?\b|deg\b\.?)"
_SCALE = r"℉|℃|f(?:ah?r[ea]nh[ei]+t)?\b\.?|c(?:el[sc]ius|entigrade)?\b\.?"
_FAN = r"fan(?:[- ](?:forced|assisted|oven))*|convection|with (?:a |the )?fan"
_DASH = r"\s*(?:-|–|—|‒|‑)\s*|\s*\b(?:to|and)\s+"

_ABOUT = re.compile(r"(?:about|around|roughly|approximately|approx\.?|circa|ca?\.|some|nearly|~|≈)\s*", re.I)
_ROOM = re.compile(
    r"\(?(?:an?\s+|the\s+|your\s+)?(?:conventional|oven|heat|temperature|preheated)?(?:\s+(?:at|to|of))?\s*", re.I
)
_GAS = re.compile(
    rf"(?:gas\s*(?:mark|mk|no\.?)?|g\.?m\.?)\s*(?P<low>{_MARK})(?:(?:{_DASH})(?P<high>{_MARK}))?(?!\d|/[24]\b)", re.I
)
_LEAD_FAN = re.compile(rf"(?:{_FAN})\s*(?:oven)?\s*:?\s*(?=[\d~(])", re.I)
_DEGREES = re.compile(
    rf"(?P<low>{_NUMBER})\s*(?P<degree1>{_DEGREE})?\s*(?P<scale1>{_SCALE})?"
    rf"(?:(?P<dash>{_DASH})(?P<high>{_NUMBER})\s*(?P<degree2>{_DEGREE})?\s*(?P<scale2>{_SCALE})?)?(?![\d.,]*\d)",
    re.I,
)
_TAIL_FAN = re.compile(rf"\s*(?:\((?!\s*(?:{_FAN})\s*[\d~]))?\s*(?:in an? )?(?:{_FAN})\b(?:\s+oven)?\)?", re.I)
_PLAIN_OVEN = r"conventional(?:\s+oven)?|electric|no fan|without (?:a |the )?fan"
_TAIL = re.compile(rf"\s*\(?\s*(?:{_PLAIN_OVEN}|oven)\b\)?", re.I)
_NO_FAN = re.compile(rf"\s*\(?\s*(?:{_PLAIN_OVEN})", re.I)
_AMID = re.compile(r"between\s+", re.I)
_END = re.compile(r"\s*\)?\s*\.?\s*$")
_SCALE_AFTER = re.compile(rf"\s*[(/;,=|]?\s*(?:or\s+)?\d{{2,3}}\s*{_DEGREE}?\s*({_SCALE})", re.I)
_BETWEEN = re.compile(
    r"\s*(?:,\s*or\b|\)\s*[,;]?\s*(?:or\b|/)?|\(\s*or\b|[(/;,=|]|\bor\b|\bi\.?e\.?|(?=gas|g\.?m\b|fan))\s*\(?\s*",
    re.I,
)


class Heat(NamedTuple):
    """A heat as stated: the two ends (equal for one number) on its scale. ``fan`` where a fan oven is meant."""

    low: Fraction
    high: Fraction
    scale: Scale
    fan: bool = False
    about: bool = False
    text: str = ""


class Duration(NamedTuple):
    """A time as stated, in whole seconds (low and high equal for one number). ``near`` is its rounding in seconds."""

    low: int
    high: int
    near: int
    about: bool = False
    text: str = ""


class HeatError(ValueError):
    """A heat that cannot stand as written. ``words`` is what is wrong; ``fixes`` are texts to write instead."""

    def __init__(self, words: str, fixes: tuple[str, ...] = ()) -> None:
        super().__init__(words)
        self.words = words
        self.fixes = fixes


@cache
def _words_first() -> re.Pattern[str]:
    """ "moderate oven (180 C)": the words say no more than the number beside them."""
    return re.compile(
        r"(?:an?\s+|the\s+)?(?:(?:very|moderately|fairly|pre-?heated)\s+)*(?:cool|slow|low|warm|moderate|medium|hot)"
        r"(?:\s+to\s+\w+)?"
        r"\s+oven\b\s*(?:[,:;(–—=/-]|\bor\b|\bat\b|\bof\b)*\s*(?=[\d(~gG]|fan|about|around)",
        re.I,
    )


class _Reader(OnePass):
    __slots__ = ("about", "given")

    def __init__(self, text: str, given: Scale | None) -> None:
        super().__init__(text)
        self.given = given
        self.about = False

    def heats(self) -> list[Heat] | None:
        found: list[Heat] = []
        if "oven" in self.text.lower():
            self.take(_words_first())
        while True:
            start = self.pos
            if not (more := self._one(found[-1].scale if found else None)):
                return None
            if len(more) == 1:
                more = [replace(more[0], text=self.text[start : self.pos].strip(" ()"))]
            found += more
            self.take(_TAIL)
            self.take(_END)
            if self.pos == len(self.text):
                return found
            if not self.take(_BETWEEN):
                return None

    def _one(self, before: Scale | None) -> list[Heat] | None:
        if self.take(_ABOUT):
            self.about = True
        self.take(_ROOM)
        if self.take(_ABOUT):
            self.about = True
        if m := self.take(_GAS):
            low = _mark(m["low"])
            return [Heat(*_ordered(low, _mark(m["high"]) if m["high"] else low), "gas", about=self.about)]
        fan = self.take(_LEAD_FAN) is not None
        start = self.pos
        self.take(_AMID)
        m = self.take(_DEGREES)
        if m is None:
            return None
        words = self.text[start : self.pos].strip()
        fan = self.take(_TAIL_FAN) is not None or fan
        first, second = _scale(m["scale1"]), _scale(m["scale2"])
        marked = bool(m["degree1"] or m["degree2"])
        low = _degrees(m["low"])
        scale = second or first or self.given or (self._fan_scale(before, low) if fan else None)
        if scale is None and before and before != "gas" and _NO_FAN.match(self.text, self.pos):
            scale = before  # "180 fan / 200 conventional"
        if scale is None:
            if not marked and not (before or fan):
                return None
            raise _which_scale(words, low, fan)
        if m["high"] is None:
            if _is_cups(m, low):
                return None
            return [_sane(Heat(low, low, scale, fan, self.about), words)]
        high = _degrees(m["high"])
        if first and second and first != second:  # "450F-230C": two ways to say it, not a range
            told = self.text[m.start() : m.start("dash")], self.text[m.start("high") : m.end()]
            two = Heat(low, low, first, fan, self.about, told[0]), Heat(high, high, second, fan, self.about, told[1])
            return [_sane(heat, words) for heat in two]
        return [_sane(Heat(*_ordered(low, high), scale, fan, self.about), words)]

    def _fan_scale(self, before: Scale | None, low: Fraction) -> Scale | None:
        """A fan heat's scale where it does not say so: that of its neighbour, or °C where no °F can be meant: ovens
        with "fan" on the dial are marked in °C, and at 100 to 250 °F nothing bakes (common practice, no source)."""
        if before and before != "gas":
            return before
        after = _SCALE_AFTER.match(self.text, self.pos)
        return _scale(after[1]) if after else ("C" if 100 <= low <= 250 else None)


@lru_cache(maxsize=4096)
def read_heat(text: str, scale: Scale | None = None) -> tuple[Heat, ...] | None:
    """The heats that a text states, in the written order, or None where the text is not a heat.

    Two or more are alternatives ("450 F or 230 C"); that they agree is for the pair check. ``scale`` is what a
    number without one means; without it "350 degrees" raises :class:`HeatError`, as does a heat below absolute
    zero, one that no kitchen reaches, or a gas mark that is on no oven.
    """
    if len(text) > LONGEST or not any(c.isdigit() or c in "¼½" for c in text):
        return None
    reader = _Reader(" ".join(text.split()), scale)
    found = reader.heats()
    if found is None:
        return None
    if reader.about:
        found = [replace(h, about=True) for h in found]
    return tuple(found)


def say_heat(heat: Heat) -> str:
    """A heat as the page prints it: "450 °F", "400–425 °F", "210 °C fan", "gas mark 4"."""
    number = say_number(heat.low)
    if heat.high != heat.low:
        number += f"–{say_number(heat.high)}"
    if heat.scale == "gas":
        return f"gas mark {number}"
    return f"{number} °{heat.scale}" + (" fan" if heat.fan else "")


def to_celsius(degrees_f: Fraction) -> Fraction:
    """°F to °C, exactly: t/°C = (t/°F - 32) / 1.8 (NIST SP 811 (2008), Appendix B)."""
    return (degrees_f - 32) * Fraction(5, 9)


def to_fahrenheit(degrees_c: Fraction) -> Fraction:
    """°C to °F, exactly: t/°F = 1.8 t/°C + 32 (NIST SP 811 (2008), Appendix B)."""
    return degrees_c * Fraction(9, 5) + 32


def celsius(heat: Heat) -> tuple[Fraction, Fraction]:
    """The two ends in °C, exactly; a gas mark by the table. A fan oven's own degrees: nothing is added."""
    if heat.scale == "gas":
        return _gas_degrees(heat.low, "C"), _gas_degrees(heat.high, "C")
    if heat.scale == "F":
        return to_celsius(heat.low), to_celsius(heat.high)
    return heat.low, heat.high


def is_oven(heat: Heat) -> bool:
    """Whether an oven can be meant: a gas mark, or 60 to 550 °C."""
    low, high = celsius(heat)
    return OVEN[0] <= low and high <= OVEN[1]


def is_food(heat: Heat) -> bool:
    """Whether a thermometer in food, fat or sugar may read this: -40 to 205 °C, and no gas mark or fan."""
    low, high = celsius(heat)
    return heat.scale != "gas" and not heat.fan and FOOD[0] <= low and high <= FOOD[1]


def _degrees(number: str) -> Fraction:
    return Fraction(number.replace(",", ".").replace("−", "-").replace("–", "-"))


def _ordered(a: Fraction, b: Fraction) -> tuple[Fraction, Fraction]:
    return min(a, b), max(a, b)


def _scale(word: str | None) -> Scale | None:
    if not word:
        return None
    return "F" if word[0] in "fF℉" else "C"


def _is_cups(m: re.Match[str], number: Fraction) -> bool:
    """Whether this is "2 c": two cups on a card, never a heat that anybody wants."""
    return m["scale1"] in ("c", "c.") and m["degree1"] is None and 0 <= number < 20


def _mark(text: str) -> Fraction:
    glyphs = {"¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4)}
    total = Fraction(0)
    for part in text.replace("¼", " ¼").replace("½", " ½").replace("¾", " ¾").split():
        total += glyphs.get(part) or Fraction(part)
    if not min(GAS_MARKS) <= total <= max(GAS_MARKS):
        raise HeatError(f"gas mark {say_number(total)} is on no oven; they run from ¼ to 10")
    return total


def _sane(heat: Heat, words: str) -> Heat:
    low, high = heat.low, heat.high
    if heat.scale == "F":
        low, high = to_celsius(low), to_celsius(high)
    if low < COLDEST:
        raise HeatError(f"{words} is below absolute zero")
    if high > HOTTEST:
        raise HeatError(f"{words} is hotter than any kitchen gets")
    return heat


def _which_scale(words: str, number: Fraction, fan: bool) -> HeatError:
    """Above 300 it is °F on any domestic dial, but a guess is not ours to make: both ways to write it."""
    lead = "fan " if fan else ""
    typed = f"{lead}{say_number(number)}"
    if number > 300:
        other = round(to_celsius(number) / 10) * Fraction(10)
        return HeatError(f"{words}: which scale?", (f"{typed} F", f"{lead}{say_number(other)} C"))
    return HeatError(f"{words}: which scale?", (f"{typed} F", f"{typed} C"))


def _gas_degrees(mark: Fraction, scale: Scale) -> Fraction:
    """A mark's degrees; between two marks, in proportion ("gas 4½"). Raises ValueError outside ¼ to 10."""
    column = 0 if scale == "C" else 1
    marks = list(GAS_MARKS)
    if not marks[0] <= mark <= marks[-1]:
        raise ValueError(f"gas marks run from 1/4 to 10, not {mark}")
    above = next(m for m in marks if m >= mark)
    if above == mark:
        return Fraction(GAS_MARKS[mark][column])
    below = marks[marks.index(above) - 1]
    start, end = GAS_MARKS[below][column], GAS_MARKS[above][column]
    return start + (mark - below) / (above - below) * (end - start)


def on_scale(value: Fraction, scale: Scale, wanted: Scale) -> Fraction:
    """A number's degrees on the wanted scale; for a wanted gas mark, its °C (the caller picks the mark)."""
    if scale == "gas":
        return _gas_degrees(value, "F" if wanted == "F" else "C")
    if scale == wanted:
        return value
    if scale == "F":
        return to_celsius(value)
    return to_fahrenheit(value) if wanted == "F" else value
