"""Which row of the ingredient table a line of the list means."""

from __future__ import annotations

from collections.abc import Callable

from pipeline.measure.ingredients import Match
from pipeline.recipe.model import IngredientLine
from pipeline.recipe.names import fruit_parts

# How what is fresh is counted, and no spice.
_GROWN = frozenset(("bunch", "sprig", "handful", "leaf", "stalk"))


def match_of(line: IngredientLine, find: Callable[[str], Match | None]) -> Match | None:
    """The table's match for a line, by ``find``: in the state that its note names, where the table has it so.

    "1 (15 oz) can pumpkin" is canned pumpkin, not a fresh one: where the row says nothing of cans, the canned one is
    asked for; a bunch of coriander is the fresh herb, not the spice. A fruit of which both zest and juice are taken is
    the whole fruit.
    """
    name = str(line.name)
    whole = not line.note or len(fruit_parts(line)) == 2
    found = (None if whole else find(f"{name}, {line.note}")) or find(name)
    units = {amount.unit.name for amount in line.amounts}
    if "can" in units and (found is None or "can" not in found.row.counts):
        return find(f"canned {name}") or found
    if (grown := units & _GROWN) and (found is None or not grown & found.row.counts.keys()):
        fresh = find(f"fresh {name}")
        return fresh if fresh and grown & fresh.row.counts.keys() else found
    return found
