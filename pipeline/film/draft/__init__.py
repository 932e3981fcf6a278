"""A first recipe.yaml from what stands already: a film's captions, or an own page of the past."""

from pipeline.film.draft.compose import draft_from

__all__ = ["draft_from"]
