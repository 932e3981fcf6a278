"""Rendering many pages at once: a recipe's own files where the recipe is, everything else here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Protocol

from pipeline.site.errors import SiteError
from pipeline.site.files import digest, write_bytes
from pipeline.site.manifest import Shelf
from pipeline.site.own import Made, Order
from pipeline.site.pages import FEED, Material, Pages
from pipeline.site.sheet import Page

# Starting workers and warming them up costs about as much as reading and rendering this many recipes (measured).
WORTH_SHARING = 30


class Printers(Protocol):
    """Whoever holds the recipes: makes their own files for (a recipe's number with them, an order), in order."""

    def ask(self, questions: Sequence[tuple[int, Order]], /) -> Iterator[Made]: ...


def render_all(
    due: Sequence[Page],
    pages: Pages,
    numbers: Sequence[int],
    printers: Printers,
    shelf: Shelf,
    progress: Callable[[str, int, int], None] | None,
) -> None:
    """Render the pages that are ``due`` onto the shelf. ``numbers`` are those that the printers have for the recipes.

    Raises SiteError with the problems of all that failed.
    """
    own: dict[int, dict[str, Page]] = {}
    others: list[Page] = []
    for page in due:
        if page.of is None:
            others.append(page)
        else:
            own.setdefault(page.of, {})["paper" if page.path.startswith("print/") else "page"] = page
    feed = [page for page in others if page.path == FEED]
    fed = {m.key for m in pages.fed()} if feed else set()
    wanted = [at for at, m in enumerate(pages.materials) if at in own or m.key in fed]
    orders = [(numbers[at], _order(pages, pages.materials[at], at, own.get(at, {}), fed, shelf)) for at in wanted]
    problems: dict[str, None] = {}
    done, total = 0, len(due)

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

    answers = printers.ask(orders)
    for page in others:
        if page.path != FEED:
            here(page)
    for at, made in zip(wanted, answers, strict=True):
        problems.update(dict.fromkeys(made.problems))
        mine = own.get(at, {})
        for kind, held in (("page", made.page), ("paper", made.paper)):
            if kind in mine and held:
                shelf.note(mine[kind].path, mine[kind].key, held)
        pages.entries[pages.materials[at].key] = made.entry
        tell(len(mine))
    if not problems:
        for page in feed:
            here(page)
    if problems:
        raise SiteError(*problems)


def _order(pages: Pages, material: Material, at: int, mine: dict[str, Page], fed: set[str], shelf: Shelf) -> Order:
    return Order(
        shelf.fresh,
        pages.desk.social,
        material.pictures,
        material.film,
        material.drawn,
        pages.onward(at) if "page" in mine else None,
        "paper" in mine,
        material.key in fed,
    )
