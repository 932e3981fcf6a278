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
_AMOUNT = r"(?<=[0-9¼½¾⅓⅔⅛⅜⅝⅞]) (?=(?:{})(?![^\W_]))"
_PLAIN = re.compile(_AMOUNT.format(_UNITS))
# Nothing inside a tag is text.
_TEXT = re.compile(r"<[^>]*>|[^<]+")


def unbroken(text: str, amount: re.Pattern[str] = _PLAIN) -> str:
    """``text`` (plain, or HTML as Markup, which stays Markup) with its amounts bound."""
    if isinstance(text, Markup):
        bound = _TEXT.sub(lambda m: m[0] if m[0].startswith("<") else amount.sub("\u00a0", m[0]), str(text))
        return Markup(bound)
    return amount.sub("\u00a0", text)


def binder(terms: Terms) -> Callable[[str], str]:
    """:func:`unbroken` for the units of a catalogue, too."""
    if terms.plain:
        return unbroken
    return partial(unbroken, amount=_amount(any_of(terms.units)))


@cache
def _amount(units: str) -> re.Pattern[str]:
    return re.compile(_AMOUNT.format(f"{units}|{_UNITS}"))


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
