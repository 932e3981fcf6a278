"""Which row of the ingredient table a line of the list means."""

from __future__ import annotations

from collections.abc import Callable

from pipeline.measure.ingredients import Match
from pipeline.recipe.model import IngredientLine
from pipeline.recipe.names import fruit_parts


def match_of(line: IngredientLine, find: Callable[[str], Match | None]) -> Match | None:
    """The table's match for a line, by ``find``: in the state that its note names, where the table has it so.

    "1 (15 oz) can pumpkin" is canned pumpkin, not a fresh one: where the row says nothing of cans, the canned one is
    asked for. A fruit of which both zest and juice are taken is the whole fruit.
    """
    name = str(line.name)
    whole = not line.note or len(fruit_parts(line)) == 2
    found = (None if whole else find(f"{name}, {line.note}")) or find(name)
    if any(amount.unit.name == "can" for amount in line.amounts) and (found is None or "can" not in found.row.counts):
        return find(f"canned {name}") or found
    return found
