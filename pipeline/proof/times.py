"""Every time that a recipe states, in marks and in running words, with the sentence around it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from pipeline.measure.duration import read_duration
from pipeline.measure.heat import Duration
from pipeline.proof.prose import flat, plain_texts
from pipeline.proof.remember import for_one_recipe
from pipeline.recipe.model import Prose, Recipe, TimeMark
from pipeline.recipe.span import Span, Text

_PART = "[¼-¾⅐-⅞]"
_N = (
    rf"(?:\d+(?:[.,]\d+)?(?:\s?{_PART}|\s\d/\d)?|\d/\d|{_PART}|half an|an)"
    rf"(?:\s*(?:-|–|to)\s*\d+(?:[.,]\d+|{_PART})?)?"
)
_U = r"(?:seconds?|secs?|s|minutes?|mins?|min|hours?|hrs?|h|days?)\b\.?"
_ONE = rf"(?:{_N})\s*(?:{_U})(?:\s*(?:and\s+)?\d+\s*(?:minutes?|mins?|min|seconds?)\b)?"
# In running words only "90 minutes (1½ hours)", "30 min / ½ hour" and "30 minutes or ½ hour" are pairs.
_PAIR = re.compile(
    rf"(?<![\w.,/¼-¾⅐-⅞-])(?P<a>{_ONE})(?P<sep>\s*[/=]\s*|\s*\(\s*(?:or\s+)?|,?\s+or\s+)(?P<b>{_ONE})(?=\W|$)",
    re.IGNORECASE,
)
_CHOICE = re.compile(r"\bor\b", re.IGNORECASE)


class StatedTime(NamedTuple):
    """A time stated once or several times in one place; the fields are those of ``StatedHeat``.

    ``choice`` is True where the words could offer two different times ("20 minutes or 1 hour" in running words).
    """

    times: tuple[Duration, ...]
    spans: tuple[Span, ...]
    whole: Span
    marked: bool
    choice: bool
    step: int | None
    sentence: str


@for_one_recipe
def times(recipe: Recipe) -> Iterator[StatedTime]:
    """Times in marks, and pairs of times in running words."""
    for index, step in enumerate(recipe.steps):
        words = flat(step, recipe)
        for start, _, piece in words.pieces:
            if isinstance(piece, TimeMark):
                spans = _spans(piece.whole, piece.times)
                sentence = words.sentence(start)
                yield StatedTime(piece.times, spans, piece.whole.span, True, False, index, sentence)
            elif isinstance(piece, Prose):
                yield from _pairs(piece.text, index)
    for text, index_ in plain_texts(recipe):
        if index_ is None:
            yield from _pairs(text, None)


def _pairs(text: Text, step: int | None) -> Iterator[StatedTime]:
    for m in _PAIR.finditer(text):
        a, b = read_duration(m["a"]), read_duration(m["b"])
        if a and b and len(a) == len(b) == 1:
            spans = (text.part(*m.span("a")), text.part(*m.span("b")))
            choice = bool(_CHOICE.search(m["sep"]))
            yield StatedTime((a[0], b[0]), spans, text.part(*m.span()), False, choice, step, m.group())


def _spans(whole: Text, stated: tuple[Duration, ...]) -> tuple[Span, ...]:
    result: list[Span] = []
    after = 0
    for time in stated:
        at = whole.find(time.text, after) if time.text else -1
        if at < 0:
            result.append(whole.span)
        else:
            after = at + len(time.text)
            result.append(whole.part(at, after))
    return tuple(result)
