"""A recipe on a saved page: schema.org Recipe in, a first recipe.yaml out."""

from pipeline.recipe.page.draft import PageDraft, PageError, draft_from_page

__all__ = ["PageDraft", "PageError", "draft_from_page"]
