"""Amounts, heats and times in the words of the catalogue.

The measures say them in the English of the kitchen, which the checks quote. A page in another language has its own
words put in their place; with the shipped catalogue nothing is touched. What the cook typed stays as typed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from pipeline.measure.duration import say_time
from pipeline.measure.fractions import say_number
from pipeline.measure.heat import Duration, Heat, say_heat
from pipeline.measure.units import WHOSE, unit, unit_names

Entry = str | tuple[str, ...]

_TIMES: dict[str, tuple[str, ...]] = {"second": ("s",), "minute": ("min",), "hour": ("h",), "day": ("day", "days")}
_PLAIN: dict[str, Entry] = {
    "measure.about": "about {amount}",
    "measure.to": "{low} to {high}",
    "measure.decimal": ".",
    "measure.heat_f": "{n} °F",
    "measure.heat_c": "{n} °C",
    "measure.heat_fan": "{heat} fan",
    "measure.heat_gas": "gas mark {n}",
}
_PLAIN |= {f"measure.whose_{whose.replace('-', '_')}": f"{said} {{unit}}" for whose, said in WHOSE.values()}
_WHOSE = {said: f"whose_{whose.replace('-', '_')}" for whose, said in WHOSE.values()}
_NUMBER = r"(?P<number>(?:[\d.,/]*\d)?[¼-¾⅐-⅞]|[\d.,/]*\d)"


def entry_of(name: str) -> str:
    """The catalogue's entry for a unit of the measures."""
    return f"units.{name.replace(' ', '_')}"


def english() -> dict[str, Entry]:
    """The entries as the measures say them: what the shipped catalogue holds."""
    said: dict[str, Entry] = dict(_PLAIN)
    for name in unit_names():
        u = unit(name)
        one, many = (u.name, u.plural) if u.kind == "count" else (u.symbol, u.plural)
        changes = u.kind == "count" or (u.kind == "volume" and u.symbol == u.name)
        said[entry_of(name)] = (one, many) if changes and one != many else one
    for name, forms in _TIMES.items():
        said[entry_of(name)] = forms if len(forms) > 1 else forms[0]
    return said


@dataclass(frozen=True)
class Terms:
    """``entries`` are the catalogue's, ``form`` tells which form of an entry goes with a whole number."""

    entries: Mapping[str, Entry]
    form: Callable[[int], int]

    @cached_property
    def plain(self) -> bool:
        """Whether the catalogue says what the measures say."""
        return all(self.entries.get(key) == said for key, said in english().items())

    @cached_property
    def units(self) -> tuple[str, ...]:
        """Every word for a unit that the catalogue has."""
        found = [self.entries.get(key, said) for key, said in english().items() if key.startswith("units.")]
        return tuple(dict.fromkeys(word for entry in found for word in ([entry] if isinstance(entry, str) else entry)))

    @cached_property
    def _own(self) -> dict[str, tuple[str, ...]]:
        """The English word of a unit → the catalogue's forms for it."""
        out: dict[str, tuple[str, ...]] = {}
        for key, said in english().items():
            if key.startswith("units."):
                entry = self.entries.get(key, said)  # a unit newer than the catalogue stays English
                forms = (entry,) if isinstance(entry, str) else entry
                out.update(dict.fromkeys([said] if isinstance(said, str) else said, forms))
        return out

    @cached_property
    def _measure(self) -> re.Pattern[str]:
        return re.compile(rf"{_NUMBER}(?: (?:(?P<whose>{any_of(_WHOSE)}) )?(?P<unit>{any_of(self._own)})(?![^\W_]))?")

    def _filled(self, key: str, **holes: str) -> str:
        text = self.entries[f"measure.{key}"]
        assert isinstance(text, str)
        for name, value in holes.items():
            text = text.replace(f"{{{name}}}", value)
        return text

    def _number(self, text: str) -> str:
        decimal = self.entries["measure.decimal"]
        return text.replace(".", decimal if isinstance(decimal, str) else decimal[0])

    def amount(self, text: str, size: str = "") -> str:
        """An amount that the measures said: "2¾ cups", "about 1–2 large cloves" (``size`` is then "large"), a time
        ("1 h 30 min"); also running on ("1 cup to 1¼ cups")."""
        if self.plain or not text:
            return text
        if text.startswith("about "):
            return self._filled("about", amount=self.amount(text.removeprefix("about "), size))
        low, to, high = text.partition(" to ")
        if to and any(map(str.isdigit, low)) and high[:1].isnumeric():
            return self._filled("to", low=self.amount(low, size), high=self.amount(high, size))
        if size and f" {size} " in text:
            # The size stands between the number and the unit: told without it, then put back.
            told = self.amount(text.replace(f" {size} ", " ", 1))
            number, _, rest = told.partition(" ")
            return f"{number} {size} {rest}"
        return self._measure.sub(self._said, text)

    def _said(self, found: re.Match[str]) -> str:
        number = self._number(found["number"])
        if not found["unit"]:
            return number
        forms = self._own[found["unit"]]
        word = forms[min(self.form(how_many(found["number"])), len(forms) - 1)]
        if whose := found["whose"]:  # "2 metric cups"
            word = self._filled(_WHOSE[whose], unit=word)
        return f"{number} {word}"

    def heat(self, heat: Heat) -> str:
        """ "450 °F", "400–425 °F", "210 °C fan", "gas mark 4"."""
        if self.plain:
            return say_heat(heat)
        number = "–".join(self._number(say_number(n)) for n in dict.fromkeys((heat.low, heat.high)))
        if heat.scale == "gas":
            return self._filled("heat_gas", n=number)
        said = self._filled("heat_f" if heat.scale == "F" else "heat_c", n=number)
        return self._filled("heat_fan", heat=said) if heat.fan else said

    def time(self, time: Duration) -> str:
        """ "about 1 h 30 min", "2–3 h"."""
        return self.amount(say_time(time))


def how_many(number: str) -> int:
    """By which whole number the words for a printed one go: up to one as one, "1½" as two, so that it is several."""
    glyph = number[-1] in "¼½¾⅓⅔⅛⅜⅝⅞"
    if not glyph and number.isdigit():
        return int(number)
    return 1 if number[:1] in ("0", "¼", "½", "¾", "⅓", "⅔", "⅛", "⅜", "⅝", "⅞") else 2


def any_of(words: Iterable[str]) -> str:
    """Words as alternatives of a regular expression, the longest first."""
    return "|".join(sorted(map(re.escape, words), key=len, reverse=True))
