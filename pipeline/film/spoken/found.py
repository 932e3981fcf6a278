"""A statement with the ingredient that it is of."""

from __future__ import annotations

from typing import NamedTuple

from pipeline.film.spoken.counts import Counted, Sized
from pipeline.film.spoken.heats import SaidHeat
from pipeline.film.spoken.stated import Said
from pipeline.film.spoken.things import Thing
from pipeline.film.spoken.times import SaidTime


class Found(NamedTuple):
    """A statement: ``said`` from ``start`` to ``own_end``; ``thing`` its ingredient, ``end`` behind its name
    where that follows."""

    said: Said | Counted | Sized | SaidHeat | SaidTime
    start: int
    end: int
    own_end: int
    thing: Thing | None = None
