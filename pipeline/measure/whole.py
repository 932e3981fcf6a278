"""What comes in whole pieces too big for a cup: nobody measures chicken thighs or onions by it until they are cut.

The table's cup for such a thing is one of it diced or sliced, which says nothing about the whole thing.
"""

from __future__ import annotations

import re
from fractions import Fraction

from pipeline.measure.ingredients import Row

# A piece of this share of a cup's weight does not lie in a cup. Common practice, no source.
_BIG = Fraction(1, 3)
# What one whole thing may be called; a stick of butter or a can of corn is how it is sold, not how it grew.
_PIECES = frozenset((
    "", "small", "medium", "large", "breast", "thigh", "fillet", "steak", "chop", "shank", "tail", "link", "head",
    "bulb", "ear", "ball", "crown", "rope",
))  # fmt: skip
# By weight these are meant without what they come in. Common practice, no source.
_TAKEN_OUT = frozenset(("corn", "coconut", "pomegranate seeds", "passion fruit"))
_CUT = re.compile(
    r"\b(?:chop|dic|cub|chunk|minc|slic|sliver|shred|grat|shav|julienn|halv|halves|quarter|crumbl|crush|mash|pure"
    r"|strips?\b|pieces?\b|florets?\b|batons?\b|wedge|ribbon|riced|ground|cook|boil|steam|roast|cann|tinned|drain|pull|flak"
    r"|frozen|segment|section|pulp|flesh|thin|rings?\b|rounds?\b)",
    re.IGNORECASE,
)


def in_whole_pieces(row: Row, words: str) -> bool:
    """Whether ``words`` (the ingredient with what is said of it) mean whole pieces of a thing too big for a cup."""
    if row.form != "solid" or row.cup is None or row.name in _TAKEN_OUT or _CUT.search(words):
        return False
    least = row.cup.typical * _BIG
    return any(weight.typical >= least for name, weight in row.counts.items() if name in _PIECES)
