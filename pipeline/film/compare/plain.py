"""Whether a number is plainly a slip: what a slip of the tongue makes of a line that is used here and is never said as
it is written."""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.likely import slip_of_amount
from pipeline.film.compare.stating import beside


def plain_slip(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether all speaks for an amount being this line's, but its number."""
    if not here(film, film.utterances[index], best) or not _likely(film, index, best):
        return False
    return not _said_elsewhere(film, index, best, chosen)


def here(film: Film, utterance: Utterance, best: Best) -> bool:
    """Whether the film may be in a step that uses the line, give or take one, as far as that is known."""
    steps = film.course.steps(utterance.said.start)
    if utterance.scope != "use" or not steps or not best.written.steps:
        return True
    return min(abs(a - b) for a in steps for b in best.written.steps) <= 1


def _said_elsewhere(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether the line is said as written anywhere else in the film's run, even in passing, or otherwise in a use."""
    place = best.candidate.listed.place
    if any(n != index and b.candidate.listed.place == place and _used(film, n) for n, b in chosen.items()):
        return True
    return any(
        other.candidate.listed.place == place and other.rank == 0
        for n, u in enumerate(film.utterances)
        if n != index and u.scope not in ("list", "recap")
        for other in u.lines
    )


def _used(film: Film, n: int) -> bool:
    return film.utterances[n].scope in ("use", "repeat") and bool(film.utterances[n].said.ingredient)


def _likely(film: Film, index: int, best: Best) -> bool:
    said = film.utterances[index].said
    row = best.candidate.listed.row
    for target in best.written.targets:
        if any(slip_of_amount(a, target.amounts) for a in said.amounts):
            return True
        if len(said.amounts) > 1 and any(
            j.rank == 0 and j.direct
            for a in said.amounts
            if a.unit.kind != "count"
            for j in (beside(a, target.amounts, row, "", film.standard),)
        ):
            return True
    return False
