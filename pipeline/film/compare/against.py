"""What is said in a film against what is written in its recipe."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.compare.choosing import chosen_lines
from pipeline.film.compare.film import lay_beside
from pipeline.film.compare.gaps import twice_remarks, unsaid_remarks, unwritten_remarks
from pipeline.film.compare.heats import heat_remarks
from pipeline.film.compare.lines import amount_remarks
from pipeline.film.compare.moments import Moment
from pipeline.film.compare.pairs import pair_remarks
from pipeline.film.compare.recalled import recalled
from pipeline.film.compare.remark import Remark
from pipeline.film.compare.times import time_remarks
from pipeline.film.spoken.things import Finds
from pipeline.film.transcript import Transcript
from pipeline.measure.units import Standard
from pipeline.recipe.model import Recipe


def said_against(
    recipe: Recipe,
    transcript: Transcript,
    table: Finds,
    standard: Standard = "us",
    marks: Sequence[Moment] | None = None,
) -> tuple[Remark, ...]:
    """All remarks, in the order of the film, those about what is never said last. Never raises.

    Where the film is comes from the recipe's ``at`` where at least half of its steps have one, else from ``marks``
    (anything with ``at`` in ms and ``step`` from 0), else from the amounts themselves. ``standard`` says whose cup and
    spoon both the page and the film mean.
    """
    if not transcript.words:
        return ()
    film = lay_beside(recipe, transcript, table, standard, marks)
    film, chosen = recalled(film, chosen_lines(film))
    pairs = dict(pair_remarks(film, chosen))
    taken = set(pairs)
    remarks = [
        *pairs.values(),
        *amount_remarks(film, chosen, taken),
        *(r for r in (*heat_remarks(film, chosen), *time_remarks(film, chosen)) if not _of(r, pairs)),
        *unwritten_remarks(film, chosen),
        *twice_remarks(film, chosen),
        *unsaid_remarks(film, chosen),
    ]
    return tuple(sorted(remarks, key=lambda r: (r.at is None, r.at or 0, r.span.start)))


def _of(remark: Remark, pairs: dict[int, Remark]) -> bool:
    return any(pair.spoken is remark.spoken for pair in pairs.values())
