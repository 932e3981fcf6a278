"""A recipe's steps laid along its film: marks, score and reason together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from pipeline.film.align.chain import begins
from pipeline.film.align.evidence import weigh
from pipeline.film.align.fit import ANOTHER, UNSURE, fit_of
from pipeline.film.align.folds import near_words
from pipeline.film.align.moments import Moment, moments
from pipeline.film.align.order import told_order
from pipeline.film.align.place import Placed, mark_of, placed
from pipeline.film.align.profile import profiles, vocabulary
from pipeline.film.align.scores import scores
from pipeline.film.align.witness import witnesses
from pipeline.film.mark import Mark
from pipeline.film.spoken.things import Finds
from pipeline.film.transcript import Transcript
from pipeline.measure.record import replace
from pipeline.recipe.model import Recipe

# Evidence of a step counts up to this, so that one step cannot speak for all, and by the chance of its moment: in
# another recipe's film there are words for every step, but no place for them.
_ENOUGH = 15.0
# Where enough of it is found, the film is this recipe's, and fit.py is not asked: the least of it, averaged over all
# steps, of a film of this recipe; or over the told ones, of a film of part of it, if so many are told.
# How much of it there is for each word of the film counts beside the average, for a cook of few words gives each step
# little, and a film of a like recipe tells of ours here and there. With captions of another film the sum is 0.78 and
# less.
_FITS, _FITS_TOLD, _TOLD, _DENSE = 0.88, 0.55, 3, 3.0
# A film of so few moments has fewer words to tell its steps by, and to agree by chance: common practice, no source.
_SHORT, _FITS_SHORT = 12, 0.25


@dataclass(frozen=True, slots=True)
class Alignment:
    """``marks``: one a step, in the recipe's order. ``fit`` (0 to 1): how much of the recipe the film's words tell.
    ``order``: the steps as the film tells them. ``reason``: one sentence about the whole. ``unsure``: the film may be
    of another recipe, so no mark is sure."""

    marks: tuple[Mark, ...]
    fit: float
    order: tuple[int, ...]
    reason: str
    unsure: bool = False


def align(
    recipe: Recipe, transcript: Transcript, table: Finds | None = None, held: Mapping[int, int] | None = None
) -> tuple[Mark, ...]:
    """One mark for every step, in the recipe's order; ``at`` is None where the film tells a step not at all or too
    weakly. ``table`` lets ingredients be known by their other names. ``held`` are moments that the cook has confirmed
    (step to ms): they stand, and the others are placed around them."""
    return aligned(recipe, transcript, table, held).marks


def aligned(
    recipe: Recipe, transcript: Transcript, table: Finds | None = None, held: Mapping[int, int] | None = None
) -> Alignment:
    """The same, with what is known of the whole."""
    made = profiles(recipe, table)
    near = near_words(vocabulary(made))
    film = moments(transcript, near)
    if not film or not made:
        what = "the recipe has no steps" if film else "the film has no words"
        silent = tuple(Mark(step, None, 0.0, "", reason=what) for step in range(len(made)))
        return Alignment(silent, 0.0, (), what)
    evidence = weigh(film, made)
    fixed = _moments_of(film, held or {}, len(made))
    components = [step.component for step in recipe.steps]
    worth = scores(film, evidence)
    path, _ = told_order(worth, components, held=fixed)
    order = [step for step, _ in path]
    found = placed(film, evidence, begins(worth, order, held=fixed))
    enough = sum(one.chance * min(one.strength, _ENOUGH) for one in found) / _ENOUGH
    fit = enough / len(made)
    dense = enough * _ENOUGH / max(sum(moment.weight for moment in film), 1)
    enough_said = fit >= _FITS_SHORT if len(film) < _SHORT else fit + _DENSE * dense >= _FITS
    told = bool(fixed) or enough_said or (len(found) >= _TOLD and enough / len(found) >= _FITS_TOLD)
    own = UNSURE if told else fit_of(recipe, transcript)
    by_step = {one.step: one for one in found}
    marks = []
    for step in range(len(made)):
        one = by_step.get(step)
        if one is None:
            marks.append(Mark(step, None, 0.0, "", reason="the film does not tell this step"))
            continue
        rests = witnesses(transcript, film, evidence, near, step, range(one.at, one.last))
        mark = mark_of(transcript, film, one, rests, own)
        if held and step in fixed:
            mark = replace(mark, at=held[step], confidence=1.0, others=(), reason="confirmed by hand")
        marks.append(mark)
    reason = _reason(found, marks, own)
    return Alignment(tuple(marks), round(fit, 3), tuple(order), reason, ANOTHER <= own < UNSURE)


def _moments_of(film: list[Moment], held: Mapping[int, int], steps: int) -> dict[int, int]:
    """The moment (index) nearest to each confirmed time. Raises ValueError for a step that the recipe has not."""
    found: dict[int, int] = {}
    for step, ms in held.items():
        if not 0 <= step < steps:
            raise ValueError(f"there is no step {step} in a recipe of {steps}")
        found[step] = min(range(len(film)), key=lambda i: abs(film[i].start - ms))
    return found


def _reason(found: list[Placed], marks: list[Mark], own: float) -> str:
    if own < ANOTHER:
        return "the film's words are hardly this recipe's; are these its captions?"
    doubt = "" if own >= UNSURE else "; few of the film's words are this recipe's: are these its captions?"
    made = sum(1 for mark in marks if mark.at is not None)
    if made == len(marks):
        return f"all {made} steps have a mark{doubt}"
    weak = len(found) - made
    return f"{made} of {len(marks)} steps have a mark; {len(marks) - len(found)} are not told, {weak} too weakly{doubt}"
