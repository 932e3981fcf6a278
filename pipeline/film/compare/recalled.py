"""Numbers that the talk around them set apart and that are the recipe's after all.

"So I buy the two packs, and that's 450 grams": words like "buy" mostly tell of other amounts. But when the line is used
here, is never said as it is written, and the number is what a slip of the tongue makes of the written one, then it is
hardly anybody else's.
"""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.film.compare.film import Best, Film
from pipeline.film.compare.plain import plain_slip
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
        if plain_slip(film, index, best, chosen):
            utterances[index] = replace(utterance, scope="use")
            lines[index] = best
    return film._replace(utterances=tuple(utterances)), dict(sorted(lines.items()))
