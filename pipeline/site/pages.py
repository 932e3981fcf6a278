"""Which files of text a site has, what each depends on, and how each is rendered."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar
from urllib.parse import urlsplit

from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.compose import Composer, FilmFiles
from pipeline.site.gallery import NONE_DRAWN, Drawn
from pipeline.site.listings import Listings, addresses
from pipeline.site.own import PAGE, Own, page_path, render_entry, render_page
from pipeline.site.paper import PAPER, paper_path, render_paper
from pipeline.site.photos import Picture
from pipeline.site.sheet import Desk, Page, channel_view
from pipeline.site.shelves import Found, Onward
from pipeline.site.structured import script_json
from pipeline.site.theme import Theme
from pipeline.site.view import CardView, PageView, RecipeView

T = TypeVar("T")
NEWEST = 9  # recipes on the home page
FEED = "feed.xml"
FEED_LENGTH = 20  # entries in the feed; the archive has them all


@dataclass(frozen=True, slots=True)
class Material:
    """A recipe and what stands beside it: its pictures by the name in its source, its film's files in the site,
    and a hash of all of them."""

    recipe: Recipe
    pictures: Mapping[str, Picture]
    film: FilmFiles
    key: str
    drawn: Drawn = NONE_DRAWN


def in_order(recipes: Iterable[T], of: Callable[[T], Recipe]) -> list[T]:
    """Published recipes, newest first; those without a date last, by title. ``of`` leads from each to its recipe."""
    shown = [one for one in recipes if not of(one).draft]
    shown.sort(key=lambda one: (str(of(one).title).casefold(), of(one).slug))
    shown.sort(key=lambda one: day.toordinal() if (day := of(one).published) else 0, reverse=True)
    return shown


def feed_id(channel: Channel, slug: str = "") -> str:
    """A lasting id (RFC 4287, 4.2.6): the address, or a name-based UUID where the site has none yet."""
    if channel.address:
        return f"{channel.address}/recipes/{slug}.html" if slug else f"{channel.address}/"
    return uuid.uuid5(uuid.NAMESPACE_URL, f"levelcup:{channel.name}/{slug}").urn


@dataclass(frozen=True)
class Pages:
    """All pages of one build."""

    theme: Theme
    composer: Composer
    materials: Sequence[Material]
    ground: str  # a hash of what every page rests on: the channel, the ingredient table, the code
    drawn: Drawn = NONE_DRAWN  # the channel's own card
    # What is known of a recipe by its material's key, for a caller who builds again and again.
    known: dict[str, Found] = field(default_factory=dict, compare=False, repr=False)
    # The feed's entries by their material's key, where they were made elsewhere.
    entries: dict[str, str] = field(default_factory=dict, compare=False, repr=False)
    # The last recipe composed: its page, its paper and the feed's entry come one after another.
    _last: dict[str, RecipeView] = field(default_factory=dict, compare=False, repr=False)
    _onward: dict[int, Onward] = field(default_factory=dict, compare=False, repr=False)

    @cached_property
    def desk(self) -> Desk:
        return Desk(self.theme, self.composer.channel, self.ground, self.drawn.social)

    @cached_property
    def listings(self) -> Listings:
        return Listings(self.desk, [self._found(m) for m in self.materials])

    def of_recipe(self, at: int) -> tuple[Page, Page]:
        """The page and the paper of the recipe at this place."""
        material = self.materials[at]
        return self._recipe(material, at), self._paper(material, at)

    def own(self) -> list[Page]:
        """The recipes' own pages, and the home page."""
        return [*self._of_recipes(), self._home()]

    def all(self) -> list[Page]:
        own = self._of_recipes()
        return [*own, *self.others(own)]

    def _of_recipes(self) -> list[Page]:
        return [page for at in range(len(self.materials)) for page in self.of_recipe(at)]

    def others(self, own: Sequence[Page]) -> list[Page]:
        """Every page but the recipes' ``own``, which the sitemap names."""
        found = self.listings.found
        pages = [*own, self._home(), *self.listings.pages(), self._lost(), self.feed()]
        root = self.desk.view.root
        if root:  # the sitemap protocol knows whole addresses only
            pages.append(self._sitemap(root, pages, [f.card for f in found]))
            if urlsplit(root).path == "/":
                pages.append(self._plain("robots.txt", "robots.txt.j2", {"root": root}))
        return pages[len(own) :]

    def _found(self, material: Material) -> Found:
        found = self.known.get(material.key)
        if found is None:
            card = self.composer.card(material.recipe, material.pictures)
            found = self.known[material.key] = Found(card, self.composer.names(material.recipe))
        return found

    def view(self, material: Material) -> RecipeView:
        """The material's recipe, composed."""
        view = self._last.get(material.key)
        if view is None:
            self._last.clear()
            own = Own(self.theme, self.composer)
            view = self._last[material.key] = own.view(material.recipe, material.pictures, material.film)
        return view

    def onward(self, at: int) -> Onward:
        """Where the recipe at this place leads."""
        found = self._onward.get(at)
        if found is None:
            found = self._onward[at] = self.listings.onward(at)
        return found

    def _recipe(self, material: Material, at: int) -> Page:
        return Page(
            page_path(material.recipe.slug),
            self.desk.key(PAGE, material.key, self.onward(at)) if self.ground else "",
            lambda: render_page(self.desk, self.view(material), material.drawn, self.onward(at)),
            at,
        )

    def _paper(self, material: Material, at: int) -> Page:
        return Page(
            paper_path(material.recipe.slug),
            self.desk.key(PAPER, material.key),
            lambda: render_paper(self.desk, self.view(material), material.drawn.card),
            at,
        )

    def _home(self) -> Page:
        cards = [f.card for f in self.listings.found]
        shown = cards[:NEWEST]
        channel = self.composer.channel
        page = self.desk.page("home", channel.name, channel.tagline, "index.html")
        data = {"@context": "https://schema.org", "@type": "WebSite", "name": channel.name}
        if page.canonical:
            data["url"] = page.canonical
        context = {"cards": shown, "count": len(cards), "data": script_json(data)}
        return self.desk.sheet("home.html.j2", page, "index.html", **context)

    def _lost(self) -> Page:
        # A host shows this page at any depth, so its links start from the site's own top where that is known.
        root = self.desk.view.root
        up = (urlsplit(root).path or "/") if root else ""
        page = PageView(self.theme.words("lost.title"), "", up, "", "lost")
        return self.desk.sheet("404.html.j2", page, "404.html")

    def fed(self) -> list[Material]:
        """The recipes in the feed: the newest that have a date."""
        return [m for m in self.materials if m.recipe.published][:FEED_LENGTH]

    def feed(self) -> Page:
        channel = self.composer.channel

        def render() -> str:
            entries = []
            for m in self.fed():
                made = self.entries.get(m.key)
                content = render_entry(self.desk, self.view(m)) if made is None else made
                card = self._found(m).card
                entries.append((card, feed_id(channel, card.slug), content))
            page = self.desk.page("feed", channel.name, channel.tagline, FEED)
            newest = entries[0][0].date_iso if entries else "1970-01-01"
            return self.desk.render("feed.xml.j2", page, entries=entries, id=feed_id(channel), newest=newest)

        own = self.theme.digest("feed_entry.html.j2")
        return Page(FEED, self.desk.key("feed.xml.j2", own, [m.key for m in self.fed()]), render)

    def _sitemap(self, root: str, pages: Sequence[Page], cards: Sequence[CardView]) -> Page:
        """Every page that people read, the recipes with their day and pictures."""
        told: dict[str, tuple[str, list[str]]] = {}
        for material, card in zip(self.materials, cards, strict=True):
            images = [f"{root}photos/{p.files[-1][1]}" for p in material.pictures.values()]
            told[f"recipes/{card.slug}.html"] = (card.date_iso, images)
        entries = [
            (root if path == "index.html" else root + path, *told.get(path, ("", [])))
            for path in ["index.html", *(p for p in addresses(pages) if p != "index.html")]
        ]
        return self._plain("sitemap.xml", "sitemap.xml.j2", {"root": root, "entries": entries})

    def _plain(self, path: str, template: str, context: dict[str, object]) -> Page:
        return Page(path, self.desk.key(template, context), lambda: self.theme.render(template, context))


__all__ = ["Material", "Page", "Pages", "channel_view", "feed_id", "in_order"]
