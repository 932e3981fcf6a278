"""Rendering many pages at once: in this process, or shared out among the processors where that pays."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from pipeline.proof.sharing import shared
from pipeline.site.errors import SiteError
from pipeline.site.files import digest, write_bytes
from pipeline.site.manifest import Shelf
from pipeline.site.pages import Page

# Starting workers and warming them up costs about as much as rendering this many pages (measured).
WORTH_SHARING = 60


def render_all(pages: Sequence[Page], shelf: Shelf, progress: Callable[[str, int, int], None] | None) -> None:
    """Render ``pages`` onto the shelf. Raises SiteError with the problems of all that failed."""

    def one(index: int) -> tuple[str, tuple[str, ...]]:
        """Render and write one page: (hash of its bytes, problems)."""
        page = pages[index]
        try:
            content = page.render().encode("utf-8", "replace")
        except SiteError as error:
            return "", error.problems
        write_bytes(shelf.fresh / page.path, content)
        return digest(content), ()

    problems: dict[str, None] = {}
    for done, (held, wrong) in enumerate(shared(one, len(pages), WORTH_SHARING), 1):
        page = pages[done - 1]
        if wrong:
            problems.update(dict.fromkeys(wrong))
        else:
            shelf.note(page.path, page.key, held)
        if progress:
            progress("pages", done, len(pages))
    if problems:
        raise SiteError(*problems)
