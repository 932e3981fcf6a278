"""A first recipe.yaml from what stands already: a film's captions, or an own page of the past."""

from pipeline.film.draft.command import Drafted, draft_command, write_new
from pipeline.film.draft.compose import draft_from

__all__ = ["Drafted", "draft_command", "draft_from", "write_new"]
