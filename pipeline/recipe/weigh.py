"""The question a cook asks ten times a day: what is that in the other measure, and does this pair agree?"""

from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

from pipeline.measure.amount import Amount, Interval
from pipeline.measure.both import Dual, both, in_order, weighable
from pipeline.measure.ingredients import Match
from pipeline.measure.lookup import Table
from pipeline.measure.pair import Verdict, comparable, compare
from pipeline.measure.units import Standard
from pipeline.measure.weighing import grams
from pipeline.recipe.line import read_line
from pipeline.recipe.lines import lines_in
from pipeline.recipe.model import IngredientLine
from pipeline.recipe.names import members
from pipeline.recipe.row import match_of
from pipeline.recipe.span import Span, Text


class Weighed(NamedTuple):
    """The answer to one question.

    ``spread``: the grams that the statement which was weighed may honestly be, over how people fill a cup (None where
    the table can't tell). ``pairs``: each two statements with their verdict. ``near``: near names for an unknown
    ingredient.
    """

    line: IngredientLine
    match: Match | None
    dual: Dual
    spread: Interval | None
    pairs: tuple[tuple[Amount, Amount, Verdict], ...]
    near: tuple[str, ...]


def typed(text: str, file: str = "") -> Text:
    """A Text for words that stand in no file (a command line)."""
    return Text.at(text, Span(file, 1, 1, 0, len(text)), range(len(text) + 1), [0])


def weigh_all(question: str, table: Table, standard: Standard = "us") -> tuple[Weighed, ...]:
    """An answer for each ingredient in "1 tsp each salt and pepper", "2 eggs + 1 yolk" or "salt & pepper". Never
    raises."""
    lines = lines_in(typed(question))
    if not lines[0].amounts and match_of(lines[0], table.find) is None:
        apart = [read_line(typed(part)) for part in members(lines[0]) if part in lines[0].key]
        if apart and all(match_of(line, table.find) for line in apart):
            lines = apart
    return tuple(_answer(line, table, standard) for line in lines)


def weigh(question: str, table: Table, standard: Standard = "us") -> Weighed:
    """Answers "3 cups bread flour" or "200 g or 3/4 cup sourdough starter" as one ingredient. Never raises."""
    return _answer(read_line(typed(question)), table, standard)


def _answer(line: IngredientLine, table: Table, standard: Standard) -> Weighed:
    match = match_of(line, table.find)
    row = match.row if match else None
    base = weighable(in_order(line.amounts), row, line.size, standard)
    spread = grams(base, row, "careful", line.size, standard) if base else None
    pairs = tuple(
        (a, b, compare(a, b, row, line.size, standard)) for a, b in combinations(line.amounts, 2) if comparable(a, b)
    )
    near = () if match or not line.name else table.near(str(line.name))
    return Weighed(line, match, both(line.amounts, row, line.size, standard), spread, pairs, near)
