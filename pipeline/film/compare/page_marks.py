"""The heats and times that the steps of the page have, and where they were typed."""

from __future__ import annotations

from typing import NamedTuple

from pipeline.film.compare.film import Film
from pipeline.measure.heat import Duration, Heat
from pipeline.recipe.model import HeatMark, TimeMark
from pipeline.recipe.span import Text


class At(NamedTuple):
    """A mark of a step: its statements and where they were typed."""

    step: int
    whole: Text
    heats: tuple[Heat, ...] = ()
    times: tuple[Duration, ...] = ()


def marks_of(film: Film) -> tuple[At, ...]:
    """Every mark of a heat or a time, in the order of the page."""
    return tuple(
        At(n, p.whole, p.heats) if isinstance(p, HeatMark) else At(n, p.whole, (), p.times)
        for n, step in enumerate(film.recipe.steps)
        for p in step.pieces
        if isinstance(p, HeatMark | TimeMark)
    )


def screen_of(whole: Text) -> str:
    """A mark as a line for the screen."""
    return " ".join(str(whole).split())
