"""The ways into the archive as pages: everything, by kind and keyword, through the year, and from what is there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from pipeline.site.files import digest
from pipeline.site.finder import PATH as FINDER
from pipeline.site.finder import finder_script
from pipeline.site.sheet import Desk, Page
from pipeline.site.shelves import (
    PAGE,
    Found,
    Kin,
    Onward,
    Shelf,
    by_card,
    page_path,
    paged,
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


@dataclass(frozen=True)
class Listings:
    """All lists of one build, newest first in each. Each is worked out when it is asked for: one page needs few."""

    desk: Desk
    found: Sequence[Found]

    @property
    def _cards(self) -> list[CardView]:
        return [f.card for f in self.found]

    @cached_property
    def tags(self) -> dict[str, Shelf]:
        """By name in lower case. A kind and a keyword of one name are one list: nobody looks for two."""
        pairs = ((v, c) for c in self._cards for v in (*c.category, *c.cuisine, *c.keywords))
        return {shelf.name.casefold(): shelf for shelf in shelves("tags", pairs)}

    def _tagged(self, values: Iterable[Sequence[str]]) -> list[Shelf]:
        keys = {" ".join(v.casefold().split()) for several in values for v in several}
        return [shelf for name, shelf in self.tags.items() if name in keys]

    @cached_property
    def seasons(self) -> list[Shelf]:
        named = season_names(self.desk.words["found.season_words"])
        order = [title for title, _ in named]
        lists = shelves("seasons", ((n, c) for c in self._cards for n in seasons_of(c, named)))
        return sorted(lists, key=lambda shelf: order.index(shelf.name))

    @cached_property
    def months(self) -> list[Shelf]:
        names = [m.strip() for m in self.desk.words["language.months"].split(",")]
        taken = {shelf.path.partition("/")[2] for shelf in self.seasons}
        lists = shelves("seasons", ((names[int(c.date_iso[5:7]) - 1], c) for c in self._cards if c.date_iso), taken)
        return sorted(lists, key=lambda shelf: names.index(shelf.name))

    @cached_property
    def ingredients(self) -> list[Shelf]:
        return shelves("with", ((name, f.card) for f in self.found for name in f.ingredients))

    @cached_property
    def _kin(self) -> Kin:
        return Kin(self.found)

    @cached_property
    def _tags_of(self) -> Mapping[str, list[tuple[str, str]]]:
        return by_card([*self.tags.values(), *self.seasons])

    def onward(self, at: int) -> Onward:
        """Where the recipe at this place of ``found`` leads."""
        return Onward(tuple(self._tags_of.get(self.found[at].card.slug, ())), self._kin.near(at))

    def pages(self) -> list[Page]:
        pages = [*self._archive(), self._browse(), self._seasons(), self._pantry()]
        for shelf in (*self.tags.values(), *self.seasons, *self.months, *self.ingredients):
            pages += self._list(shelf)
        pages.append(self._finder())
        return pages

    def _finder(self) -> Page:
        if not self.desk.ground:
            return Page(FINDER, "", lambda: finder_script(self.found))
        # Made at once and hashed as it is: that costs less than hashing all that it is made from.
        script = finder_script(self.found)
        return Page(FINDER, digest(script), lambda: script)

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
            shown = [(c.slug, c.title, c.total, c.date_iso, c.date_words, c.shot) for c in cut]
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
            (words[f"found.{name}"], self._counted(self._tagged(values)))
            for name, values in (
                ("kinds", (c.category for c in self._cards)),
                ("cuisines", (c.cuisine for c in self._cards)),
                ("keywords", (c.keywords for c in self._cards)),
            )
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
