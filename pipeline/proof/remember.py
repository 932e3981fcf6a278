"""What several checks ask of one recipe is worked out once: the answer for the last recipe is kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import wraps
from typing import TypeVar

from pipeline.recipe.model import Recipe

T = TypeVar("T")


def for_one_recipe(make: Callable[[Recipe], Iterable[T]]) -> Callable[[Recipe], tuple[T, ...]]:
    """``make``, whose answer for the last recipe (that very object) is kept, as a tuple."""
    last: list[tuple[Recipe, tuple[T, ...]]] = []

    @wraps(make)
    def remembered(recipe: Recipe) -> tuple[T, ...]:
        if not last or last[0][0] is not recipe:
            last[:] = [(recipe, tuple(make(recipe)))]
        return last[0][1]

    return remembered
