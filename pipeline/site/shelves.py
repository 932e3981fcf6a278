"""Where a recipe is found: under its kind, cuisine and keywords, its season, its ingredients, and near which others.

Pure sorting of cards: no words of its own, no file, no page.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import blake2b
from heapq import nsmallest
from math import log

from pipeline.site.view import CardView

PAGE = 100  # recipes on one page of a list
RELATED = 4
# A feature that half the kitchen shares says nothing about kinship; and of a common one the newest are enough.
_COMMON = 0.3
_NEWEST = 60
# What every kitchen has, by the ingredient table's names (common practice, no source).
STAPLES = frozenset({"water", "salt", "table salt", "fine sea salt", "kosher salt", "sea salt", "black pepper"})


@dataclass(frozen=True)
class Found:
    """A recipe on the shelves: its card, and its ingredients by the table's names, each once."""

    card: CardView
    ingredients: tuple[str, ...]

    @cached_property
    def features(self) -> dict[str, float]:
        """What it can share with another, and how much that weighs beside a rare ingredient (our own judgement)."""
        out = {f"i:{name}": 1.0 for name in self.ingredients if name not in STAPLES}
        out |= {f"k:{word.casefold()}": 1.5 for word in self.card.keywords}
        out |= {f"c:{word.casefold()}": 0.8 for word in (*self.card.category, *self.card.cuisine)}
        return out


@dataclass(frozen=True, slots=True)
class Shelf:
    """One list: ``path`` without its ending ("tags/bread"), what it is called, and its recipes, newest first."""

    path: str
    name: str
    cards: tuple[CardView, ...]

    @property
    def href(self) -> str:
        return f"{self.path}.html"

    @property
    def count(self) -> int:
        return len(self.cards)


@dataclass(frozen=True, slots=True)
class Near:
    """A recipe near another one: what a link to it needs, and no more, so that other changes do not reach here."""

    slug: str
    title: str
    total: str


@dataclass(frozen=True, slots=True)
class Onward:
    """Where to go from a recipe: the lists that it stands in as (name, href), and its kin."""

    tags: tuple[tuple[str, str], ...]
    related: tuple[Near, ...]


def slugged(name: str, taken: set[str]) -> str:
    """A file's name for some words, unlike those in ``taken``, to which it is added."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60].strip("-")
    if not stem:  # a script that has no Latin letters
        stem = blake2b(name.encode("utf-8", "replace"), digest_size=5).hexdigest()
    slug, n = stem, 2
    # "-2" at the end is also what the second page of a list is called.
    while slug in taken or re.search(r"-\d+$", slug):
        slug = f"{stem}-n{n}" if slug != stem or slug in taken else f"{stem}-n"
        n += 1
    taken.add(slug)
    return slug


def shelves(folder: str, pairs: Iterable[tuple[str, CardView]], taken: Iterable[str] = ()) -> list[Shelf]:
    """Lists by name, in order of the alphabet. Names that differ only in case are one; the first spelling stays.
    ``taken`` are file names that stand already."""
    spelled: dict[str, str] = {}
    cards: dict[str, dict[str, CardView]] = {}
    for name, card in pairs:
        key = " ".join(name.casefold().split())
        if key:
            spelled.setdefault(key, " ".join(name.split()))
            cards.setdefault(key, {}).setdefault(card.slug, card)
    names = set(taken)
    ordered = sorted(spelled, key=lambda key: (unicodedata.normalize("NFKD", key), key))
    return [Shelf(f"{folder}/{slugged(spelled[k], names)}", spelled[k], tuple(cards[k].values())) for k in ordered]


def season_names(words: str) -> list[tuple[str, frozenset[str]]]:
    """The catalogue's "spring, summer, autumn/fall": for each season its title and all of its names in lower case."""
    out = []
    for group in words.split(","):
        names = [n.strip() for n in group.split("/") if n.strip()]
        if names:
            out.append((names[0], frozenset(n.casefold() for n in names)))
    return out


def seasons_of(card: CardView, seasons: Sequence[tuple[str, frozenset[str]]]) -> list[str]:
    """The seasons that a recipe's keywords name. When it was cooked says less: half the world has it the other way."""
    said = {word for keyword in card.keywords for word in re.findall(r"\w+", keyword.casefold())}
    return [title for title, names in seasons if names & said]


def paged(cards: Sequence[CardView]) -> list[tuple[CardView, ...]]:
    """A list cut into pages; at least one."""
    return [tuple(cards[i : i + PAGE]) for i in range(0, len(cards), PAGE)] or [()]


def page_path(path: str, number: int) -> str:
    """The file of a list's page, from 1."""
    return f"{path}.html" if number == 1 else f"{path}-{number}.html"


class Kin:
    """Which recipes are near which: those that share most of what few share."""

    def __init__(self, found: Sequence[Found]) -> None:
        self._found = found
        self._features = [found_one.features for found_one in found]
        held: dict[str, list[int]] = {}
        for i, mine in enumerate(self._features):
            for name in mine:
                held.setdefault(name, []).append(i)
        most = max(8, len(found) * _COMMON)
        self._rarity = {n: log((1 + len(found)) / len(who)) for n, who in held.items() if 1 < len(who) <= most}
        self._held = {name: held[name][:_NEWEST] for name in self._rarity}

    def near(self, at: int) -> tuple[Near, ...]:
        """The nearest to the recipe at this place, nearest first; none that shares nothing."""
        scores: dict[int, float] = {}
        for name, weight in self._features[at].items():
            if name in self._rarity:
                gain = weight * self._rarity[name]
                for other in self._held[name]:
                    scores[other] = scores.get(other, 0.0) + gain
        scores.pop(at, None)
        best = nsmallest(RELATED, ((-round(score, 6), j) for j, score in scores.items()))
        return tuple(Near(c.slug, c.title, c.total) for c in (self._found[j].card for _, j in best))


def by_card(lists: Iterable[Shelf]) -> Mapping[str, list[tuple[str, str]]]:
    """For each recipe's slug the lists that it stands in: (name, href)."""
    out: dict[str, list[tuple[str, str]]] = {}
    for shelf in lists:
        for card in shelf.cards:
            out.setdefault(card.slug, []).append((shelf.name, shelf.href))
    return out
