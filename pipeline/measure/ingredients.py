"""The ingredient table: what a cup, a clove or a stick of something weighs, and where the figure comes from."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple

Form = Literal["liquid", "dry", "solid"]
How = Literal["name", "alias", "inside", "spelling"]


class Weight(NamedTuple):
    """Grams of one something (a cup, a large egg, a clove), as a closed interval with a typical value."""

    low: Fraction
    typical: Fraction
    high: Fraction


US_CUP = Fraction("236.5882365")  # millilitres; NIST Handbook 44, Appendix C, exact


@lru_cache(maxsize=2048)
def _per_ml(cup: Weight) -> Weight:
    return Weight(cup.low / US_CUP, cup.typical / US_CUP, cup.high / US_CUP)


class Row(NamedTuple):
    """One ingredient in one state, as the table has it.

    ``cup``: grams in one US customary cup (236.588 236 5 ml), None where nobody measures it by the cup.
    ``counts``: grams of one piece by its word: ``""`` for the thing itself ("1 onion"), else a size or a unit name
    ("large", "clove", "stick").
    ``form``: how its volume is told: a liquid has millilitres, a dry or solid thing has not.
    ``source``: the published source with its number ("USDA SR28 (2016), NDB 20081"), or "from memory".
    ``place``: file and line of the row, for messages. ``note``: the measure in the source that the figure rests on.
    """

    name: str
    state: str
    aliases: tuple[str, ...]
    cup: Weight | None
    counts: dict[str, Weight]
    form: Form
    source: str
    place: str
    note: str = ""

    def density(self) -> Weight | None:
        """Grams per millilitre as an interval, or None where the row has no cup weight."""
        return None if self.cup is None else _per_ml(self.cup)


class Match(NamedTuple):
    """What a cook's words were taken for. ``score`` is 0 to 1; ``how`` says on what ground."""

    row: Row
    how: How
    score: float
    words: str
