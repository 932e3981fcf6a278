"""Whether a film is of a recipe at all: what is said of the page's words, against what any cook's film says of them.

Each word of the page is likelier to be said in the recipe's own film than in another; by how much is known from the
share of films that say it (``usual.txt``) and from the film's length, for in an hour everything is said once. A number
right beside the ingredient that it belongs to counts beside the words: such pairs seldom meet by chance. The sum of
these log-likelihood ratios (naive Bayes: Maron, J. ACM 8 (3), 1961; from memory) grows with the page, the noise of it
with the root of the page's size, by which it is divided.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from math import exp, log, sqrt
from typing import NamedTuple

from pipeline.film.align.figures import spans_of
from pipeline.film.align.folds import bare, fold, near_words, pale_words, rows, stop_words
from pipeline.film.align.moments import mended
from pipeline.film.align.profile import amount_tokens, plain_words
from pipeline.film.transcript import Transcript
from pipeline.recipe.model import Recipe

#: Below the first a film is of another recipe, below the second it may be. On the marked films, and on eight that were
#: marked by others: own films 2.5 and more by hand, 2.2 and more with every eighth word dropped; films of other recipes
#: 1.2 and less.
ANOTHER, UNSURE = 1.4, 2.1
# How often a recipe's own film says a word of its ingredients' names, another word of its page, and an ingredient's
# amount beside its name.
_NAME, _TEXT, _PAIR = 0.88, 0.45, 0.6
# The share of films that say a word which is not usual, and the words of a film in which the shares were counted.
_RARE, _FILM = 0.035, 1_500
# A figure belongs to a name so many words away; the least chance that such a pair meets in any film; and what it costs
# that it does not. Some cooks say no amounts at all.
_BESIDE, _MEETS, _UNSAID = 12, 0.06, 0.3
# One word missed or said costs or brings no more than this.
_MOST = 3.0
_SMALL, _LARGE = 0.02, 0.97


class _Page(NamedTuple):
    """``names``: folded words of ingredients' names; ``text``: the other words; ``pairs``: for each ingredient with an
    amount, its words and the tokens of its figures."""

    names: frozenset[str]
    text: frozenset[str]
    pairs: tuple[tuple[frozenset[str], frozenset[str]], ...]


def fit_of(recipe: Recipe, transcript: Transcript) -> float:
    """How much the film's words are this recipe's: see :data:`ANOTHER` and :data:`UNSURE`."""
    page = _page(recipe)
    size = len(page.names) + len(page.text) / 2 + len(page.pairs)
    plain = [bare(word.text) for word in transcript.words]
    if not size or not plain:
        return 0.0
    said = _said(plain, near_words(page.names | page.text))
    total = sum(_ratio(_NAME, _by_chance(word, len(plain)), word in said) for word in page.names)
    for word in page.text:
        total += _ratio(_TEXT, min(_by_chance(word, len(plain)), _TEXT), word in said)
    return (total + _pairs(page, plain, said)) / sqrt(size)


def _page(recipe: Recipe) -> _Page:
    names: set[str] = set()
    pairs: list[tuple[frozenset[str], frozenset[str]]] = []
    for component in recipe.components:
        for line in component.ingredients:
            words = frozenset(_folded(str(line.name)))
            words = words - pale_words() or words
            figures = frozenset(token for amount in line.amounts for token in amount_tokens(amount))
            names |= words
            if words and figures:
                pairs.append((words, figures))
    parts = [str(recipe.title), *(f"{step.title or ''} {step.text}" for step in recipe.steps)]
    text = {word for part in parts for word in _folded(part.replace("{", " ").replace("}", " "))}
    return _Page(frozenset(names), frozenset(text - names), tuple(pairs))


def _folded(text: str) -> Iterator[str]:
    for word in plain_words(text):
        if word not in stop_words():
            folded = fold(word)
            if folded.isalpha():
                yield folded


def _said(plain: Sequence[str], near: Mapping[str, str]) -> dict[str, list[int]]:
    """Where each folded word is said."""
    known: dict[str, str] = {}
    said: dict[str, list[int]] = {}
    for i, word in enumerate(plain):
        folded = known.get(word)
        if folded is None:
            folded = known[word] = "" if word in stop_words() else mended(fold(word), near)
        if folded:
            said.setdefault(folded, []).append(i)
    return said


@cache
def _usual() -> dict[str, float]:
    return {word: int(share) / 100 for share, *words in rows("usual.txt") for word in words}


def _by_chance(word: str, length: int) -> float:
    """The chance that a film of so many words says this one, whatever it cooks."""
    return 1 - exp(log(1 - _usual().get(word, _RARE)) * length / _FILM)


def _ratio(own: float, other: float, said: bool) -> float:
    other = min(max(other, _SMALL), _LARGE)
    return max(log(own / other) if said else log((1 - own) / (1 - other)), -_MOST)


def _pairs(page: _Page, plain: Sequence[str], said: Mapping[str, Sequence[int]]) -> float:
    """What the amounts bring that are said beside their ingredients. By chance as many meet as would if the same words
    and figures stood anywhere in the film."""
    figured: dict[str, list[int]] = {}
    for first, _, token in spans_of(plain):
        figured.setdefault(token, []).append(first)
    total = 0.0
    for words, figures in page.pairs:
        places = sorted(i for word in words for i in said.get(word, ()))
        told = [i for figure in figures for i in figured.get(figure, ())]
        if any(_near(places, i) for i in told):
            chance = 1 - exp(-len(places) * len(told) * 2 * _BESIDE / len(plain))
            total += max(log(_PAIR / max(chance, _MEETS)), 0.0)
        else:
            total -= _UNSAID
    return total


def _near(places: Sequence[int], at: int) -> bool:
    next_ = bisect_left(places, at - _BESIDE)
    return next_ < len(places) and places[next_] <= at + _BESIDE
