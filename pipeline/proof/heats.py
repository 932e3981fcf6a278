"""Every heat that a recipe states, in marks and in running words, with the sentence around it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from pipeline.measure.heat import Heat, HeatError, read_heat
from pipeline.proof.prose import flat, plain_texts, sentence_at
from pipeline.proof.remember import for_one_recipe
from pipeline.recipe.model import HeatMark, Prose, Recipe
from pipeline.recipe.span import Span, Text

# A heat in running words must wear its scale: "350 F", "180°C", "gas mark 4". "2 C flour" is two cups.
_ONE = (
    r"(?:(?:fan|convection)\s+)?(?:-?\d{2,3}(?:\s*[-–—]\s*\d{2,3})?\s*(?:(?:°|º|˚|degrees?)\s*[FCfc]\b|[FC]\b|(?:degrees?\s*)?"
    r"(?:[Ff]ahrenheit|[Cc]elsius)\b)|gas(?:\s+mark)?\s+\d{1,2}(?![\w/]))(?:\s*(?:fan|convection))?"
)
_RUN = re.compile(rf"{_ONE}(?:(?:\s*[/=(]\s*|\s+or\s+|\s*\(or\s+){_ONE}\)?)*")


class StatedHeat(NamedTuple):
    """A heat stated once or several times in one place.

    ``spans`` go with ``heats``; ``whole`` covers all; ``marked`` is False in running words. ``step`` is the step's
    index or None; ``sentence`` is what stands around it and ``offset`` where in its step's running words it stands.
    """

    heats: tuple[Heat, ...]
    spans: tuple[Span, ...]
    whole: Span
    marked: bool
    step: int | None
    sentence: str
    offset: int
    text: str


@for_one_recipe
def heats(recipe: Recipe) -> Iterator[StatedHeat]:
    """All of them: each step's in order, then those in notes and substitutions."""
    for index, step in enumerate(recipe.steps):
        words = flat(step, recipe)
        for start, _, piece in words.pieces:
            if isinstance(piece, HeatMark):
                spans = spans_in(piece.whole, piece.heats)
                sentence = words.sentence(start)
                yield StatedHeat(piece.heats, spans, piece.whole.span, True, index, sentence, start, str(piece.whole))
            elif isinstance(piece, Prose):
                for found, at in _in_text(piece.text):
                    sentence = words.sentence(start + at)
                    yield _with(found, index, sentence, start + at)
    for text, index_ in plain_texts(recipe):
        if index_ is None:
            for found, at in _in_text(text):
                low, high = sentence_at(text, at)
                yield _with(found, None, text[low:high], at)


def _with(found: StatedHeat, step: int | None, sentence: str, offset: int) -> StatedHeat:
    return StatedHeat(found.heats, found.spans, found.whole, False, step, sentence, offset, found.text)


def _in_text(text: Text) -> Iterator[tuple[StatedHeat, int]]:
    for m in _RUN.finditer(text):
        try:
            read = read_heat(m.group().rstrip(" )"))
        except HeatError:
            continue
        if read:
            start, end = m.span()
            part = text.slice(start, end)
            yield StatedHeat(read, spans_in(part, read), part.span, False, None, "", start, m.group()), start


def spans_in(whole: Text, stated: tuple[Heat, ...]) -> tuple[Span, ...]:
    """The smallest span that can be told for each heat of one place."""
    result: list[Span] = []
    after = 0
    for heat in stated:
        at = whole.find(heat.text, after) if heat.text else -1
        if at < 0:
            result.append(whole.span)
        else:
            after = at + len(heat.text)
            result.append(whole.part(at, after))
    return tuple(result)
