"""An amount put into another statement's kind of unit, rounded as a cook can measure it."""

from __future__ import annotations

from fractions import Fraction

from pipeline.measure.amount import Amount, Interval
from pipeline.measure.fractions import GLYPHS, kitchen, say_number, say_parts
from pipeline.measure.ingredients import Row
from pipeline.measure.readings import say_grams, say_ml, say_ounces
from pipeline.measure.units import EACH, Standard, Unit, factor, unit
from pipeline.measure.weighing import piece

# How finely each kitchen measure can be filled: the denominators that a set of cups and spoons has.
_FILLS = {"cup": (2, 3, 4, 8), "tablespoon": (2,), "teaspoon": (2, 4, 8), "fluid ounce": (2,)}
_COARSE = Fraction(3, 100)  # what careful rounding of an ounce hides: see rounding.py
_TYPED = {glyph: str(part) for part, glyph in GLYPHS.items()}
_METRIC_VOLUME = ("milliliter", "centiliter", "deciliter", "liter")


def is_metric(u: Unit) -> bool:
    return u.name in ("gram", "kilogram", "milligram", *_METRIC_VOLUME)


def _count_words(number: Fraction, u: Unit, size: str = "", glyph: bool = True) -> str:
    words = [say_number(number, glyph), size, (u.plural if number > 1 else u.name) if u is not EACH else ""]
    return " ".join(w for w in words if w)


def expressed(
    base: Interval, like: Amount, row: Row | None, size: str, standard: Standard, direct: bool, glyph: bool = False
) -> str | None:
    """``base`` (grams, or ml where ``direct`` compares two volumes) in the kind of unit that ``like`` has, as text.

    None where the table gives no way there. A range stays a range only where both ends read differently.
    """
    ends: list[str] = []
    for value in {base.low, base.high} if base.low == base.high else (base.low, base.high):
        text = _one(value, like, row, size, standard, direct, glyph)
        if text is None:
            return None
        if text not in ends:
            ends.append(text)
    return " to ".join(ends)


def also(value: Fraction, like: Amount, of: Amount, standard: Standard) -> str | None:
    """``value`` (g or ml) in exactly the unit that ``like`` has, where ``of`` is of the same kind and system, so that
    "1 lb" becomes "16 oz" and not "1 lb" again. None where a cook could not measure or would not say it so."""
    a, u = of.unit, like.unit
    if a.kind != u.kind or u.kind not in ("mass", "volume") or is_metric(a) != is_metric(u) or a is u:
        return None
    number = value / factor(u, standard)
    fills = (2, 4, 5, 10, 20, 100, 1000) if is_metric(u) else _FILLS.get(u.name, (2, 4))
    if not _fits(number, fills) or not Fraction(1, 8) <= number <= 5000:
        return None
    if is_metric(u):
        return f"{_number(number, u)} {u.symbol}"
    return say_parts([(number, u)], glyph=False) if u.kind == "volume" else f"{say_number(number, False)} {u.symbol}"


def _one(
    value: Fraction, like: Amount, row: Row | None, size: str, standard: Standard, direct: bool, glyph: bool
) -> str | None:
    u = like.unit
    if u.kind == "mass":
        return say_grams(value).text if is_metric(u) else _ounces(value, glyph)
    if u.kind == "length":
        number = round(value / factor(u, standard) * 4) / Fraction(4)
        return f"{say_number(number, glyph)} {u.symbol}"
    if u.kind == "volume":
        if not direct:
            density = row.density() if row else None
            if density is None:
                return None
            value = value / density.typical
        if is_metric(u):
            return say_ml(value).text
        if u.name == "fluid ounce":
            number = round(value / factor(u, standard) * 2) / Fraction(2)
            return f"{say_number(number, glyph)} fl oz" if number else None
        measures = kitchen(value, standard)
        return measures.text if glyph else measures.typed
    each = piece(row, u, size) if row else None
    if each is None:
        return None
    number = round(value / each.typical * 2) / Fraction(2)
    return _count_words(number, u, size if size != "fruit" else "", glyph) if number else None


def _ounces(grams: Fraction, glyph: bool) -> str:
    """Ounces as they would be typed; in hundredths where the fractions of a scale are too coarse for so little."""
    reading = say_ounces(grams)
    ounces = grams / factor(unit("ounce"))
    if ounces < 1 and abs(reading.error) > _COARSE:
        return f"{float(ounces):.2f} oz"
    if glyph:
        return reading.text
    return "".join(f" {_TYPED[c]}" if c in _TYPED else c for c in reading.text).strip().replace("  ", " ")


def say_amount(amount: Amount, standard: Standard = "us", size: str = "") -> str:
    """An amount as the page prints it: vulgar fractions for kitchen measures, decimals for metric, "about" where said.

    What no cup or spoon can fill ("1 1/3 tbsp") is told in measures that can ("1 tbsp + 1 tsp").
    """
    u = amount.unit
    about = "about " if amount.about else ""
    if u.kind == "count":
        if amount.about and amount.low != amount.high and amount.text and not size:
            return _plain(amount.text)  # "a good handful"
        if amount.low == amount.high:
            return about + _count_words(amount.low, u, size)
        high = _count_words(amount.high, u, size)
        return f"{about}{say_number(amount.low)}–{high}"
    if u.kind == "volume" and not is_metric(u):
        fills = _FILLS.get(u.name)
        if amount.about and amount.low != amount.high and amount.text:
            return _plain(amount.text)  # "a scant ½ cup" is best said as it was
        if amount.low == amount.high and fills and (amount.parts or not _fits(amount.low, fills)):
            return about + kitchen(amount.low * amount.one(standard), standard).text
        if amount.parts:  # "1 cup plus 2-3 tbsp"
            one = amount.one(standard)
            return about + " to ".join(kitchen(end * one, standard).text for end in (amount.low, amount.high))
    if amount.low != amount.high:
        low = _number(amount.low, u)
        return f"{about}{low}–{say_part(amount.high, u)}"
    return about + say_part(amount.low, u)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _fits(number: Fraction, fills: tuple[int, ...]) -> bool:
    """Whether a measure can be filled so. One eighth of a cup there is; nobody has three of them in one piece."""
    if number.denominator == 8 and fills == _FILLS["cup"]:
        return number % 1 == Fraction(1, 8)
    return number.denominator == 1 or number.denominator in fills


def _number(number: Fraction, u: Unit) -> str:
    if is_metric(u) or (u.kind == "mass" and not _fits(number, (2, 4))):
        return f"{float(number):.2f}".rstrip("0").rstrip(".")
    return say_number(number)


def say_part(number: Fraction, u: Unit) -> str:
    """A number and its unit ("2¾ cups", "1.5 kg", "8 oz"); a third of 100 g as a scale reads it."""
    if is_metric(u) and (number * 100).denominator > 1:
        base = number * factor(u)
        return say_grams(base).text if u.kind == "mass" else say_ml(base).text
    if u.kind == "volume" and not is_metric(u):
        return say_parts([(number, u)])
    if u.name == "pound" and not _fits(number, (2, 4)) and _fits(number * 16, (2, 4)):
        pounds, ounces = divmod(number * 16, 16)  # "1 lb 2 oz", not "1.12 lb"
        return " ".join([*([f"{pounds} lb"] if pounds else []), f"{say_number(ounces)} oz"])
    return f"{_number(number, u)} {u.symbol}"
