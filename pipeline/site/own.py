"""A recipe's own files: its page, its sheets of paper, its entry in the feed; and what is told of it to all others.

They may be made in another process than the rest of the site, where the recipe was read: so what goes in and comes
out is small.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urljoin

from pipeline.measure.record import replace
from pipeline.recipe.model import Recipe
from pipeline.site.binding import bound
from pipeline.site.columns import places
from pipeline.site.compose import Composer, FilmFiles
from pipeline.site.drawn import CardText
from pipeline.site.errors import SiteError
from pipeline.site.files import digest, write_bytes
from pipeline.site.gallery import NONE_DRAWN, Drawn
from pipeline.site.paper import PAPER, paper_path, render_paper, scan_of
from pipeline.site.photos import Picture
from pipeline.site.sheet import Desk
from pipeline.site.shelves import Found, Onward
from pipeline.site.theme import Theme
from pipeline.site.view import PageView, RecipeView

PAGE = "recipe.html.j2"
_HREF = re.compile(r'(?<=\s)href="([^"]*)"')


class Cover(NamedTuple):
    """What the rest of the site asks of a recipe: ``recipe`` has its head and its photos, but no list and no text.

    ``key`` is a hash of its source; ``found`` its card, still without a photo, and its ingredients; ``text`` what the
    pictures drawn of it say, where it has a photo to draw on.
    """

    recipe: Recipe
    key: str
    found: Found
    text: CardText | None


class Order(NamedTuple):
    """Which of a recipe's own files are wanted, and what the rest of the site has for them.

    ``fresh`` is the new site's folder, ``social`` the picture that stands for pages without one of their own.
    ``page`` is where the page leads, None where no page is wanted.
    """

    fresh: Path
    social: str
    pictures: Mapping[str, Picture]
    film: FilmFiles
    drawn: Drawn
    page: Onward | None
    paper: bool
    entry: bool


class Made(NamedTuple):
    """What became of an order: hashes of the files written, the feed's entry, and what is wrong with a template."""

    page: str = ""
    paper: str = ""
    entry: str = ""
    problems: tuple[str, ...] = ()


def page_path(slug: str) -> str:
    return f"recipes/{slug}.html"


def render_page(desk: Desk, view: RecipeView, drawn: Drawn, onward: Onward) -> str:
    card = view.card
    alt = card.photo.alt if card.photo else ""
    page = desk.page("recipe", card.title, card.summary, page_path(card.slug), drawn.social, alt)
    scan = scan_of(desk, card.slug)
    return desk.render(PAGE, page, recipe=view, onward=onward, scan=scan, places=places(view))


def render_entry(desk: Desk, view: RecipeView) -> str:
    """The recipe for a reader of feeds, with its links whole: such a reader has no page that they could start from."""
    page = PageView(view.card.title, "", desk.view.root, "", "feed")
    entry = desk.render("feed_entry.html.j2", page, recipe=view)
    here = f"{page.up}{page_path(view.card.slug)}"
    return _HREF.sub(lambda m: f'href="{urljoin(here, m[1])}"', entry)


@dataclass(frozen=True, slots=True)
class Own:
    """Makes the own files of one channel's recipes."""

    theme: Theme
    composer: Composer
    _desks: dict[str, Desk] = field(default_factory=dict, compare=False, repr=False)

    def cover(self, recipe: Recipe) -> Cover:
        """What is told of a recipe to the rest of the site."""
        photographed = tuple(replace(step, pieces=()) for step in recipe.steps if step.photo)
        head = replace(
            recipe,
            source="",
            yield_=None,
            summary="",
            category=(),
            cuisine=(),
            keywords=(),
            equipment=(),
            components=(),
            steps=photographed,
            notes=(),
            substitutions=(),
            times={},
            times_said={},
            time_spans={},
            nutrition={},
            spans={},
        )
        return Cover(
            head,
            digest(recipe.source, recipe.slug),
            Found(self.composer.card(recipe, {}), self.composer.names(recipe)),
            self.composer.card_text(recipe) if recipe.photos else None,
        )

    def view(self, recipe: Recipe, pictures: Mapping[str, Picture], film: FilmFiles) -> RecipeView:
        """The recipe as its pages say it."""
        return bound(self.composer.recipe(recipe, pictures, film), self.theme.words.terms)

    def ready(self) -> None:
        """Reads the templates beforehand. What is wrong with one is told when it is used."""
        with suppress(SiteError):
            self.theme.compile_all(PAGE, PAPER)

    def make(self, recipe: Recipe, order: Order) -> Made:
        """Make what is wanted. Raises nothing for a template that is wrong: the problems are told."""
        desk = self._desks.get(order.social)
        if desk is None:
            desk = self._desks[order.social] = Desk(self.theme, self.composer.channel, "", order.social)
        page = paper = entry = ""
        problems: list[str] = []
        try:
            view = self.view(recipe, order.pictures, order.film)
            if order.page is not None:
                page = _put(order.fresh / page_path(recipe.slug), render_page(desk, view, order.drawn, order.page))
            if order.paper:
                paper = _put(order.fresh / paper_path(recipe.slug), render_paper(desk, view, order.drawn.card))
            if order.entry:
                entry = render_entry(desk, view)
        except SiteError as error:
            problems += error.problems
        return Made(page, paper, entry, tuple(problems))


def _put(path: Path, text: str) -> str:
    """Write a file; the hash of what it holds."""
    content = text.encode("utf-8", "replace")
    write_bytes(path, content)
    return digest(content)


__all__ = ["NONE_DRAWN", "Cover", "Made", "Order", "Own", "page_path", "render_entry", "render_page"]
