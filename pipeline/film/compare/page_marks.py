"""The heats and times that the steps of the page have, where they were typed, and that one was said otherwise."""

from __future__ import annotations

from typing import NamedTuple

from pipeline.film.compare.film import Film
from pipeline.film.compare.remark import Remark, Weight
from pipeline.film.spoken.said import Spoken
from pipeline.measure.heat import Duration, Heat
from pipeline.measure.pair import Verdict
from pipeline.recipe.model import HeatMark, TimeMark
from pipeline.recipe.span import Span, Text


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


def differs(
    mark: At, said: Spoken, told: str, weight: Weight, verdict: Verdict, edits: tuple[tuple[Span, str], ...] = ()
) -> Remark:
    """That a mark was said otherwise; ``told`` is the heat or time as it was said, in words."""
    return Remark(
        kind="differs",
        weight=weight,
        at=said.start,
        words=said.words,
        name=f"step {mark.step + 1}",
        said=" ".join(told.split()).strip(" ,."),
        written=str(mark.whole),
        span=mark.whole.span,
        spoken=said,
        step=mark.step,
        verdict=verdict,
        edits=edits,
        screen=" ".join(str(mark.whole).split()),
    )
