"""The ways into the archive as pages: everything, by kind and keyword, through the year, and from what is there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pipeline.site.files import digest
from pipeline.site.finder import PATH as FINDER
from pipeline.site.finder import finder_script
from pipeline.site.sheet import Desk, Page
from pipeline.site.shelves import (
    PAGE,
    Found,
    Onward,
    Shelf,
    by_card,
    page_path,
    paged,
    related,
    season_names,
    seasons_of,
    shelves,
)
from pipeline.site.view import CardView

MOST_OPTIONS = 120  # keywords to choose from in the archive's form: the commonest
Group = tuple[str, Sequence[CardView]]


def groups_of(cards: Sequence[CardView]) -> list[Group]:
    """The archive's groups: by first category, in order of the alphabet, the rest at the end."""
    groups: dict[str, list[CardView]] = {}
    for card in cards:
        groups.setdefault(card.category[0] if card.category else "", []).append(card)
    return sorted(groups.items(), key=lambda g: (g[0] == "", g[0].casefold()))


def years_of(cards: Sequence[CardView], undated: str) -> list[Group]:
    """Groups by year, as the cards come."""
    groups: dict[str, list[CardView]] = {}
    for card in cards:
        groups.setdefault(card.date_iso[:4] or undated, []).append(card)
    return list(groups.items())


def _tally(values: Iterable[Sequence[str]], most: int = 0) -> list[tuple[str, int]]:
    counts: dict[str, int] = {}
    for several in values:
        for value in dict.fromkeys(several):
            counts[value] = counts.get(value, 0) + 1
    chosen = sorted(counts.items(), key=lambda item: -item[1])[: most or None]
    return sorted(chosen, key=lambda item: item[0].casefold())


@dataclass(frozen=True, slots=True)
class PageLinks:
    """Where a page stands in its list: ``number`` of ``last``, and (number, href) of the pages to jump to; 0 is a gap.
    Hrefs are relative to the list's folder."""

    number: int
    last: int
    jumps: tuple[tuple[int, str], ...]


def page_links(path: str, number: int, last: int) -> PageLinks:
    name = path.rpartition("/")[2]
    near = sorted({1, last, *range(max(1, number - 2), min(last, number + 2) + 1)})
    jumps: list[tuple[int, str]] = []
    for n in near:
        if jumps and n - jumps[-1][0] > 1:
            jumps.append((0, ""))
        jumps.append((n, page_path(name, n)))
    return PageLinks(number, last, tuple(jumps))


