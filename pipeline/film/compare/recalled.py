"""Numbers that the talk around them set apart and that are the recipe's after all.

"So I buy the two packs, and that's 450 grams": words like "buy" mostly tell of other amounts. But when the line is used
here, is never said as it is written, and the number is what a slip of the tongue makes of the written one, then it is
hardly anybody else's.
"""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.film.compare.excuses import here
from pipeline.film.compare.film import Best, Film
from pipeline.film.compare.likely import slip_of_amount
from pipeline.film.compare.stating import beside
from pipeline.measure.record import replace


def recalled(film: Film, chosen: Mapping[int, Best]) -> tuple[Film, dict[int, Best]]:
    """The film and the lines of its amounts, with those amounts counted as uses."""
    utterances = list(film.utterances)
    lines = dict(chosen)
    for index, utterance in enumerate(utterances):
        best = utterance.best
        if not utterance.aside or best is None or best.rank < 2 or best.judged is None:
            continue
        if not utterance.said.ingredient or utterance.said.guessed or best.judged.status == "unknown":
            continue
        if here(film, utterance, best) and _likely(film, index, best) and not said_elsewhere(film, index, best, chosen):
            utterances[index] = replace(utterance, scope="use")
            lines[index] = best
    return film._replace(utterances=tuple(utterances)), dict(sorted(lines.items()))


def said_elsewhere(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
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
