"""Amounts that stay on one line: a no-break space between a number and its unit."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, partial

from markupsafe import Markup

from pipeline.measure.record import replace
from pipeline.site.terms import Terms, any_of
from pipeline.site.view import CautionView, RecipeView

_UNITS = (
    "g|kg|mg|ml|l|oz|lb|lbs|cups?|tbsp|tsp|pints?|quarts?|gallons?|sticks?|cloves?|cans?|pinch|in|inch|inches|cm|mm|"
    "°C|°F|min|minutes?|hours?|h|s|seconds?|days?|%|gas"
)
_AMOUNT = r"(?<=[0-9¼-¾⅐-⅞]) (?=(?:{})(?![^\W_]))"
# Nothing inside a tag is text: there the next angle bracket is the tag's end. Text has none of its own.
_OUTSIDE = r"(?![^<>]*>)"


def unbroken(text: str, units: str = _UNITS) -> str:
    """``text`` (plain, or HTML as Markup, which stays Markup) with its amounts bound."""
    html = isinstance(text, Markup)
    bound = _amount(units, html).sub("\u00a0", text)
    return Markup(bound) if html else bound


def binder(terms: Terms) -> Callable[[str], str]:
    """:func:`unbroken` for the units of a catalogue, too."""
    if terms.plain:
        return unbroken
    return partial(unbroken, units=f"{any_of(terms.units)}|{_UNITS}")


@cache
def _amount(units: str, html: bool) -> re.Pattern[str]:
    return re.compile(_AMOUNT.format(units) + (_OUTSIDE if html else ""))


def bound(view: RecipeView, terms: Terms) -> RecipeView:
    """The view with the amounts of its running text bound. Amounts of the list and of marks are kept whole by the
    styles; a script compares their words."""
    unbroken = binder(terms)
    return replace(
        view,
        summary=Markup(unbroken(view.summary)),
        notes=tuple(Markup(unbroken(note)) for note in view.notes),
        substitutions=tuple((name, Markup(unbroken(text))) for name, text in view.substitutions),
        cautions=tuple(CautionView(unbroken(c.text), c.source) for c in view.cautions),
    )
