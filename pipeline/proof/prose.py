"""A recipe's running words: steps with their marks read as words, sentences, and the plain texts around them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from pipeline.proof.remember import for_one_recipe
from pipeline.recipe.model import ComponentUse, Piece, Prose, Recipe, Step, Use
from pipeline.recipe.span import Text

_SENTENCE = re.compile(r"[.!?](?=[\s\"')]|$)|\n\s*\n")
# A full stop after these ends no sentence.
_SHORT = re.compile(
    r"(?:\b(?:approx|tbsp|tsp|oz|lb|lbs|min|mins|hr|hrs|no|approx|deg|in|ca|e\.g|i\.e)|\d)\.$", re.IGNORECASE
)


class Flat(NamedTuple):
    """A step as a reader hears it: title, then text, marks replaced by their words.

    ``pieces`` are (start, end, piece) in ``text``.
    """

    text: str
    pieces: tuple[tuple[int, int, Piece], ...]

    def sentence(self, position: int) -> str:
        """The sentence around a position."""
        start, end = sentence_at(self.text, position)
        return self.text[start:end]


def flat(step: Step, recipe: Recipe) -> Flat:
    """One step as running words. A mark for an ingredient reads as its name, any other as it was typed."""
    for one, words in _flats(recipe):
        if one is step:
            return words
    return _flat(step, recipe)


@for_one_recipe
def _flats(recipe: Recipe) -> Iterator[tuple[Step, Flat]]:
    return ((step, _flat(step, recipe)) for step in recipe.steps)


def _flat(step: Step, recipe: Recipe) -> Flat:
    text = f"{step.title}. " if step.title else ""
    pieces: list[tuple[int, int, Piece]] = []
    for piece in step.pieces:
        start = len(text)
        match piece:
            case Prose():
                text += str(piece.text)
            case Use():
                text += str(piece.name)
            case ComponentUse():
                component = recipe.components[piece.component]
                text += component.title or component.key
            case _:
                text += str(piece.whole).strip("{} ")
        pieces.append((start, len(text), piece))
    return Flat(text, tuple(pieces))


def sentence_at(text: str, position: int) -> tuple[int, int]:
    """Start and end of the sentence in ``text`` around ``position``."""
    start = 0
    for m in _SENTENCE.finditer(text):
        if m.group() == "." and _SHORT.search(text[max(0, m.start() - 8) : m.end()]) and not _capital(text, m.end()):
            continue
        if m.end() > position:
            return start, m.end()
        start = m.end()
    return start, len(text)


def _capital(text: str, end: int) -> bool:
    """Whether what follows looks like a new sentence."""
    after = text[end:].lstrip()
    return not after or after[0].isupper()


def plain_texts(recipe: Recipe) -> Iterator[tuple[Text, int | None]]:
    """Every stretch of plain text that a reader will see, with its step's index (None for notes, substitutions)."""
    for index, step in enumerate(recipe.steps):
        for piece in step.pieces:
            if isinstance(piece, Prose):
                yield piece.text, index
    for note in recipe.notes:
        if isinstance(note, Text):
            yield note, None
    for substitution in recipe.substitutions:
        if isinstance(substitution.text, Text):
            yield substitution.text, None
