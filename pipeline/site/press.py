"""Rendering many pages at once: in this process, or shared out among the processors where that pays."""

from __future__ import annotations

import gc
import multiprocessing
import os
from collections.abc import Callable, Sequence

from pipeline.site.errors import SiteError
from pipeline.site.files import digest, write_bytes
from pipeline.site.manifest import Shelf
from pipeline.site.pages import Page

# Starting workers and warming them up costs about as much as rendering this many pages (measured).
WORTH_SHARING = 60

_work: tuple[Sequence[Page], Shelf] | None = None  # what forked workers inherit; nothing is pickled but results


def _one(index: int) -> tuple[int, str, tuple[str, ...]]:
    """Render and write one page: (index, hash of its bytes, problems)."""
    assert _work is not None
    pages, shelf = _work
    page = pages[index]
    try:
        content = page.render().encode("utf-8", "replace")
    except SiteError as error:
        return index, "", error.problems
    write_bytes(shelf.fresh / page.path, content)
    return index, digest(content), ()


def render_all(pages: Sequence[Page], shelf: Shelf, progress: Callable[[str, int, int], None] | None) -> None:
    """Render ``pages`` onto the shelf. Raises SiteError with the problems of all that failed."""
    global _work
    problems: dict[str, None] = {}
    _work = (pages, shelf)
    try:
        workers = min(os.cpu_count() or 1, len(pages) // (WORTH_SHARING // 2))
        if workers > 1 and "fork" in multiprocessing.get_all_start_methods():
            # Each worker renders a first page itself; collecting garbage would only copy shared memory.
            gc.collect()
            gc.freeze()
            context = multiprocessing.get_context("fork")
            with context.Pool(workers) as pool:
                results = pool.imap_unordered(_one, range(len(pages)), chunksize=16)
                _collect(results, pages, shelf, progress, problems)
            gc.unfreeze()
        else:
            _collect(map(_one, range(len(pages))), pages, shelf, progress, problems)
    finally:
        _work = None
    if problems:
        raise SiteError(*problems)


def _collect(results, pages, shelf, progress, problems) -> None:  # type: ignore[no-untyped-def]
    for done, (index, held, wrong) in enumerate(results, 1):
        page = pages[index]
        if wrong:
            problems.update(dict.fromkeys(wrong))
        else:
            shelf.note(page.path, page.key, held)
        if progress:
            progress("pages", done, len(pages))
