"""What to ask the cook about: the marks that may be wrong, each with what speaks for it and what else it may be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pipeline.film.align.place import DOUBTFUL
from pipeline.film.clock import say_moment
from pipeline.film.mark import Mark, Other
from pipeline.film.titles import joint_title
from pipeline.recipe.model import Recipe

_LONGEST = 60  # characters of a title that is shown


@dataclass(frozen=True, slots=True)
class Question:
    """One mark to confirm. ``step`` indexes Recipe.steps. ``at`` (ms) is the proposed moment, None where none is
    proposed; ``between`` the moments (ms) of the sure marks around it, None at either end; ``others`` up to two other
    moments."""

    step: int
    title: str
    at: int | None
    confidence: float
    words: str
    rests_on: tuple[str, ...]
    others: tuple[Other, ...]
    between: tuple[int | None, int | None]
    reason: str

    @property
    def headline(self) -> str:
        """ "step 4, Fold the dough: 4:48?" """
        moment = f"{say_moment(self.at)}?" if self.at is not None else "no moment found"
        return f"step {self.step + 1}, {self.title}: {moment}"


def questions(marks: Sequence[Mark], recipe: Recipe, below: float = DOUBTFUL) -> tuple[Question, ...]:
    """The marks of less confidence than ``below`` and the steps without one, in the recipe's order."""
    sure = {mark.step: mark.at for mark in marks if mark.at is not None and mark.confidence >= below}
    found: list[Question] = []
    for mark in marks:
        if mark.step in sure:
            continue
        before = max((at for step, at in sure.items() if step < mark.step), default=None)
        after = min((at for step, at in sure.items() if step > mark.step), default=None)
        if before is not None and after is not None and after < before:
            before = after = None
        found.append(
            Question(
                mark.step,
                joint_title(recipe, [mark.step], _LONGEST),
                mark.at,
                mark.confidence,
                mark.words,
                mark.rests_on,
                mark.others[:2],
                (before, after),
                mark.reason,
            )
        )
    return tuple(found)
