"""Marks in running text beside the steps: notes and substitutions, read as a step's are."""

from __future__ import annotations

from pipeline.recipe.desk import Desk
from pipeline.recipe.marks import read_pieces
from pipeline.recipe.model import Piece, Recipe
from pipeline.recipe.names import Names
from pipeline.recipe.problem import Problem
from pipeline.recipe.source import source_of
from pipeline.recipe.span import Span, Text


def read_aside(recipe: Recipe, text: str) -> tuple[Piece, ...] | None:
    """A note's or substitution's text in pieces; None where it has no marks, or one that cannot be read.

    Such a text prints as it was typed: braces outside a step are no error. Never raises.
    """
    if "{" not in text and "}" not in text:
        return None
    # Spans do not matter here: nothing of what is wrong in it is told.
    where = Span("", 1, 1, 0, len(text))
    typed = Text.at(str(text), where, range(len(text) + 1), [0])
    problems: list[Problem] = []
    desk = Desk(source_of("\n".join(str(text).splitlines()), ""), problems)
    pieces = read_pieces(desk, typed, Names(recipe.components), 0)
    return None if problems else pieces
