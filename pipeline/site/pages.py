"""Which files of text a site has, what each depends on, and how each is rendered."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.compose import Composer, FilmFiles
from pipeline.site.files import digest
from pipeline.site.photos import Picture
from pipeline.site.prose import safe_link
from pipeline.site.structured import script_json
from pipeline.site.theme import Theme
from pipeline.site.view import CardView, ChannelView, PageView

NEWEST = 9  # recipes on the home page
FEED_LENGTH = 20  # entries in the feed; the archive has them all


@dataclass(frozen=True, slots=True)
class Page:
    """A file of the site: ``path`` in it, ``key`` a hash of all it depends on, ``render`` its text."""

    path: str
    key: str
    render: Callable[[], str]


@dataclass(frozen=True, slots=True)
class Material:
    """A recipe and what stands beside it: its pictures by the name in its source, its film's files in the site,
    and a hash of all of them."""

    recipe: Recipe
    pictures: Mapping[str, Picture]
    film: FilmFiles
    key: str


def channel_view(channel: Channel) -> ChannelView:
    return ChannelView(
        name=channel.name,
        tagline=channel.tagline,
        author=channel.author or channel.name,
        root=f"{channel.address}/" if channel.address else "",
        language=channel.language,
        footer=channel.footer,
        paper=channel.paper,
        lead=channel.lead,
        social=tuple((link.title, link.address) for link in channel.social if safe_link(link.address)),
    )


def in_order(recipes: Sequence[Recipe]) -> list[Recipe]:
    """Published recipes, newest first; those without a date last, by title."""
    shown = [r for r in recipes if not r.draft]
    shown.sort(key=lambda r: (str(r.title).casefold(), r.slug))
    shown.sort(key=lambda r: r.published.toordinal() if r.published else 0, reverse=True)
    return shown


def groups_of(cards: Sequence[CardView]) -> list[tuple[str, list[CardView]]]:
    """The archive's groups: by first category, in order of the alphabet, the rest at the end."""
    groups: dict[str, list[CardView]] = {}
    for card in cards:
        groups.setdefault(card.category[0] if card.category else "", []).append(card)
    return sorted(groups.items(), key=lambda g: (g[0] == "", g[0].casefold()))


def _tally(values: Sequence[Sequence[str]]) -> list[tuple[str, int]]:
    counts: dict[str, int] = {}
    for several in values:
        for value in dict.fromkeys(several):
            counts[value] = counts.get(value, 0) + 1
    return sorted(counts.items(), key=lambda item: item[0].casefold())


def feed_id(channel: Channel, slug: str = "") -> str:
    """A lasting id (RFC 4287, 4.2.6): the address, or a name-based UUID where the site has none yet."""
    if channel.address:
        return f"{channel.address}/recipes/{slug}.html" if slug else f"{channel.address}/"
    return uuid.uuid5(uuid.NAMESPACE_URL, f"levelcup:{channel.name}/{slug}").urn


@dataclass(frozen=True, slots=True)
class Pages:
    """All pages of one build."""

    theme: Theme
    composer: Composer
    materials: Sequence[Material]
    ground: str  # a hash of what every page rests on: the channel, the ingredient table, the code

    def _page(self, kind: str, title: str, description: str, path: str, up: str = "") -> PageView:
        root = channel_view(self.composer.channel).root
        place = "" if path == "index.html" else path
        return PageView(title, description, up, f"{root}{place}" if root else "", kind)

    def _key(self, template: str, *parts: object) -> str:
        return digest(self.ground, self.theme.digest(template), *(repr(p) for p in parts))

    def all(self) -> list[Page]:
        cards = [self.composer.card(m.recipe, m.pictures) for m in self.materials]
        pages = [self._recipe(m) for m in self.materials]
        pages += [self._home(cards), self._archive(cards), self._lost()]
        pages.append(self._feed())
        root = channel_view(self.composer.channel).root
        if root:  # the sitemap protocol knows whole addresses only
            entries = [(f"{root}recipes/{c.slug}.html", c.date_iso) for c in cards]
            pages.append(self._plain("sitemap.xml", "sitemap.xml.j2", {"root": root, "entries": entries}))
            if urlsplit(root).path == "/":
                pages.append(self._plain("robots.txt", "robots.txt.j2", {"root": root}))
        return pages

    def _render(self, template: str, page: PageView, **context: object) -> str:
        return self.theme.render(template, {"channel": channel_view(self.composer.channel), "page": page, **context})

    def _recipe(self, material: Material) -> Page:
        recipe = material.recipe
        path = f"recipes/{recipe.slug}.html"

        def render() -> str:
            view = self.composer.recipe(recipe, material.pictures, material.film)
            page = self._page("recipe", view.card.title, view.card.summary, path, "../")
            return self._render("recipe.html.j2", page, recipe=view)

        return Page(path, self._key("recipe.html.j2", material.key), render)

    def _home(self, cards: list[CardView]) -> Page:
        shown = cards[:NEWEST]
        channel = self.composer.channel
        page = self._page("home", channel.name, channel.tagline, "index.html")
        data = {"@context": "https://schema.org", "@type": "WebSite", "name": channel.name}
        if page.canonical:
            data["url"] = page.canonical
        return Page(
            "index.html",
            self._key("home.html.j2", shown, len(cards)),
            lambda: self._render("home.html.j2", page, cards=shown, count=len(cards), data=script_json(data)),
        )

    def _archive(self, cards: list[CardView]) -> Page:
        page = self._page(
            "archive",
            self.theme.words("archive.title"),
            self.theme.words("archive.about", channel=self.composer.channel.name),
            "archive.html",
        )
        context = {
            "groups": groups_of(cards),
            "count": len(cards),
            "categories": _tally([c.category for c in cards]),
            "cuisines": _tally([c.cuisine for c in cards]),
            "keywords": _tally([c.keywords for c in cards]),
        }
        return Page(
            "archive.html",
            self._key("archive.html.j2", cards),
            lambda: self._render("archive.html.j2", page, **context),
        )

    def _lost(self) -> Page:
        # A host shows this page at any depth, so its links start from the site's own top where that is known.
        root = channel_view(self.composer.channel).root
        up = (urlsplit(root).path or "/") if root else ""
        page = PageView(self.theme.words("lost.title"), "", up, "", "lost")
        return Page("404.html", self._key("404.html.j2", up), lambda: self._render("404.html.j2", page))

    def _feed(self) -> Page:
        dated = [m for m in self.materials if m.recipe.published][:FEED_LENGTH]
        channel = self.composer.channel

        def render() -> str:
            up = channel_view(channel).root
            entries = []
            for m in dated:
                view = self.composer.recipe(m.recipe, m.pictures, m.film)
                page = PageView(view.card.title, "", up, "", "feed")
                content = self._render("feed_entry.html.j2", page, recipe=view)
                entries.append((view.card, feed_id(channel, view.card.slug), content))
            page = self._page("feed", channel.name, channel.tagline, "feed.xml")
            newest = entries[0][0].date_iso if entries else "1970-01-01"
            return self._render("feed.xml.j2", page, entries=entries, id=feed_id(channel), newest=newest)

        own = self.theme.digest("feed_entry.html.j2")
        return Page("feed.xml", self._key("feed.xml.j2", own, [m.key for m in dated]), render)

    def _plain(self, path: str, template: str, context: dict[str, object]) -> Page:
        return Page(path, self._key(template, context), lambda: self.theme.render(template, context))