@dataclass(frozen=True, slots=True)
class Listings:
    """All lists of one build, newest first in each."""

    desk: Desk
    found: tuple[Found, ...]
    kinds: tuple[Shelf, ...]
    cuisines: tuple[Shelf, ...]
    keywords: tuple[Shelf, ...]
    seasons: tuple[Shelf, ...]
    months: tuple[Shelf, ...]
    ingredients: tuple[Shelf, ...]

    @classmethod
    def of(cls, desk: Desk, found: Sequence[Found]) -> Listings:
        cards = [f.card for f in found]
        words = desk.words
        named = season_names(words["found.season_words"])
        # A kind and a keyword of one name are one list: nobody looks for two.
        tags = shelves("tags", ((v, c) for c in cards for v in (*c.category, *c.cuisine, *c.keywords)))
        by_name = {shelf.name.casefold(): shelf for shelf in tags}

        def chosen(values: Iterable[Sequence[str]]) -> tuple[Shelf, ...]:
            keys = {" ".join(v.casefold().split()) for several in values for v in several}
            return tuple(shelf for name, shelf in by_name.items() if name in keys)

        months = [m.strip() for m in words["language.months"].split(",")]
        monthly = shelves("seasons", ((months[int(c.date_iso[5:7]) - 1], c) for c in cards if c.date_iso))
        order = {name.casefold(): i for i, name in enumerate(months)}
        monthly.sort(key=lambda shelf: order.get(shelf.name.casefold(), 99))
        seasonal = {
            s.name.casefold(): s for s in shelves("seasons", ((n, c) for c in cards for n in seasons_of(c, named)))
        }
        return cls(
            desk,
            tuple(found),
            chosen(c.category for c in cards),
            chosen(c.cuisine for c in cards),
            chosen(c.keywords for c in cards),
            tuple(seasonal[n.casefold()] for n, _ in named if n.casefold() in seasonal),
            tuple(monthly),
            tuple(shelves("with", ((name, f.card) for f in found for name in f.ingredients))),
        )

    def _lists(self) -> list[Shelf]:
        tags = {shelf.path: shelf for shelf in (*self.kinds, *self.cuisines, *self.keywords)}
        return [*tags.values(), *self.seasons, *self.months, *self.ingredients]

    def onward(self) -> list[Onward]:
        """Where each recipe leads, in the order of ``found``."""
        tags = by_card({s.path: s for s in (*self.kinds, *self.cuisines, *self.keywords, *self.seasons)}.values())
        return [
            Onward(tuple(tags.get(found.card.slug, ())), near)
            for found, near in zip(self.found, related(self.found), strict=True)
        ]

    def pages(self) -> list[Page]:
        pages = [*self._archive(), self._browse(), self._seasons(), self._pantry()]
        for shelf in self._lists():
            pages += self._list(shelf)
        # The data is hashed as it is written: rebuilding it costs less than hashing all that it is made from.
        script = finder_script(self.found)
        pages.append(Page(FINDER, digest(script), lambda: script))
        return pages

    def _archive(self) -> list[Page]:
        words = self.desk.words
        cards = [f.card for f in self.found]
        cuts = paged(cards)
        out = []
        for number, cut in enumerate(cuts, 1):
            path = page_path("archive", number)
            page = self.desk.page(
                "archive",
                self._numbered(words["archive.title"], number),
                words("archive.about", channel=self.desk.channel.name),
                path,
            )
            context = {
                "groups": groups_of(cut) if len(cuts) == 1 else years_of(cut, words["found.undated"]),
                "count": len(cards),
                "links": page_links("archive", number, len(cuts)),
                "categories": _tally(c.category for c in cards),
                "cuisines": _tally(c.cuisine for c in cards),
                "keywords": _tally((c.keywords for c in cards), MOST_OPTIONS),
            }
            out.append(self.desk.sheet("archive.html.j2", page, path, **context))
        return out

    def _numbered(self, title: str, number: int) -> str:
        return title if number == 1 else f"{title}, {self.desk.words('found.page', n=number).lower()}"

    def _list(self, shelf: Shelf) -> list[Page]:
        words = self.desk.words
        kind = {"tags": "tag", "seasons": "season", "with": "with"}[shelf.path.partition("/")[0]]
        title = words("found.with", name=shelf.name) if kind == "with" else shelf.name
        about = words("found.tagged_about", n=shelf.count, channel=self.desk.channel.name, name=shelf.name)
        cuts = paged(shelf.cards)
        out = []
        for number, cut in enumerate(cuts, 1):
            path = page_path(shelf.path, number)
            page = self.desk.page(kind, self._numbered(title, number), about, path)
            links = page_links(shelf.path, number, len(cuts))
            shown = [(c.slug, c.title, c.total, c.date_iso, c.date_words) for c in cut]
            out.append(self.desk.sheet("list.html.j2", page, path, cards=shown, count=shelf.count, links=links))
        return out

    @staticmethod
    def _counted(lists: Sequence[Shelf]) -> list[tuple[str, str, int]]:
        return [(shelf.name, shelf.href, shelf.count) for shelf in lists]

    def _browse(self) -> Page:
        words = self.desk.words
        about = words("found.browse_about", channel=self.desk.channel.name)
        page = self.desk.page("browse", words["found.browse"], about, "browse.html")
        parts = [
            (words[f"found.{name}"], self._counted(lists))
            for name, lists in (("kinds", self.kinds), ("cuisines", self.cuisines), ("keywords", self.keywords))
        ]
        year = self._counted([*self.seasons, *self.months])
        return self.desk.sheet("browse.html.j2", page, "browse.html", parts=parts, year=year)

    def _seasons(self) -> Page:
        words = self.desk.words
        page = self.desk.page("season", words["found.seasons"], words["found.seasons_about"], "seasons.html")
        parts = [
            (shelf.name, shelf.href, shelf.count, [(c.slug, c.title) for c in shelf.cards[:6]])
            for shelf in (*self.seasons, *self.months)
        ]
        return self.desk.sheet("seasons.html.j2", page, "seasons.html", parts=parts)

    def _pantry(self) -> Page:
        words = self.desk.words
        about = words("found.pantry_about", channel=self.desk.channel.name)
        page = self.desk.page("pantry", words["found.pantry"], about, "pantry.html")
        letters: dict[str, list[tuple[str, str, int]]] = {}
        for name, href, count in self._counted(self.ingredients):
            letters.setdefault(name[:1].upper(), []).append((name, href, count))
        return self.desk.sheet("pantry.html.j2", page, "pantry.html", letters=list(letters.items()))


def addresses(pages: Sequence[Page]) -> list[str]:
    """The pages that a sitemap names: what is shown to people, each once."""
    paths = [p.path for p in pages if p.path.endswith(".html")]
    return [p for p in paths if p != "404.html" and not p.startswith("print/")]


__all__ = ["PAGE", "Listings", "PageLinks", "addresses", "groups_of", "page_links", "years_of"]
