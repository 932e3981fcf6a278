"""All of a recipe's photos, those of its steps too."""

from __future__ import annotations

from collections.abc import Iterator

from pipeline.recipe.model import Photo, Recipe


def photos(recipe: Recipe) -> Iterator[Photo]:
    yield from recipe.photos
    for step in recipe.steps:
        if step.photo is not None:
            yield step.photo
