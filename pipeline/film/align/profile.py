"""What each step of a recipe would be told with: weighted tokens, made from the page alone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from pipeline.film.align.figures import UNITS, spans_of, token
from pipeline.film.align.folds import bare, fold, kin, pale_words, stop_words
from pipeline.film.spoken.things import Finds
from pipeline.measure.amount import Amount
from pipeline.measure.heat import Duration, Heat
from pipeline.recipe.model import ComponentUse, HeatMark, IngredientLine, Prose, Recipe, Step, TimeMark, Use

Weights = dict[str, float]


class Profile(NamedTuple):
    """``weights`` of a step's tokens, and ``late`` (0 to 1): how far behind its text's beginning each stands first.
    What stands late in a text (how long, until when) is told when the step has long begun."""

    weights: Weights
    late: Weights


# How much a token of each origin counts, beside 1 for a plain word of the step's text.
_TITLE, _HEAD, _NAME, _NOTE, _ALIAS = 1.5, 1.6, 0.8, 0.4, 0.5
_FIGURE, _KIN, _PART = 1.3, 0.35, 0.6
# A text of fewer words than this that say something is all beginning.
_TEXT = 4
_WORD = re.compile(r"[\w½¼¾⅓⅔⅛⅜⅝⅞°./'’-]+")


def profiles(recipe: Recipe, table: Finds | None = None) -> list[Profile]:
    """One profile a step, in the recipe's order. With ``table`` the ingredients' other names count, too."""
    aliases: dict[str, tuple[str, ...]] = {}
    return [_profile(recipe, step, table, aliases) for step in recipe.steps]


def vocabulary(made: Iterable[Profile]) -> frozenset[str]:
    """The folded words of all profiles, without figures and families."""
    return frozenset(word for profile in made for word in profile.weights if word[0] not in "#~")


def _profile(recipe: Recipe, step: Step, table: Finds | None, aliases: dict[str, tuple[str, ...]]) -> Profile:
    found: Weights = {}
    at: dict[str, int] = {}
    _add_text(found, step.title, _TITLE)
    count = 0
    for part in _parts(recipe, step, table, aliases):
        for word, weight in part.items():
            found[word] = max(found.get(word, 0.0), weight)
            at.setdefault(word, count)
        count += 1
    if len(recipe.components) > 1 and 0 <= step.component < len(recipe.components):
        component = recipe.components[step.component]
        _add_text(found, f"{component.key} {component.title}", _PART)
    late = {word: place / (count - 1) for word, place in at.items() if place} if count >= _TEXT else {}
    return Profile(found, late)


def _parts(recipe: Recipe, step: Step, table: Finds | None, aliases: dict[str, tuple[str, ...]]) -> Iterator[Weights]:
    """What each word and each mark of a step's text adds, in its order."""
    for piece in step.pieces or (Prose(step.text),):
        found: Weights = {}
        if isinstance(piece, Prose):
            yield from _words(str(piece.text))
        elif isinstance(piece, ComponentUse):
            part = recipe.components[piece.component]
            _add_text(found, f"{part.key} {part.title}", _PART)
        elif isinstance(piece, HeatMark):
            _add_heats(found, piece.heats)
        elif isinstance(piece, TimeMark):
            _add_times(found, piece.times)
        elif isinstance(piece, Use):
            _add_use(found, recipe, piece, table, aliases)
        if found:
            yield found


def _put(found: Weights, word: str, weight: float) -> None:
    found[word] = max(found.get(word, 0.0), weight)
    for family in kin().get(word, ()):
        found[family] = max(found.get(family, 0.0), weight * _KIN)


def _add_text(found: Weights, text: str, weight: float) -> None:
    for part in _words(text, weight):
        for word, value in part.items():
            found[word] = max(found.get(word, 0.0), value)


def plain_words(text: str) -> list[str]:
    """The words and figures of a written text, bare."""
    return [bare(word) for word in _WORD.findall(text.replace("–", " to "))]


def _words(text: str, weight: float = 1.0) -> Iterator[Weights]:
    """What each word of a text adds that says something, and each of its figures."""
    plain = plain_words(text)
    figured: dict[int, list[str]] = {}
    for first, _, figure in spans_of(plain):
        figured.setdefault(first, []).append(figure)
    for i, word in enumerate(plain):
        found: Weights = dict.fromkeys(figured.get(i, ()), _FIGURE * 0.8)
        if word and word not in stop_words() and not word.isdigit():
            folded = fold(word)
            if folded:
                _put(found, folded, weight)
        if found:
            yield found


def _add_use(
    found: Weights, recipe: Recipe, use: Use, table: Finds | None, aliases: dict[str, tuple[str, ...]]
) -> None:
    line: IngredientLine | None = None
    if use.component is not None and use.line is not None:
        line = recipe.components[use.component].ingredients[use.line]
    name = str(line.name) if line is not None else str(use.name)
    _add_name(found, name, _HEAD, _NAME)
    if line is None:
        return
    _add_text(found, line.note, _NOTE)
    if not use.rest:
        for amount in use.amounts or line.amounts:
            found.update(amount_tokens(amount))
    if table is not None:
        if name not in aliases:
            match = table.find(name)
            aliases[name] = (match.row.name, *match.row.aliases) if match is not None else ()
        own = {fold(bare(word)) for word in _WORD.findall(name)}
        for alias in aliases[name]:
            words = [fold(word) for word in _WORD.findall(alias)]
            # Another kind of the same thing ("roasting potatoes") says nothing of this one.
            if words and words[-1] not in own:
                for folded in words:
                    if folded and folded not in own and folded not in pale_words():
                        found[folded] = max(found.get(folded, 0.0), _ALIAS)


def _add_name(found: Weights, name: str, head: float, other: float) -> None:
    words = [word for word in (fold(w) for w in _WORD.findall(name)) if word and not word.isdigit()]
    strong = [word for word in words if word not in pale_words()]
    for word in words:
        if word in pale_words() and strong:
            _put(found, word, _NOTE)
        else:
            _put(found, word, head if not strong or word == strong[-1] else other * 1.25)


def amount_tokens(amount: Amount) -> Weights:
    """The tokens of a written amount's figures."""
    found: Weights = {}
    for value in {amount.low, amount.high}:
        name = amount.unit.name
        unit = UNITS.get(name)
        if unit is not None:
            found[token(float(value) * unit[1], unit[0])] = _FIGURE
        if value >= 10:
            found[token(value)] = _FIGURE * 0.7
    return found


def _add_heats(found: Weights, heats: tuple[Heat, ...]) -> None:
    for heat in heats:
        for value in {heat.low, heat.high}:
            found[token(value, "°")] = _FIGURE
            found[token(value)] = _FIGURE


def _add_times(found: Weights, times: tuple[Duration, ...]) -> None:
    for time in times:
        for value in {time.low, time.high}:
            found[token(value, "s")] = _FIGURE
            for size in (60, 3600):
                if value % size == 0 and value // size >= 10:
                    found[token(value // size)] = _FIGURE * 0.7
