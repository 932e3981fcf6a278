"""Rendering many pages at once: a recipe's own files where the recipe is, everything else here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Protocol

from pipeline.site.errors import SiteError
from pipeline.site.files import digest, write_bytes
from pipeline.site.manifest import Shelf
from pipeline.site.own import Made, Order
from pipeline.site.pages import FEED, Pages
from pipeline.site.sheet import Page

# Starting workers and warming them up costs about as much as reading and rendering this many recipes (measured).
WORTH_SHARING = 30


class Printers(Protocol):
    """Whoever holds the recipes: makes their own files for (a recipe's number with them, an order), in order."""

    def ask(self, questions: Iterable[tuple[int, Order]], /) -> Iterator[Made]: ...


def render_all(
    pages: Pages,
    numbers: Sequence[int],
    printers: Printers,
    shelf: Shelf,
    progress: Callable[[str, int, int], None] | None,
) -> None:
    """Put every page onto the shelf: the last site's where it was made from the same things, else rendered anew.

    ``numbers`` are those that the printers have for the recipes. Raises SiteError with the problems of all that
    failed.
    """

    def due(page: Page) -> bool:
        return not shelf.reuse(page.path, page.key)

    feed = pages.feed()
    fed = {m.key for m in pages.fed()} if due(feed) else set()
    own: list[Page] = []
    wanted: list[tuple[int, Page | None, Page | None]] = []

    def orders() -> Iterator[tuple[int, Order]]:
        for at, material in enumerate(pages.materials):
            both = pages.of_recipe(at)
            own.extend(both)
            page, paper = (one if due(one) else None for one in both)
            if page or paper or material.key in fed:
                wanted.append((at, page, paper))
                yield numbers[at], _order(pages, at, page is not None, paper is not None, material.key in fed, shelf)

    # The printers work as soon as they have an order, while the next ones are made out and the other pages rendered.
    answers = printers.ask(orders())
    others = [page for page in pages.others(own) if page.path != FEED and due(page)]
    problems: dict[str, None] = {}
    done = 0
    total = len(others) + sum((page is not None) + (paper is not None) for _, page, paper in wanted) + bool(fed)

    def tell(more: int) -> None:
        nonlocal done
        done += more
        if progress and more:
            progress("pages", done, total)

    def here(page: Page) -> None:
        try:
            content = page.render().encode("utf-8", "replace")
        except SiteError as error:
            problems.update(dict.fromkeys(error.problems))
            return
        write_bytes(shelf.fresh / page.path, content)
        shelf.note(page.path, page.key, digest(content))
        tell(1)

    for other in others:
        here(other)
    for (at, page, paper), made in zip(wanted, answers, strict=True):
        problems.update(dict.fromkeys(made.problems))
        for one, held in ((page, made.page), (paper, made.paper)):
            if one is not None and held:
                shelf.note(one.path, one.key, held)
                tell(1)
        pages.entries[pages.materials[at].key] = made.entry
    if fed and not problems:
        here(feed)
    if problems:
        raise SiteError(*problems)


def _order(pages: Pages, at: int, page: bool, paper: bool, entry: bool, shelf: Shelf) -> Order:
    material = pages.materials[at]
    return Order(
        shelf.fresh,
        pages.desk.social,
        material.pictures,
        material.film,
        material.drawn,
        pages.onward(at) if page else None,
        paper,
        entry,
    )
